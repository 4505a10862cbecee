#pragma once

#include "cli/job/read/table_reader.hpp"

namespace standfast {

/// [[tool]] in order, into Reading::job.tools.
void read_tools(TableReader& root);

/// The cutter of a tool, without its stickout where that follows from a gauge length.
struct ReadCutter {
    Cutter cutter;
    std::optional<double> gauge_length;  ///< m
};
/// @param measured  the tool is known by its modes or rigid: no stickout is needed
ReadCutter read_cutter(TableReader& tool, const std::string& named, bool measured);

/// holder = [ { round, to, length, material, mass, inertia }, ... ], from the gauge line down.
std::vector<HolderStep> read_holder(TableReader& tool);

/// The typical holder of a grip, scaled to the shank; listed as assumed.
void assume_holder(ToolChain& tool, Reading& reading, const std::string& named);

}  // namespace standfast
