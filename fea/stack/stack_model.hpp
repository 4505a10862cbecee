#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// Where a tier stands, in stack axes.
struct TierFrame {
    Eigen::Vector3d foot = Eigen::Vector3d::Zero();      ///< m
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();  ///< columns: tier x, y, z
};

/// Frames of all tiers of a stack. Throws std::domain_error where a host comes after its guest.
std::vector<TierFrame> tier_frames(const Stack& stack);

/// The cut tier's section and height put in place (in-process state).
Stack in_state(const Stack& stack, std::size_t tier, const PassState& state);

/// The model of the work side: table, joints, tiers, supports, side masses; stack axes.
/// Member names: "table", "NAME", "NAME joint", support names.
struct StackModel {
    StructureModel structure;
    std::vector<TierFrame> frames;
    std::vector<int> foot_node;     ///< per tier: node at its foot, above its joint
    std::vector<int> top_node;      ///< per tier: node at its top
    std::vector<Assumption> notes;  ///< which law gave a joint its stiffness, and other choices
};
StackModel stack_model(const Machine& machine, const Stack& stack);

/// The material point of a tier at a place (tier axes, m, from the foot): the nearest node along
/// the tier's axis after the run has been split there. The model must have been made with the
/// cut heights among its split points.
/// stack_model splits each tier's run at these heights (m, tier axes).
struct CutHeights {
    std::size_t tier = 0;
    std::vector<double> heights;
};
StackModel stack_model(const Machine& machine, const Stack& stack,
                       const std::vector<CutHeights>& cuts);
MaterialPoint point_on_tier(const StackModel& model, std::size_t tier,
                            const Eigen::Vector3d& place);

}  // namespace standfast
