#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/job/toml/diagnostic.hpp"
#include "fea/job/job.hpp"

namespace standfast {

// Room "job" of the cli: job text -> plain SI data. Every fault of every file is collected, each
// with its place; a job comes out only where there is none.

struct ReadOptions {
    std::string overlay;                      ///< --with; empty: none
    bool other_machine = false;               ///< --other-machine: take an overlay from elsewhere
    std::vector<std::string> material_files;  ///< --materials
};

struct ReadResult {
    std::optional<Job> job;  ///< none where there are errors
    std::vector<Diagnostic> errors;
    std::vector<std::string> warnings;  ///< an overlay measured on something else
    /// Receptances and recordings that the job names and that were read, in order
    std::vector<std::string> measurements;
};

/// Reads a job file with all that it uses. Never throws for anything that the file holds.
ReadResult read_job(const std::string& path, const ReadOptions& options = {});

/// Reads a job from memory; `name` stands for the file in messages and in `use`.
ReadResult read_job_text(std::string text, std::string name, const ReadOptions& options = {});

}  // namespace standfast
