#include "fea/stack/wanted_heights.hpp"

#include <algorithm>
#include <optional>
#include <stdexcept>
#include <string>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

std::string quoted(const Tier& tier) { return "tier \"" + tier.name + '"'; }

/// Sorted, without neighbours closer than a millionth of the height.
std::vector<double> distinct(std::vector<double> heights, double height) {
    std::sort(heights.begin(), heights.end());
    std::vector<double> kept;
    for (const double value : heights) {
        if (kept.empty() || value - kept.back() > 1e-6 * height) kept.push_back(value);
    }
    return kept;
}

void check_cut(const Tier& tier, double height) {
    require_between(height, -1e-9, tier.height + 1e-9, quoted(tier), "height of a cut, m,");
}

using Wanted = std::vector<std::vector<double>>;

void want(Wanted& wanted, const Stack& stack, std::size_t tier, double height) {
    wanted.at(tier).push_back(std::clamp(height, 0.0, stack.tiers[tier].height));
}

void want_for_tier(Wanted& wanted, const Stack& stack, const std::vector<TierFrame>& frames,
                   std::size_t index) {
    const Tier& tier = stack.tiers[index];
    require_between(tier.height, tier.lump ? 0 : 1e-9, 1e3, quoted(tier), "height, m,");
    want(wanted, stack, index, 0);
    want(wanted, stack, index, tier.height);
    for (const SideMass& side : tier.side) want(wanted, stack, index, side.at.z());
    if (const std::optional<std::size_t> host = tier.placement.host) {
        const TierFrame& below = frames[*host];
        want(wanted, stack, *host, below.axes.col(2).dot(frames[index].foot - below.foot));
    }
}

void want_for_support(Wanted& wanted, const Stack& stack, const std::vector<TierFrame>& frames,
                      const Support& support) {
    if (support.tier >= stack.tiers.size() || support.against.value_or(0) >= stack.tiers.size()) {
        throw std::domain_error("support \"" + support.name + "\": no such tier");
    }
    want(wanted, stack, support.tier, support.at.z());
    if (!support.against) return;
    const TierFrame& frame = frames[support.tier];
    const TierFrame& other = frames[*support.against];
    const Eigen::Vector3d place = frame.foot + frame.axes * support.at;
    want(wanted, stack, *support.against, other.axes.col(2).dot(place - other.foot));
}

}  // namespace

std::vector<std::vector<double>> wanted_heights(const Stack& stack,
                                                const std::vector<TierFrame>& frames,
                                                const std::vector<CutHeights>& cuts) {
    Wanted wanted(stack.tiers.size());
    for (std::size_t index = 0; index < stack.tiers.size(); ++index) {
        want_for_tier(wanted, stack, frames, index);
    }
    for (const Support& support : stack.supports) {
        want_for_support(wanted, stack, frames, support);
    }
    for (const CutHeights& cut : cuts) {
        if (cut.tier >= stack.tiers.size()) throw std::domain_error("cut: no such tier");
        for (const double height : cut.heights) {
            check_cut(stack.tiers[cut.tier], height);
            want(wanted, stack, cut.tier, height);
        }
    }
    for (std::size_t index = 0; index < wanted.size(); ++index) {
        const Tier& tier = stack.tiers[index];
        wanted[index] =
            tier.lump ? std::vector<double>{0.0} : distinct(std::move(wanted[index]), tier.height);
    }
    return wanted;
}

}  // namespace standfast
