#include "fea/studies/trade/trade_stack.hpp"

#include <optional>
#include <stdexcept>

namespace standfast {
namespace {

/// Guests of the tier that stand at its side move with its top.
void lift_guests(Stack& stack, std::size_t host, double by) {
    for (Tier& tier : stack.tiers) {
        if (tier.placement.host != host || !tier.placement.at) continue;
        tier.placement.at->z() += by;
        if (tier.placement.at->z() < 0) {
            throw std::domain_error("\"" + stack.tiers[host].name +
                                    "\" would be too low to carry \"" + tier.name +
                                    "\" at its side");
        }
    }
    for (Support& support : stack.supports) {
        if (support.tier == host) support.at.z() = std::max(support.at.z() + by, 0.0);
    }
}

void shift(std::size_t& index, std::size_t from, std::size_t by) {
    if (index > from) index += by;
}

/// Makes room for `by` tiers above `from`; what stood on `from` stands on the last of them.
void open_gap(Job& job, std::size_t from, std::size_t by) {
    if (by == 0) return;
    for (Tier& tier : job.stack.tiers) {
        if (tier.placement.host && *tier.placement.host >= from) *tier.placement.host += by;
    }
    for (Support& support : job.stack.supports) {
        shift(support.tier, from, by);
        if (support.against) shift(*support.against, from, by);
    }
    for (Pass& pass : job.passes) shift(pass.tier, from, by);
    const auto after = job.stack.tiers.begin() + static_cast<std::ptrdiff_t>(from) + 1;
    job.stack.tiers.insert(after, by, Tier{});
}

Tier riser_tier(const ShelfRiser& riser, const Joint& joint) {
    Tier tier;
    tier.name = riser.name;
    tier.material = riser.material;
    tier.shape = riser.shape;
    tier.top = riser.top;
    tier.height = riser.height;
    tier.joint = riser.joint.value_or(joint);
    return tier;
}

void require_uncut(const Job& job, std::size_t tier) {
    for (const Pass& pass : job.passes) {
        if (pass.tier == tier) {
            throw std::domain_error("pass \"" + pass.name + "\" cuts \"" +
                                    job.stack.tiers[tier].name +
                                    "\", so that no other riser can take its place");
        }
    }
}

/// The same riser twice gets a number, since names of tiers are unique.
std::string free_name(const Stack& stack, const std::string& wanted, std::size_t own) {
    std::string name = wanted;
    for (int count = 2;; ++count) {
        bool taken = false;
        for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
            taken = taken || (i != own && stack.tiers[i].name == name);
        }
        if (!taken) return name;
        name = wanted + " " + std::to_string(count);
    }
}

}  // namespace

double height_of(const Stack& stack, std::size_t tier, std::size_t count) {
    double height = 0;
    for (std::size_t i = tier; i < tier + count; ++i) height += stack.tiers[i].height;
    return height;
}

Job with_tier_height(Job job, std::size_t tier, double height) {
    lift_guests(job.stack, tier, height - job.stack.tiers[tier].height);
    job.stack.tiers[tier].height = height;
    return job;
}

Job with_risers(Job job, std::size_t tier, const std::vector<std::size_t>& rows) {
    require_uncut(job, tier);
    for (const std::size_t row : rows) {
        if (row >= job.shelf.size()) {
            throw std::domain_error("there is no riser " + std::to_string(row + 1) +
                                    " on the shelf");
        }
    }
    if (rows.empty()) throw std::domain_error("no riser to put in the place of a tier");
    const Tier replaced = job.stack.tiers[tier];
    // Guests at the side refer to the top of the uppermost.
    lift_guests(job.stack, tier, job.shelf[rows.back()].height - replaced.height);
    open_gap(job, tier, rows.size() - 1);
    for (std::size_t i = 0; i < rows.size(); ++i) {
        Tier next = riser_tier(job.shelf[rows[i]], replaced.joint);
        next.placement = replaced.placement;
        if (i > 0) next.placement = Placement{.host = tier + i - 1, .at = std::nullopt};
        next.name = free_name(job.stack, next.name, tier + i);
        job.stack.tiers[tier + i] = std::move(next);
    }
    return job;
}

Job with_hold(Job job, const TradeHold& hold) {
    Tier& tier = job.stack.tiers.at(hold.tier);
    if (hold.joint) tier.joint = *hold.joint;
    if (hold.material) tier.material = *hold.material;
    if (hold.shape) {
        tier.shape = *hold.shape;
        tier.top.reset();
    }
    if (hold.height) return with_tier_height(std::move(job), hold.tier, *hold.height);
    return job;
}

}  // namespace standfast
