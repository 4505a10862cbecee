#pragma once

#include <functional>
#include <string>
#include <vector>

#include "cli/options/options.hpp"

namespace standfast {

/// The share of `check` over several jobs: one unit a job.
/// @param measurements  as of inputs_fingerprint()
/// @param document  the JSON document of a job
int share_out_checks(std::size_t jobs, const std::vector<std::string>& measurements,
                     const Options& options,
                     const std::function<std::string(std::size_t)>& document);

/// `standfast check --merge FILES`: the JSON documents as the whole run would have written them.
/// @returns 3 with --strict where a pass is at "avoid", else 0
int merge_checks(const Options& options);

}  // namespace standfast
