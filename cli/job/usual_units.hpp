#pragma once

#include <string>
#include <vector>

#include "materials/units.hpp"

namespace standfast {

/// The system in which most of the lengths of these job files are given; of a tie, of no length,
/// of a pipe and of a file that cannot be read: metric.
UnitSystem usual_units(const std::vector<std::string>& paths);

}  // namespace standfast
