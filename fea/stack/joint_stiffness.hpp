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
    Spread split_spread;  ///< x against y, see JointElement; of table and spindle alone
    /// The figures hold the give of the bodies beside the joint too (given numbers; dovetails and
    /// jaws), so that no seat is added to them; else they are of the contact alone.
    bool includes_seat = false;
    double pressure = 0;         ///< Pa, mean over the zone really clamped; 0: not known
    bool bounded = false;        ///< cut off at the catalogue's upper bound
    bool clamp_assumed = false;  ///< the kind's usual clamp stands in, for stiffness only
    bool seat_unsaid = false;    ///< whether a dovetail's seat bears is not known
};

/// Stiffness of the joint under a tier, in its own axes (z from the lower to the upper body).
///
/// Given numbers win, component by component. Else the zone really clamped carries the joint: the
/// kind's contact under the pressure there, times the factor of the two materials, in series with
/// the local give of both bodies. Where a dovetail does not say whether its seat bears, the
/// geometric mean of both cases, with the wider spread that covers them. Dovetails and jaws without
/// a clamp force take the kind's usual one. Else, and where a kind has no contact figures, the
/// catalogue's median scaled to the footprint. Never above upper_factor x that median.
/// More clamp never makes it softer, and there are no jumps.
/// Numbers given outright are taken to be good to 10 % (90 % quantile over median 1.1, loss 1.3)
/// unless the joint says so itself, and a joint without kind or loss has a loss factor of 0.03:
/// common practice, no source.
/// A solid joint comes back without stiffness: there is nothing to model.
/// @throws std::domain_error for sizes that are not physical, for a clamp of 0, and where neither
///         the joint nor its kind says a stiffness
/// Sources: contact_stiffness.hpp, local_give.hpp, materials/data/joints.toml.
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
