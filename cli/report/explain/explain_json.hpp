#pragma once

#include <string>

#include "cli/report/explain/explained.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The whole explanation: schema "standfast.explain/1", SI with the unit in each key, null = none.
std::string explain_json(const Explained& explained, UnitSystem units);

/// frequency_hz, level_db (mean square of a tone there, over full scale 1), source and order of the
/// tone whose peak that entry is, empty elsewhere.
std::string sound_csv(const SoundFinding& finding);

/// dB over a mean square of 1; -300 for nothing.
double level_db(double power);

}  // namespace standfast
