#include "fea/job/edits/shelf_edit.hpp"

#include <optional>
#include <stdexcept>
#include <string>
#include <utility>

#include "fea/job/edits/beside_tier.hpp"

namespace standfast {
namespace {

void shift(std::size_t& index, std::size_t from, std::size_t by) {
    if (index > from) index += by;
}

void shift_measured(Job& job, std::size_t from, std::size_t by) {
    for (Measured& measured : job.measured) {
        if (measured.push) {
            shift(measured.push->pushed.tier, from, by);
            shift(measured.push->read.tier, from, by);
        }
        if (measured.tap) shift(measured.tap->place.tier, from, by);
        if (measured.receptance) shift(measured.receptance->place.tier, from, by);
    }
}

/// Makes room for `by` tiers above `from`; what stood on `from` stands on the last of them.
void open_gap(Job& job, std::size_t from, std::size_t by) {
    for (Tier& tier : job.stack.tiers) {
        if (tier.placement.host && *tier.placement.host >= from) *tier.placement.host += by;
    }
    for (Support& support : job.stack.supports) {
        shift(support.tier, from, by);
        if (support.against) shift(*support.against, from, by);
    }
    for (Pass& pass : job.passes) shift(pass.tier, from, by);
    shift_measured(job, from, by);
    if (job.trade) {
        for (TradeHold& hold : job.trade->holds) shift(hold.tier, from, by);
    }
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

/// Names of tiers are unique: the same riser twice gets a number.
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

void put_risers(Job& job, std::size_t tier, const std::vector<ShelfRiser>& risers) {
    require_uncut(job, tier);
    if (risers.empty()) throw std::domain_error("no riser to put in the place of a tier");
    const Tier replaced = job.stack.tiers.at(tier);
    open_gap(job, tier, risers.size() - 1);
    for (std::size_t i = 0; i < risers.size(); ++i) {
        Tier next = riser_tier(risers[i], replaced.joint);
        next.placement = replaced.placement;
        if (i > 0) next.placement = Placement{.host = tier + i - 1, .at = std::nullopt};
        next.name = free_name(job.stack, next.name, tier + i);
        job.stack.tiers[tier + i] = std::move(next);
    }
    move_beside(job, tier, risers.size(), replaced);
}

}  // namespace standfast
