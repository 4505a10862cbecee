#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/cutting/forces.hpp"
#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {

/// A cutting force on the part and where it acts; N and m, stack axes.
struct CutLoad {
    Eigen::Vector3d force = Eigen::Vector3d::Zero();
    Eigen::Vector3d at = Eigen::Vector3d::Zero();
};

/// Forces on the part over a tooth period (a revolution for uneven teeth) at 90 phases, times the
/// wear factor, at every point of the path and for every feed heading given. They act at the middle
/// of the axial depth. The part feels the opposite of the tool: a right-hand helix, which pulls the
/// cutter toward its tip, lifts the part. The axial share is scaled with tan(helix) (force data
/// belong to some 35 deg) and at least 0.3 of the tangential one there; the relief that the helix
/// gives by spreading the cut is counted up to 20 deg only. So these loads may exceed the peak
/// force of the nominal cut.
/// @param headings  rad; at least one
std::vector<CutLoad> cut_loads(const RigidCut& cut, const Pass& pass, const TierFrame& frame,
                               const std::vector<double>& headings, double wear_factor);

/// Every joint from the cut tier's down to the table: the multiple of the cutting load at which it
/// lets go, with the weight of what stands above it where that works against the joint (not
/// multiplied), and in which way; the smallest over all loads. Stack and part as they are in the
/// pass's state.
///
/// A solid joint holds, but the section above it may still be too weak. A joint without a clamp
/// force or preload is not judged, and then the pass is not; nor is a joint whose contact the cut
/// thins or frees (`frees_part`). Supports are not counted, on the safe side. A second, less
/// careful figure stands behind (HoldingCare): the loads are taken to carry the job's wear factor.
/// A stack that is declared rigid has nothing that could let go; measured modes hide their joints,
/// so that such a stack is not judged.
/// @throws std::domain_error if a force, friction or size of a joint is not physical
/// Source: joint_hold.hpp.
HoldingResult judge_holding(const Job& job, const Pass& pass, const std::vector<CutLoad>& loads);

}  // namespace standfast
