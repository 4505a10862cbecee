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

/// Steps of a holder, { round, to, length, material, mass, inertia } each, from the gauge line
/// down: holder = [...] of a tool, steps = [...] of a holder on the shelf.
std::vector<HolderStep> read_steps(TableReader& table, std::string_view key);

/// How a shank is held, and how much of it: kind or numbers, length, least.
void read_grip(TableReader& table, ToolChain& tool, const std::string& named);

/// [[holder]], the shelf: name, steps and, unless the tool's own holds there too, grip.
void read_shelf_holders(TableReader& root);

/// The typical holder of a grip, scaled to the shank; listed as assumed.
void assume_holder(ToolChain& tool, Reading& reading, const std::string& named);

}  // namespace standfast
