#include "cli/report/trade/trade_reasons.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/report/common/number.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

constexpr double kTenth = 0.9;
constexpr double kAsGood = 0.05;  // relative; less is the same to a machinist

std::string size(double metres, UnitSystem units) {
    return length_text(units == UnitSystem::metric ? std::round(metres * 1e4) / 1e4 : metres,
                       units);
}

/// The same pass of another option.
const TradePass* same_pass(const TradeResult& result, const TradePass& pass) {
    const auto found = std::ranges::find_if(
        result.passes, [&](const TradePass& other) { return other.pass == pass.pass; });
    return found == result.passes.end() ? nullptr : &*found;
}

/// The options next to one in height that differ from the job in the same things besides; the lower
/// one first.
std::vector<std::size_t> neighbours_of(const TradedJob& traded, std::size_t best) {
    const std::vector<TradeResult>& all = traded.results;
    std::optional<std::size_t> lower, higher;
    for (std::size_t i = 0; i < all.size(); ++i) {
        if (i == best || all[i].variations != all[best].variations || !all[i].failed.empty())
            continue;
        const double height = all[i].height;
        if (height < all[best].height && (!lower || height > all[*lower].height)) lower = i;
        if (height > all[best].height && (!higher || height < all[*higher].height)) higher = i;
    }
    std::vector<std::size_t> list;
    for (const auto& one : {lower, higher}) {
        if (one) list.push_back(*one);
    }
    return list;
}

std::string mode_words(const TradeWhy& why) {
    return fmt::format("{} ({}{})", frequency_text(*why.sings_hertz),
                       why.sings_on_tool ? "the tool" : "the stack",
                       why.sings.empty() ? "" : ", mostly " + why.sings);
}

std::string own_reason(const TradePass& pass, UnitSystem units) {
    const TradeWhy& why = pass.why;
    const double together = why.tool_give + why.work_give;
    std::string text =
        together > 0
            ? fmt::format("under {}, {} of what gives is the tool's, {} out, and {} the stack's",
                          pass.name, percent_text(why.tool_give / together),
                          size(pass.stickout, units), percent_text(why.work_give / together))
            : fmt::format("nothing gives under {}", pass.name);
    if (!why.softest.empty()) text += fmt::format("; the {} gives most", why.softest);
    if (why.sings_hertz) text += fmt::format(". Cut deeper, it sings at {}", mode_words(why));
    return text;
}

std::string times_words(const std::string& what, double ratio) {
    if (std::abs(ratio - 1) < kAsGood) return "";
    return ratio > 1 ? fmt::format("{} gives {} times as much", what, three_digits(ratio))
                     : fmt::format("{} gives {} less", what, percent_text(1 - ratio));
}

void join(std::string& text, const std::string& more) {
    if (more.empty()) return;
    text += (text.empty() ? "" : ", ") + more;
}

/// What is different there, and what comes of it.
std::string other_reason(const TradeResult& other, const TradePass& there, const TradeResult& best,
                         const TradePass& here, UnitSystem units) {
    std::string text;
    if (std::abs(there.stickout - here.stickout) > 1e-6) {
        const bool forced = there.stickout > here.stickout && there.least_stickout &&
                            here.stickout < *there.least_stickout;
        text = forced ? fmt::format("reach wants the tool {} out", size(there.stickout, units))
                      : fmt::format("the tool is best {} out", size(there.stickout, units));
    }
    if (here.why.tool_give > 0) {
        join(text, times_words("the tool", there.why.tool_give / here.why.tool_give));
    }
    if (here.why.work_give > 0) {
        join(text, times_words("the stack", there.why.work_give / here.why.work_give));
    }
    if (there.why.sings_hertz && here.why.sings_hertz) {
        const double from = *here.why.sings_hertz, to = *there.why.sings_hertz;
        const bool same_side = there.why.sings_on_tool == here.why.sings_on_tool;
        if (!same_side || std::abs(to / from - 1) > kAsGood) {
            join(text, fmt::format("it sings {}, at {}", to < from ? "lower" : "higher",
                                   mode_words(there.why)));
        }
    }
    if (text.empty()) text = "much the same";
    if (other.removal <= 0) return text + ": no usable depth";
    const double ratio = other.removal / best.removal;
    if (!(best.removal > 0) || std::abs(ratio - 1) < 0.005) return text;
    return text + fmt::format(": {} {} metal", percent_text(std::abs(ratio - 1)),
                              ratio < 1 ? "less" : "more");
}

bool of_one_kind(const TradeResult& result) {
    return result.id.starts_with(trimmed(result.height * 1000, 2) + " mm");
}

