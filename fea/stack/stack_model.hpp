#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/stack/joint_stiffness.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// Where a tier stands, in stack axes.
struct TierFrame {
    Eigen::Vector3d foot = Eigen::Vector3d::Zero();      ///< m
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns: tier x, y, z
};

/// Frames of all tiers of a stack: axes = host axes Rz(heading) Ry(lean) Rz(spin), foot = host
/// foot + host axes `at`. A tier without a host stands on the table.
/// @throws std::domain_error where a host comes after its guest or `at` is not finite
std::vector<TierFrame> tier_frames(const Stack& stack);

/// The stack with the cut tier's section and height as they are at that moment. A section given
/// replaces a taper; a tapered tier that only lost height keeps its taper up to there.
/// @throws std::domain_error where there is no such tier
Stack in_state(const Stack& stack, std::size_t tier, const PassState& state);

/// A place along a tier's axis that the model knows.
struct Station {
    double height = 0;  ///< m, above the tier's foot
    Attachment at;      ///< ground where everything below is rigid and in one piece
};

/// The model of the work side: table, joints, tiers, supports, side masses; stack axes.
///
/// Members: "table", "NAME", "NAME joint", "NAME seat" (give of the bodies beside that joint, in
/// series below it; seat_give.hpp), support names. Each tier is a column of Timoshenko
/// beams along its own axis, or one rigid body. A guest away from its host's axis stands at the
/// end of a rigid arm from the host's node at the foot's projection, so that torsion of a tower
/// counts; local give of the host's wall is left out, and said in `notes`.
struct StackModel {
    StructureModel structure;
    std::vector<TierFrame> frames;
    std::vector<double> heights;                 ///< per tier, m
    std::vector<std::vector<Station>> stations;  ///< per tier, lowest first
    std::vector<int> foot_node;                  ///< per tier: node at its foot, above its joint
    std::vector<int> top_node;                   ///< per tier: node at its top
    std::vector<ResolvedJoint> joints;           ///< per tier: the joint under it, as modelled
    std::vector<Assumption> notes;  ///< which law gave a joint its stiffness, and other choices
};
StackModel stack_model(const Machine& machine, const Stack& stack);

/// As above with a node at each of these heights (m, tier axes), where cuts are to be judged.
struct CutHeights {
    std::size_t tier = 0;
    std::vector<double> heights;
};
/// @throws std::domain_error naming the tier, support or table where a size, a mass or a
///         stiffness is not physical, or a cut lies beyond its tier
StackModel stack_model(const Machine& machine, const Stack& stack,
                       const std::vector<CutHeights>& cuts);

/// The material point of a tier at a place (tier axes, m, from the foot), on a rigid arm from the
/// station nearest in height. Exact where the model was made with this height among its cuts.
/// @throws std::domain_error where the place is below the foot or above the top
MaterialPoint point_on_tier(const StackModel& model, std::size_t tier,
                            const Eigen::Vector3d& place);

}  // namespace standfast
