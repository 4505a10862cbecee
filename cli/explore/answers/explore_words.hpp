#pragma once

#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/studies/explore/explored_cut.hpp"
#include "materials/units.hpp"

namespace standfast {

/// What a quick look knows of a pass, as a report that words can be made from.
PassReport quick_report(const ExploredCut& cut, const Headings& headings, const QuickLook& look);

/// A pass as it is drawn: its place and depth, at a known heading.
PassReport drawn_pass(const Job& job, const ExploreSetting& setting, const Headings& headings);

/// Edge of chatter and push-off, without a level.
std::string edge_sentence(const Job& job, const PassReport& report, UnitSystem units);

/// The level in the words of check, its first sentence and what else there is to say.
struct JudgedWords {
    std::string level, level_html, sentence, dots_html, caution;
    std::vector<std::string> more;
};
JudgedWords judged_words(const Job& job, const PassReport& report, UnitSystem units);

/// Of what depends on the speed alone.
struct SpeedWords {
    std::string level, reasons;
};
SpeedWords speed_words(const SpeedLevel& speed);

}  // namespace standfast
