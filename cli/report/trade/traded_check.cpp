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
    if (!is_sound(result.verdict) || !exists(result.limited_by, LimitedBy::rigidity)) {
        refuse(place, "a choice that does not exist");
    }
    if (!(result.removal >= 0)) refuse(place, "less than nothing is removed");
    if (!result.failed.empty()) return;
    if (result.passes.empty()) refuse(place, "an option without a pass");
    if (first.failed.empty() && result.passes.size() != first.passes.size()) {
        refuse(place, "another number of passes than the first option has");
    }
    for (std::size_t i = 0; i < result.passes.size(); ++i) {
        const TradePass& pass = result.passes[i];
        if (!is_sound(pass.verdict) || !is_sound(pass.holding)) {
            refuse(place, "a choice that does not exist");
        }
        if (!(pass.depth > 0)) refuse(place, "a pass without depth");
        if (first.failed.empty() && pass.cells.size() != first.passes[i].cells.size()) {
            refuse(place, "another number of stickouts than the first option has");
        }
        for (const TradeCell& cell : pass.cells) {
            if (cell.limits.size() > pass.speeds.size()) {
                refuse(place, "more limits than speeds");
            }
        }
    }
}

}  // namespace standfast
