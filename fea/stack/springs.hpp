#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/stack/joint_stiffness.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// Springs of the table under the middle of its face, given numbers over the machine's kind; notes
/// say what the catalogue supplied. Where the job does not give x and y each by itself they are
/// drawn apart: the ratio of their frequencies is lognormal about 1 with a median of 9 % either
/// way, their mean (geometric) as given.
/// @throws std::domain_error where a component is neither given nor in the kind
ResolvedJoint table_springs(const Machine& machine, std::vector<Assumption>& notes);

/// Springs of the spindle at the gauge line, likewise. Twisting that nobody says is taken as
/// tilting: it moves no tip sideways.
ResolvedJoint spindle_springs(const Machine& machine, std::vector<Assumption>& notes);

/// A rigid mass that moves with a side of the machine.
struct MovingMass {
    double mass = 0;                                    ///< kg; 0: none
    Eigen::Vector3d inertia = Eigen::Vector3d::Zero();  ///< kg m^2 about its centre, x, y, z
    double centre = 0;                                  ///< m along z from where the springs stand
    Spread spread;
};

/// What moves with the table's face, a thin disc: the job's own mass or that of the machine's kind.
/// @throws std::domain_error for a negative mass
MovingMass table_mass(const Machine& machine);

/// What moves with the spindle's nose: shaft end, drawbar end and what of the bearings moves along.
/// Where the job gives a mass alone, inertia goes with its power 5/3, as of bodies of one form;
/// about the axis it is taken as half of that across. Two figures given by numbers may be of any
/// body; a kind without mass has none.
/// @throws std::domain_error for a negative mass or inertia
MovingMass spindle_mass(const Machine& machine);

/// Springs of a support, stack axes; what is not said does not hold (a jack lifts, and lets slide).
/// @throws std::domain_error where it holds nothing at all
ResolvedJoint support_springs(const Support& support, std::vector<Assumption>& notes);

/// A resolved joint between two attachments.
JointElement joint_element(const ResolvedJoint& joint, int member, const Attachment& below,
                           const Attachment& above, const Eigen::Matrix3d& axes);

/// Says which law gave the joint under a tier its stiffness, unless it was given or solid.
void note_joint(const Tier& tier, const ResolvedJoint& joint, std::vector<Assumption>& notes);

/// Says that a seat was added below the joint under a tier.
void note_seat(const Tier& tier, const ResolvedJoint& seat, std::vector<Assumption>& notes);

/// Says what the model of a tier leaves out: give of a host's wall, plate action of a thin wall.
void note_tier(const Stack& stack, std::size_t tier, std::vector<Assumption>& notes);

}  // namespace standfast
