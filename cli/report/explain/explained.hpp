#pragma once

#include <optional>
#include <string>

#include "cli/sound/read_recording.hpp"
#include "fea/job/job.hpp"
#include "fea/studies/explain/explain.hpp"
#include "fea/studies/sound/wall_marks.hpp"

namespace standfast {

/// A recording and what it said.
struct HeardRecording {
    std::string path;
    SoundFile file;
    SoundFinding finding;
    std::optional<std::string> background;  ///< path, where one was given
};

/// A tone read off a phone.
struct HeardTone {
    double hertz = 0;
    ToneFinding finding;
};

/// Marks on a wall.
struct SeenMarks {
    double spacing = 0;           ///< m, along the feed
    std::optional<double> axial;  ///< m
    MarksFinding finding;
    MarkedCut cut;
};

/// All that `explain` answers; one of the three is there.
struct Explained {
    std::string title;
    Job job;
    std::size_t pass = 0;
    std::optional<HeardRecording> recording;
    std::optional<HeardTone> tone;
    std::optional<SeenMarks> marks;
    Evidence evidence;
    Explanation explanation;
};

}  // namespace standfast
