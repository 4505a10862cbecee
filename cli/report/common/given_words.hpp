#pragma once

#include <string>

#include "fea/job/job.hpp"
#include "materials/units.hpp"

namespace standfast {

/// "12.5 deg".
std::string degrees_text(double radians);

/// A size as the job most likely gave it: in the chosen units, and where it is a round figure only
/// in the other ones, in those too: "9.525 mm (3/8 in)".
std::string given_length(double metres, UnitSystem units);

/// "block 40 mm x 30 mm", "tube 110 mm outside, 70 mm inside".
std::string shape_words(const SectionShape& shape, UnitSystem units);

/// The joint under a tier with its sizes: "dovetail: 32 mm long, neck 20 mm wide, 60 deg ..."
std::string joint_words(const Joint& joint, UnitSystem units);

}  // namespace standfast
