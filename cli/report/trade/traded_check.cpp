#include "cli/report/trade/traded_check.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/files/usage_error.hpp"

namespace standfast {
namespace {

[[noreturn]] void refuse(const std::string& place, std::string_view what) {
    throw UsageError(fmt::format("{}: is no share of a trade: {}", place, what));
}

template <typename Enumeration>
bool exists(Enumeration value, Enumeration last) {
    return value >= Enumeration{} && value <= last;
}

bool is_sound(const Verdict& verdict) {
    return exists(verdict.level, Level::avoid) &&
           std::ranges::all_of(verdict.reasons,
                               [](Reason reason) { return exists(reason, Reason::weight); });
}

bool is_sound(const HoldingResult& holding) {
    return exists(holding.mode, HoldingMode::frees_part) &&
           std::ranges::all_of(holding.joints, [](const JointHolding& joint) {
               return exists(joint.mode, HoldingMode::frees_part);
           });
}

bool is_sound(const TradeResult& result) {
    return is_sound(result.verdict) && is_sound(result.best_verdict) &&
           exists(result.limited_by, LimitedBy::list) &&
           std::ranges::all_of(result.variations, [](const TradeVariation& variation) {
               return exists(variation.what, Traded::tilt);
           });
}

void require_sound(const TradePass& pass, const std::string& place) {
    if (!is_sound(pass.verdict) || !is_sound(pass.best_verdict) || !is_sound(pass.holding) ||
        !exists(pass.held_by, LimitedBy::list)) {
        refuse(place, "a choice that does not exist");
    }
    if (!(pass.depth > 0)) refuse(place, "a pass without depth");
    for (const TradeCell& cell : pass.cells) {
        if (cell.limits.size() > pass.speeds.size()) refuse(place, "more limits than speeds");
    }
}

bool of_one_shape(const TradeResult& one, const TradeResult& other) {
    return std::ranges::equal(one.passes, other.passes, [](const TradePass& a, const TradePass& b) {
        return a.name == b.name && a.tool == b.tool && a.cells.size() == b.cells.size() &&
               a.speeds.size() == b.speeds.size();
    });
}

}  // namespace

void require_sound(const TradedHead& head, const std::string& place) {
    const bool quantities = std::ranges::all_of(head.assumed, [](const Assumption& assumption) {
        return exists(assumption.quantity, Quantity::number);
    });
    if (!quantities || !exists(head.method, StabilityMethod::periodic) ||
        !exists(head.units, UnitSystem::inch)) {
        refuse(place, "a choice that does not exist");
    }
}

void require_sound(const TradeResult& result, const TradeResult& first, const std::string& place) {
    if (!is_sound(result)) refuse(place, "a choice that does not exist");
    if (!(result.removal >= 0)) refuse(place, "less than nothing is removed");
    if (!result.failed.empty()) return;
    const std::size_t count = result.passes.size();
    if (count == 0) refuse(place, "an option without a pass");
    if (result.worst >= count || result.worst_at_best >= count) {
        refuse(place, "a worst pass that is not there");
    }
    for (const TradePass& pass : result.passes) require_sound(pass, place);
    if (first.failed.empty() && !of_one_shape(result, first)) {
        refuse(place, "other passes, stickouts or speeds than the first option has");
    }
}

}  // namespace standfast
