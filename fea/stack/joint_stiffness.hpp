#pragma once

#include <Eigen/Core>
#include <string>

#include "fea/job/joint.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// Contact face of a joint in its own axes: a sum of rectangles, as figures.
struct Footprint {
    double area = 0;             ///< m^2
    double second_moment_x = 0;  ///< m^4, integral of y^2 (tilting about x)
    double second_moment_y = 0;  ///< m^4, integral of x^2 (tilting about y)
};

/// Which way a joint's stiffness was found.
enum class JointBasis { solid, given, catalogue, contact_law };

struct ResolvedJoint {
    JointBasis basis = JointBasis::catalogue;
    Eigen::Vector3d translation = Eigen::Vector3d::Zero();  ///< N/m along joint x, y, z
    Eigen::Vector3d rotation = Eigen::Vector3d::Zero();     ///< N m/rad
    double loss_factor = 0;
    Spread stiffness_spread, loss_spread;
    double pressure = 0;  ///< Pa, mean over the zone really clamped; 0: not known
};

/// Stiffness of the joint under a tier.
///
/// Given numbers win, component by component. Else the catalogue's median of the kind, scaled to
/// the footprint; else, where clamp data give a mean pressure within the contact law's data
/// (<= 2.5 MPa), the law over the zone really clamped, in series with the local give of jaw and
/// face, and never above the catalogue's upper bound.
/// @param lower, upper  the two faces that meet (shape of host top and of tier foot)
/// @throws std::domain_error for sizes that are not physical
ResolvedJoint resolve_stack_joint(const Joint& joint, const SectionShape& lower,
                                  const SectionShape& upper);

/// Stiffness of a taper (absolute) or grip (scaled with the shank), tool axes.
ResolvedJoint resolve_tool_joint(const Joint& joint, double shank_diameter);

}  // namespace standfast
