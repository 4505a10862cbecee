#pragma once

#include <string>
#include <vector>

#include "cli/page/moved_shape.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// A size as the job most likely gave it: in the chosen units, and where it is a round figure only
/// in the other ones, in those too: "9.525 mm (3/8 in)".
std::string given_length(double metres, UnitSystem units);

/// "block 40 mm x 30 mm", "tube 110 mm outside, 70 mm inside".
std::string shape_words(const SectionShape& shape, UnitSystem units);

/// The joint under a tier with its sizes: "dovetail: 32 mm long, neck 20 mm wide, 60 deg ..."
std::string joint_words(const Joint& joint, UnitSystem units);

/// The set-up of a pass to scale, from the table to the spindle's nose, with its sizes; a figure
/// with an SVG and the list of all letters in it.
std::string drawing_html(const Job& job, const PassReport& pass, UnitSystem units);

/// The set-up bent, or in a mode, over its outline at rest.
/// @param caption  how many times as large the motion is drawn, and what it is
std::string moved_svg(const Job& job, const PassReport& pass, const MovedShape& shape,
                      double factor, const std::string& label);

/// How many times as large to draw a motion so that it shows: 1, 2 or 5 times a power of ten.
double drawing_factor(const MovedShape& shape);

}  // namespace standfast