/// Down to 0.01 mm or 0.0005 in.
std::string stock_text(double stock, UnitSystem units) {
    const double step = units == UnitSystem::metric ? 1e-5 : 0.0005 * 0.0254;
    return length_text(step * std::floor(stock / step + 1e-9), units);
}

std::string out_at(const TradeResult& result, UnitSystem units) {
    return fmt::format("{} on {}", stickouts_text(result, units), option_name(result, units));
}

}  // namespace

std::vector<TradeReason> reasons_of(const TradedJob& traded, UnitSystem units) {
    if (!traded.ranking.best) return {};
    const TradeResult& best = traded.results[*traded.ranking.best];
    const TradePass& here = weakest_pass(best);
    std::vector<TradeReason> reasons{{option_name(best, units), own_reason(here, units)}};
    for (const std::size_t i : neighbours_of(traded, *traded.ranking.best)) {
        const TradeResult& other = traded.results[i];
        const TradePass* const there = same_pass(other, here);
        if (there == nullptr) continue;
        const std::string text = there->clear == false
                                     ? "the tool does not reach: " + held_by_text(*there, units)
                                     : other_reason(other, *there, best, here, units);
        reasons.push_back({option_name(other, units), text});
    }
    return reasons;
}

std::string saw_text(const TradedJob& traded, UnitSystem units) {
    if (!traded.ranking.best) return "";
    const TradeResult& best = traded.results[*traded.ranking.best];
    if (!of_one_kind(best) || !(best.removal > 0)) return "";
    std::vector<const TradeResult*> column;
    for (const TradeResult& one : traded.results) {
        if (one.variations == best.variations && of_one_kind(one)) column.push_back(&one);
    }
    std::ranges::stable_sort(column, {}, [](const TradeResult* one) { return one->height; });
    const auto good = [&](const TradeResult* one) {
        return one->failed.empty() && one->removal >= kTenth * best.removal &&
               (one->best_verdict.level != Level::avoid || best.best_verdict.level == Level::avoid);
    };
    auto from = std::ranges::find(column, &best), to = from;
    while (from != column.begin() && good(*(from - 1))) --from;
    while (to + 1 != column.end() && good(*(to + 1))) ++to;
    if (from == to) {
        return fmt::format("of the heights tried only {} is within 10 %", option_name(best, units));
    }
    std::string text = fmt::format(
        "any height tried from {} to {} is within 10 %; cut it at {} first, it can be shortened",
        size((*from)->height, units), size((*to)->height, units), size((*to)->height, units));
    const std::string low = stickouts_text(**from, units), high = stickouts_text(**to, units);
    return low == high ? fmt::format("{}. Stickout: {} on either", text, low)
                       : fmt::format("{}. Stickout: {}; {}", text, out_at(**to, units),
                                     out_at(**from, units));
}

std::vector<TradeReason> stock_of(const TradedJob& traded, UnitSystem units) {
    std::vector<TradeReason> list;
    if (!traded.ranking.best) return list;
    for (const TradePass& pass : traded.results[*traded.ranking.best].passes) {
        if (!pass.finish) continue;
        const FinishStock& finish = *pass.finish;
        std::string text =
            finish.stock
                ? fmt::format("leave it at most {}, and 9 in 10 tries land within tolerance",
                              stock_text(*finish.stock, units))
                : std::string("no stock that was tried lands within tolerance in 9 of 10 tries");
        text += finish.left > 0
                    ? fmt::format("; a second pass at the same setting takes off {} of the {} left",
                                  error_text(finish.second_takes, units),
                                  error_text(finish.left, units))
                    : std::string("; a second pass would take off nothing: no stock is left");
        list.push_back({pass.name, text});
    }
    return list;
}

std::vector<std::string> left_out_of(const TradedJob& traded) {
    if (!traded.ranking.best) return {};
    std::vector<std::string> list, tools;
    for (const TradePass& pass : traded.results[*traded.ranking.best].passes) {
        if (std::ranges::find(tools, pass.tool) != tools.end()) continue;
        tools.push_back(pass.tool);
        int not_clear = 0, shorter = 0;
        for (const TradePass& other : traded.results[*traded.ranking.best].passes) {
            if (other.tool != pass.tool) continue;
            not_clear = std::max(not_clear, other.out.not_clear);
            shorter = std::max(shorter, other.out.shorter_than_job);
        }
        const std::string near = pass.nearest.empty() ? "" : " (" + pass.nearest + ")";
        if (not_clear > 0) {
            list.push_back(fmt::format("{}: {} of {} stickouts do not clear{}", pass.tool,
                                       not_clear, pass.cells.size(), near));
        }
        if (shorter > 0) {
            list.push_back(fmt::format(
                "{}: {} of {} stickouts are shorter than the job's, and reach is not judged",
                pass.tool, shorter, pass.cells.size()));
        }
    }
    return list;
}

}  // namespace standfast
