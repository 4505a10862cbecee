#pragma once

#include "cli/job/read/table_reader.hpp"

namespace standfast {

/// [[pass]] in order, after machine, tiers and tools, into Reading::job.passes.
void read_passes(TableReader& root);

/// Tilt, turn, wall or feed heading, and the path as far as the job gives it.
void read_place(TableReader& table, Pass& pass);

/// Milling, depths, feed, speed and what the pass is judged by. The tool must be known.
void read_cut(TableReader& table, Pass& pass, const std::string& named);

/// Where the job gives no place: the highest cut on the tier. Needs the depths.
void settle_place(TableReader& table, Pass& pass, const std::string& named);

/// Feed heading or direction of milling that follows from a path along the wall.
void settle_heading(TableReader& table, Pass& pass, const std::string& named);

}  // namespace standfast
