#include "cli/report/trade/trade_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "fea/judgement/pass/pass_report.hpp"

namespace standfast {
namespace {

std::string size_text(double metres, UnitSystem units) {
    return units == UnitSystem::metric ? trimmed(metres * 1000, 1) + " mm"
                                       : trimmed(metres / 0.0254, 2) + " in";
}

std::string edge_text(const std::optional<double>& limit, double depth, UnitSystem units) {
    return limit ? fmt::format("edge {}, takes {}", depth_text_beside(*limit, depth, units),
                               length_text(depth, units))
                 : std::string("no edge of chatter found");
}

std::string chance_text(const TradePass& pass) {
    return pass.probability ? fmt::format(", {} of tries chatter", percent_text(*pass.probability))
                            : "";
}

/// How likely that depth chatters.
std::string best_chance_text(const TradePass& pass) {
    return pass.best_probability
               ? fmt::format(" ({} of tries chatter there)", percent_text(*pass.best_probability))
               : "";
}

std::string holding_clause(const HoldingResult& holding) {
    if (!holding.judged && holding.joint.empty()) {
        return "hold not judged: " + holding.why_not;
    }
    return fmt::format("{} {} at {} times the peak force", holding.joint,
                       holding_mode_words(holding.mode), three_digits(holding.factor));
}

std::string reach_clause(const TradePass& pass, UnitSystem units) {
    if (pass.clear != false) {
        return "the flutes are shorter than the cut is deep";
    }
    std::string text = pass.least_stickout
                           ? fmt::format("needs {} out", size_text(*pass.least_stickout, units))
                           : std::string("no stickout clears");
    return pass.nearest.empty() ? text : text + " (" + pass.nearest + ")";
}

std::string error_clause(const TradePass& pass, UnitSystem units) {
    return pass.error ? wall_text(*pass.error, units)
                      : fmt::format("{} pushed off", error_text(std::abs(pass.push_off), units));
}

std::string clause(const TradePass& pass, Reason reason, UnitSystem units) {
    switch (reason) {
        case Reason::chatter:
            return fmt::format("chatter at {}: {}{}", speed_text(pass.speed),
                               edge_text(pass.limit, pass.depth, units), chance_text(pass));
        case Reason::reach:
            return "reach: " + reach_clause(pass, units);
        case Reason::surface_error:
        case Reason::deflection:
            return fmt::format("{}: {}", reason_name(reason), error_clause(pass, units));
        case Reason::holding:
            return "holding: " + holding_clause(pass.holding);
        default:
            return std::string(reason_name(reason));
    }
}

/// What the stickouts left out would need to win, where that is nearest to the worst that was seen.
std::string left_out_text(const TradedJob& traded) {
    std::optional<LeftOut> tightest;
    const auto room = [](const LeftOut& left_out) { return *left_out.needed - *left_out.seen; };
    for (const TradeResult& result : traded.results) {
        for (const TradePass& pass : result.passes) {
            if (pass.left_out.needed && pass.left_out.seen &&
                (!tightest || room(pass.left_out) < room(*tightest))) {
                tightest = pass.left_out;
            }
        }
    }
    if (!tightest) return "";
    const std::string most =
        *tightest->seen < 0.005
            ? "none of those searched beside it did"
            : fmt::format("of those searched beside it none did by more than {}",
                          percent_text(*tightest->seen));
    return fmt::format("; a stickout left out would have to beat its sketch by {} to win; {}",
                       percent_text(*tightest->needed), most);
}

/// How far all that was found moved when other tries told it.
std::string told_text(const TradedJob& traded) {
    double least = HUGE_VAL, most = 0;
    for (const TradeResult& result : traded.results) {
        for (const TradePass& pass : result.passes) {
            if (!pass.told_ratio) continue;
            least = std::min(least, *pass.told_ratio);
            most = std::max(most, *pass.told_ratio);
        }
    }
    if (most == 0) return "";
    const auto by = [](double ratio) {
        const std::string words = ratio < 1 ? "less" : "more";
        return fmt::format("{} {}", percent_text(std::abs(ratio - 1)), words);
    };
    return fmt::format(
        "; told by {} other tries than it was found by: metal {} to {}, so that choices nearer to "
        "each other than that are as good",
        traded.head.draws, by(least), by(most));
}

std::string shorter_text(const TunedStickout& tuned, UnitSystem units) {
    if (!tuned.usable_shortest || !tuned.speed_shortest) return "not at all";
    return fmt::format("{} at {}", depth_to_set(*tuned.usable_shortest, units),
                       speed_text(*tuned.speed_shortest));
}

/// The best speed where it is not the one that the pass is programmed at.
std::string speed_clause(const TradePass& pass) {
    const bool other = pass.best_speed && std::abs(pass.best_speed->rpm() - pass.speed.rpm()) > 5;
    return other ? fmt::format(" at {}", speed_text(*pass.best_speed)) : "";
}

}  // namespace

std::string_view limited_by_name(LimitedBy limit) {
    switch (limit) {
        case LimitedBy::reach:
            return "reach";
        case LimitedBy::list:
            return "list";
        default:
            return "rigidity";
    }
}

std::string held_by_text(const TradePass& pass, UnitSystem units) {
    if (pass.clear == false) return reach_clause(pass, units);
    if (pass.held_by == LimitedBy::rigidity) return "rigidity";
    if (pass.held_by == LimitedBy::reach) {
        return "reach: the shortest that clears";
    }
    if (!pass.least_stickout) return "your list: reach is not judged, shorter ones are left out";
    return fmt::format("your list: the shortest in it that clears; {} would clear",
                       size_text(*pass.least_stickout, units));
}

std::optional<double> depth_left(const TradePass& pass) {
    return pass.removal > 0 ? pass.usable : std::nullopt;
}

const TradePass& weakest_pass(const TradeResult& result) {
    const auto share = [](const TradePass& pass) {
        return pass.clear == false ? -1 : depth_left(pass).value_or(0) / pass.depth;
    };
    return *std::min_element(
        result.passes.begin(), result.passes.end(),
        [&](const TradePass& a, const TradePass& b) { return share(a) < share(b); });
}

std::string trade_pass_text(const TradePass& pass, UnitSystem units) {
    if (pass.verdict.reasons.empty()) {
        return fmt::format("nothing flagged; {}{}, {}", edge_text(pass.limit, pass.depth, units),
                           chance_text(pass), error_clause(pass, units));
    }
    return clause(pass, pass.verdict.reasons.front(), units);
}

std::string trade_option_text(const TradeResult& result, UnitSystem units) {
    if (!result.failed.empty()) {
        return "could not be computed: " + result.failed;
    }
    const TradePass& worst = result.passes.at(result.worst);
    return fmt::format("{}: {}: {}", level_words(worst.verdict.level, worst.holding.judged),
                       worst.name, trade_pass_text(worst, units));
}

std::string best_level_text(const TradeResult& result, UnitSystem units) {
    if (!result.failed.empty()) return "could not be computed: " + result.failed;
    const TradePass& worst = result.passes.at(result.worst_at_best);
    const std::string level =
        std::string(level_words(worst.best_verdict.level, worst.holding.judged));
    if (!depth_left(worst)) {
        return fmt::format("{}: {}: no depth stays free of flags at a speed you may run", level,
                           worst.name);
    }
    if (worst.best_verdict.reasons.empty()) return level;
    return fmt::format("{}: {}: {}", level, worst.name,
                       clause(worst, worst.best_verdict.reasons.front(), units));
}

std::string option_name(const TradeResult& result, UnitSystem units) {
    const std::string by_height = trimmed(result.height * 1000, 2) + " mm";
    if (!result.id.starts_with(by_height)) {
        return result.id;
    }
    return size_text(result.height, units) + result.id.substr(by_height.size());
}

std::string stickouts_text(const TradeResult& result, UnitSystem units) {
    std::vector<std::string> tools;
    std::string text;
    for (const TradePass& pass : result.passes) {
        if (std::find(tools.begin(), tools.end(), pass.tool) != tools.end()) {
            continue;
        }
        tools.push_back(pass.tool);
        text += fmt::format("{}{} {} out", text.empty() ? "" : ", ", pass.tool,
                            size_text(pass.stickout, units));
    }
    return text;
}

std::string removal_number(double removal, UnitSystem units) {
    const double unit = units == UnitSystem::metric ? 1e-6 : std::pow(0.0254, 3);
    return three_digits(removal * 60 / unit);
}

std::string removal_text(double removal, UnitSystem units) {
    return removal_number(removal, units) + (units == UnitSystem::metric ? " cm3/min" : " in3/min");
}

std::string best_text(const TradedJob& traded, UnitSystem units) {
    if (!traded.ranking.best) {
        return "Nothing that was tried can be used.";
    }
    const TradeResult& best = traded.results[*traded.ranking.best];
    const TradePass& pass = weakest_pass(best);
    const bool passes = best.best_verdict.level != Level::avoid;
    std::string text =
        fmt::format("{} {} for \"{}\", {}.",
                    passes ? "Take" : "Nothing that was tried passes; the least bad is",
                    option_name(best, units), traded.head.riser, stickouts_text(best, units));
    if (const std::optional<double> depth = depth_left(pass)) {
        text += fmt::format(" The pass with least in hand, {}, may go {} deep{}{}{}.", pass.name,
                            depth_to_set(*depth, units), speed_clause(pass), best_chance_text(pass),
                            pass.best_error ? "; " + wall_text(*pass.best_error, units) : "");
    } else {
        text += fmt::format(" No depth of \"{}\" stays free of flags at a speed you may run.",
                            pass.name);
    }
    return text;
}

std::string method_text(const TradedJob& traded) {
    const TradedHead& head = traded.head;
    std::string text = fmt::format("edges of chatter: {}", method_name(head.method));
    text += head.every_speed
                ? fmt::format(
                      ", at {} speeds for every stickout that may be taken, and each of "
                      "these searched",
                      head.speeds)
                : fmt::format(
                      "; best speeds searched from {} speeds on and between them, for the "
                      "promising stickouts (--every-speed for all)",
                      head.speeds);
    text += left_out_text(traded);
    if (head.draws == 0) return text;
    return text + told_text(traded) + "; speeds to 0.5 %, depths to 1 %";
}

std::string tie_text(const TradedJob& traded, const TradeTie& tie, UnitSystem units) {
    const double less = 1 - tie.removal_ratio;
    const double mass = tie.mass_difference;
    std::string text = std::abs(less) < 0.005 ? std::string("the same metal")
                       : less > 0             ? fmt::format("{} less metal", percent_text(less))
                                              : fmt::format("{} more metal", percent_text(-less));
    if (std::abs(mass) >= 0.05) {
        text += fmt::format(", {} {}", mass_text(std::abs(mass), units),
                            mass > 0 ? "heavier" : "lighter");
    }
    return text + ", " + stickouts_text(traded.results[tie.option], units);
}

std::string tuned_text(const TunedStickout& tuned, UnitSystem units) {
    const auto edge = [&](const std::optional<double>& limit) {
        return limit ? depth_text(*limit, units) : std::string("beyond what was searched");
    };
    return fmt::format(
        "{} stands {} out although {} would do: with that length a stability pocket lies on {} "
        "(edge {} within {} of it; at {} out it is {}), so that {} may go {} deep there instead of "
        "{}",
        tuned.tool, size_text(tuned.stickout, units), size_text(tuned.shortest, units),
        speed_text(tuned.speed), edge(tuned.limit), percent_text(tuned.within),
        size_text(tuned.shortest, units), edge(tuned.limit_shortest), tuned.pass,
        depth_to_set(tuned.usable.value_or(0), units), shorter_text(tuned, units));
}

std::vector<std::string> not_judged_of(const TradedJob& traded) {
    std::vector<std::string> all;
    const auto add = [&](const std::vector<std::string>& items) {
        for (const std::string& item : items) {
            if (std::find(all.begin(), all.end(), item) == all.end()) {
                all.push_back(item);
            }
        }
    };
    for (const TradeResult& result : traded.results) {
        add(result.not_judged);
    }
    add(traded.head.not_judged);
    return all;
}

}  // namespace standfast
