#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"
#include "fea/stack/frames.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/stack/tier_section.hpp"

namespace standfast {
namespace {

TierFrame host_frame(const std::vector<TierFrame>& frames, const Tier& tier) {
    if (!tier.placement.host) return {};
    if (*tier.placement.host >= frames.size()) {
        throw std::domain_error("tier \"" + tier.name + "\": its host is tier " +
                                std::to_string(*tier.placement.host + 1) +
                                " of the stack, must come before it");
    }
    return frames[*tier.placement.host];
}

Eigen::Vector3d place_on_host(const Stack& stack, const Tier& tier) {
    if (tier.placement.at) return *tier.placement.at;
    const double top = tier.placement.host ? stack.tiers[*tier.placement.host].height : 0;
    return {0, 0, top};
}

}  // namespace

std::vector<TierFrame> tier_frames(const Stack& stack) {
    std::vector<TierFrame> frames;
    frames.reserve(stack.tiers.size());
    for (const Tier& tier : stack.tiers) {
        const TierFrame host = host_frame(frames, tier);
        const Eigen::Vector3d at = place_on_host(stack, tier);
        require_finite(at.sum(), tier.name, "place on its host");
        require_finite(tier.placement.lean, tier.name, "lean");
        require_finite(tier.placement.heading, tier.name, "heading");
        require_finite(tier.placement.spin, tier.name, "spin");
        frames.push_back({.foot = host.foot + host.axes * at,
                          .axes = host.axes * rotation_z(tier.placement.heading) *
                                  rotation_y(tier.placement.lean) *
                                  rotation_z(tier.placement.spin)});
    }
    return frames;
}

Stack in_state(const Stack& stack, std::size_t tier, const PassState& state) {
    if (tier >= stack.tiers.size()) {
        throw std::domain_error("state of a pass: tier " + std::to_string(tier + 1) +
                                " is not in the stack");
    }
    Stack changed = stack;
    Tier& cut = changed.tiers[tier];
    if (state.height) {
        require_positive(*state.height, cut.name, "height in the state of a pass");
        if (cut.top) cut.top = shape_at(cut, *state.height);
        cut.height = *state.height;
    }
    if (state.shape) {
        cut.shape = *state.shape;
        cut.top.reset();
    }
    return changed;
}

}  // namespace standfast
