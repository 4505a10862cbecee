#include "fea/structure/check_model.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"
#include "fea/structure/element_parts.hpp"

namespace standfast {
namespace {

const std::string& member_name(const StructureModel& model, int member) {
    require_between(member, 0, static_cast<double>(model.members.size()) - 1, "structure model",
                    "member");
    return model.members[static_cast<std::size_t>(member)].name;
}

/// Marks the node as held by a member.
void use(const StructureModel& model, const Attachment& attachment, const std::string& where,
         std::vector<bool>& used) {
    require_between(attachment.node, kGround, static_cast<double>(model.nodes.size()) - 1, where,
                    "node of an attachment");
    require_finite(attachment.arm.norm(), where, "arm of an attachment");
    if (attachment.node != kGround) used[static_cast<std::size_t>(attachment.node)] = true;
}

void require_joint(const StructureModel& model, const JointElement& joint,
                   const std::string& where) {
    for (int i = 0; i < 3; ++i) {
        require_not_negative(joint.translation[i], where, "stiffness along a joint axis");
        require_not_negative(joint.rotation[i], where, "stiffness about a joint axis");
    }
    require_not_negative(joint.loss_factor, where, "loss factor");
    const Eigen::Matrix3d product = joint.axes.transpose() * joint.axes;
    require_between((product - Eigen::Matrix3d::Identity()).norm(), 0, 1e-9, where,
                    "departure of the joint's axes from orthonormal");
    if (joint.below.node == kGround || joint.above.node == kGround) return;
    const Eigen::Vector3d below = place_of(joint.below, model.nodes);
    const Eigen::Vector3d above = place_of(joint.above, model.nodes);
    const double allowed = 1e-9 + 1e-9 * std::max(below.norm(), above.norm());
    require_between((above - below).norm(), 0, allowed, where, "gap between the joint's points");
}

void require_lump(const Lump& lump, const std::string& where) {
    require_not_negative(lump.mass, where, "mass of a lump");
    require_finite(lump.inertia.norm(), where, "inertia of a lump");
    const double asymmetry = (lump.inertia - lump.inertia.transpose()).norm();
    require_between(asymmetry, 0, 1e-9 * lump.inertia.norm(), where,
                    "asymmetry of a lump's inertia");
    require_not_negative(lump.inertia.diagonal().minCoeff(), where, "moment of inertia of a lump");
}

}  // namespace

void require_sound(const StructureModel& model) {
    std::vector<bool> used(model.nodes.size(), false);
    for (const BeamRun& run : model.beams) {
        const std::string& where = member_name(model, run.member);
        use(model, run.start, where, used);
        use(model, run.end, where, used);
        require_not_negative(run.material.loss_factor, where, "loss factor");
    }
    for (const JointElement& joint : model.joints) {
        const std::string& where = member_name(model, joint.member);
        use(model, joint.below, where, used);
        use(model, joint.above, where, used);
        require_joint(model, joint, where);
    }
    for (const Lump& lump : model.lumps) {
        const std::string& where = member_name(model, lump.member);
        use(model, lump.at, where, used);
        require_lump(lump, where);
    }
    const auto unused = std::find(used.begin(), used.end(), false);
    if (unused != used.end()) {
        throw std::domain_error("structure model: node " + std::to_string(unused - used.begin()) +
                                " belongs to no member");
    }
}

}  // namespace standfast
