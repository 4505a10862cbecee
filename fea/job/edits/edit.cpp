#include "fea/job/edits/edit.hpp"

#include <algorithm>

namespace standfast {
namespace {

using What = EditTarget::What;
using Targets = std::vector<EditTarget>;

Targets targets(const TierHeight& edit) { return {{What::height, edit.tier}}; }
Targets targets(const TierSection& edit) { return {{What::section, edit.tier}}; }
Targets targets(const TierMaterial& edit) { return {{What::material, edit.tier}}; }
Targets targets(const TierHold& edit) { return {{What::joint, edit.tier}}; }
Targets targets(const SolidJoint& edit) { return {{What::joint, edit.tier}}; }
Targets targets(const JointLoss& edit) { return {{What::joint, edit.tier}}; }
Targets targets(const DovetailSize& edit) { return {{What::joint, edit.tier}}; }
Targets targets(const ShelfRisers& edit) {
    return {{What::height, edit.tier},
            {What::section, edit.tier},
            {What::material, edit.tier},
            {What::joint, edit.tier}};
}
Targets targets(const Stickout& edit) { return {{What::stickout, edit.tool}}; }
Targets targets(const ToolHolder& edit) {
    return {{What::holder, edit.tool}, {What::grip, edit.tool}};
}
Targets targets(const GripLoss& edit) { return {{What::grip, edit.tool}}; }
Targets targets(const ToothCount& edit) { return {{What::teeth, edit.tool}}; }
Targets targets(const ToothPitch& edit) { return {{What::teeth, edit.tool}}; }
Targets targets(const PassSpeed& edit) { return {{What::speed, edit.pass}}; }
Targets targets(const AxialDepth& edit) { return {{What::axial, edit.pass}}; }
Targets targets(const RadialDepth& edit) { return {{What::radial, edit.pass}}; }
Targets targets(const FeedPerTooth& edit) { return {{What::feed, edit.pass}}; }
Targets targets(const PassTilt& edit) { return {{What::tilt, edit.pass}}; }

bool any_sets(const std::vector<Edit>& edits, const std::vector<What>& sides) {
    return std::any_of(edits.begin(), edits.end(), [&](const Edit& edit) {
        const Targets of = targets_of(edit);
        return std::any_of(of.begin(), of.end(), [&](const EditTarget& target) {
            return std::find(sides.begin(), sides.end(), target.what) != sides.end();
        });
    });
}

}  // namespace

std::vector<EditTarget> targets_of(const Edit& edit) {
    return std::visit([](const auto& one) { return targets(one); }, edit);
}

bool set_the_same(const Edit& a, const Edit& b) {
    const Targets of_a = targets_of(a), of_b = targets_of(b);
    return std::find_first_of(of_a.begin(), of_a.end(), of_b.begin(), of_b.end()) != of_a.end();
}

bool changes_tool(const std::vector<Edit>& edits) {
    return any_sets(edits, {What::stickout, What::holder, What::grip});
}

bool changes_work(const std::vector<Edit>& edits) {
    return any_sets(edits, {What::height, What::section, What::material, What::joint, What::tilt});
}

}  // namespace standfast
