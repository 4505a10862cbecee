#pragma once

#include <string>

#include "fea/job/measured.hpp"
#include "fea/studies/fit/fit_observations.hpp"

namespace standfast {

/// What a number that does not go with the rest may be, by how far it is off: "sign reversed?", "a
/// factor of a thousand: um written as mm?", "50 Hz is mains hum". Empty: nothing that is known.
/// @param value   as measured
/// @param others  what everything else says of it
std::string suspect_of(const Measured& measured, Observed what, double value, double others);

/// Whether a number is so far from what the model can say at all that it must not bend a fit: the
/// sign is reversed, it is off by more than a factor of 30 (damping: 20), or it is a frequency of
/// mains hum with no mode of the model within a tenth.
/// @param model  before any fit
bool is_gross(Observed what, double value, double model);

}  // namespace standfast
