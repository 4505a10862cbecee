#pragma once

#include <Eigen/Core>
#include <string>

#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"
#include "fea/stack/clamped_zone.hpp"
#include "fea/structure/model.hpp"
#include "materials/material.hpp"

namespace standfast {

/// One of the two bodies that meet at a joint.
struct JointFace {
    SectionShape shape;
    Material material;
};

/// Which way a joint's stiffness was found.
enum class JointBasis { solid, given, catalogue, contact_law };

struct ResolvedJoint {
    JointBasis basis = JointBasis::catalogue;
    Eigen::Vector3d translation = Eigen::Vector3d::Zero();  ///< N/m along joint x, y, z
    Eigen::Vector3d rotation = Eigen::Vector3d::Zero();     ///< N m/rad
    double loss_factor = 0;
    Spread stiffness_spread, loss_spread;
    Spread split_spread;    ///< x against y, see JointElement; of table and spindle alone
    double pressure = 0;    ///< Pa, mean over the zone really clamped; 0: not known
    bool bounded = false;   ///< the contact law was cut off at the catalogue's upper bound
    bool too_hard = false;  ///< the pressure is beyond the contact law's data, so not used
};

/// Stiffness of the joint under a tier, in its own axes (z from the lower to the upper body).
///
/// Given numbers win, component by component. Else, where clamp data give a mean pressure within
/// the contact law's data (<= 2.5 MPa), the law over the zone really clamped, in series with the
/// local give of both bodies under that zone, and never above the catalogue's upper bound
/// (upper_factor x median). Else the catalogue's median of the kind scaled to the footprint.
/// Numbers given outright are taken to be good to 10 % (90 % quantile over median 1.1, loss 1.3)
/// unless the joint says so itself, and a joint without kind or loss has a loss factor of 0.03:
/// common practice, no source.
/// A solid joint comes back without stiffness: there is nothing to model.
/// @throws std::domain_error for sizes that are not physical, and where neither the joint nor its
///         kind says a stiffness
/// Source: local give as that of a rigid disc of equal area, or equal second moment, on a
///         half-space: F. E. Richart, J. R. Hall, R. D. Woods, Vibrations of Soils and
///         Foundations (1970), from memory.
ResolvedJoint resolve_stack_joint(const Joint& joint, const JointFace& lower,
                                  const JointFace& upper);

/// Stiffness of a taper (absolute) or grip (scaled with the shank: translations with its diameter,
/// rotations with its cube), tool axes. Twisting that nobody says is taken as tilting.
/// @throws std::domain_error as above
ResolvedJoint resolve_tool_joint(const Joint& joint, double shank_diameter);

/// Six springs given outright or by a catalogue row in absolute figures: table, spindle, support.
struct SpringFigures {
    double lateral = 0, vertical = 0, tilting = 0, twisting = 0;  ///< 0: not said
    double loss_factor = 0;
    double spread = 1, loss_spread = 2;  ///< 10-90 % factors
    bool named = false;                  ///< there is such a kind
};
/// Given figures over those of a kind, as a joint; what neither says stays 0.
/// @param group  name of the spread groups: "GROUP stiffness", "GROUP loss"
ResolvedJoint resolve_springs(const JointNumbers& given, const SpringFigures& kind,
                              const std::string& group);

}  // namespace standfast
