#pragma once

#include <vector>

#include "cli/job/read/table_reader.hpp"
#include "fea/job/measured_mode.hpp"

namespace standfast {

/// modes = [ { direction, frequency, damping, mass | stiffness }, ... ]
std::vector<MeasuredMode> read_modes(TableReader& table);

/// [stack]: rigid, modes, at.
void read_stack(TableReader& root);

}  // namespace standfast
