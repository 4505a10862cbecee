#pragma once

#include <string>

#include "materials/units.hpp"

namespace standfast {

/// A commented job that runs as it is, in millimetres or in inches; the shop invented.
std::string starter_job(UnitSystem units);

}  // namespace standfast
