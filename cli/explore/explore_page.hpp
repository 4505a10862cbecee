#pragma once

#include <optional>
#include <string>

#include "cli/explore/answers/explore_input.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// The page on which riser, stickout and depth are dragged: one file that computes by itself.
/// @param report  of the job as it stands, with reach judged
/// @param first   index of the pass that is shown first
std::string explore_page(const ExploreInput& input, const JobReport& report, std::size_t first);

/// @throws UsageError where the build had no em++, or something else than a page stands there
void require_explore_page_can_be_written(const std::string& path, bool force);

/// Writes it; see require_explore_page_can_be_written.
void write_explore_page(const std::string& path, const std::string& page, bool force);

}  // namespace standfast
