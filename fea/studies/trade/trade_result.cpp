#include "fea/studies/trade/trade_result.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "fea/judgement/answer/levels.hpp"

namespace standfast {
namespace {

// A longer stickout must remove so much more metal before it is called tuned.
constexpr double kTuned = 1.05;

double tool_share(const StaticResult& statics) {
    double share = 0;
    for (const GiveShare& give : statics.give) {
        if (give.tool_side) share += give.share;
    }
    return share;
}

std::vector<TradeCell> cells_of(const TradeOptionCase& option, std::size_t p,
                                const std::vector<double>& stickouts) {
    std::vector<TradeCell> cells(option.sketches[p].cells.size());
    for (std::size_t s = 0; s < cells.size(); ++s) {
        TradeCell& cell = cells[s];
        const std::optional<CellAnswer>& answer = option.answers[p][s];
        cell.stickout = stickouts.empty()
                            ? stickout_of(option.job->tools[option.job->passes[p].tool].cutter)
                            : stickouts[s];
        cell.clear = option.sketches[p].clear[s];
        cell.worked_out = answer.has_value();
        cell.limit = answer ? answer->limit.limit : option.sketches[p].cells[s].limit;
        if (answer && answer->best) {
            cell.usable = answer->best->depth;
            cell.best = answer->best->speed;
        }
        if (option.sketches[p].cells[s].every_speed) {
            cell.limits = option.sketches[p].cells[s].limits;
        }
    }
    return cells;
}

TradePass pass_of(const TradeOptionCase& option, std::size_t p,
                  const std::vector<double>& stickouts) {
    const Job& job = *option.job;
    const Pass& pass = job.passes[p];
    const CellAnswer& answer = *option.answers[p][option.chosen[p]];
    const TradeReach& reach = option.reach[p];
    TradePass result;
    result.name = pass.name;
    result.tool = job.tools[pass.tool].name;
    result.pass = p;
    const double own = stickout_of(job.tools[pass.tool].cutter);
    result.stickout = stickouts.empty() ? own : stickouts[option.chosen[p]];
    result.gauge_length = gauge_length(job.tools[pass.tool]) + result.stickout - own;
    result.clear = option.sketches[p].clear[option.chosen[p]];
    result.least_stickout = reach.least_stickout;
    result.nearest = reach.nearest;
    result.speed = answer.speed;
    result.depth = answer.depth;
    result.programmed = pass.speed.has_value();
    result.limit = answer.limit.limit;
    if (answer.best) {
        result.best_speed = answer.best->speed;
        result.best_limit = answer.best->limit;
        result.usable = answer.best->depth;
    }
    result.removal = answer.removal;
    if (answer.answer.at.motion) result.error = answer.answer.at.motion->largest_error;
    result.push_off = answer.answer.statics.error;
    result.allowed_error = allowed_error(pass);
    result.tool_share = tool_share(answer.answer.statics);
    result.holding = answer.answer.holding;
    result.verdict = answer.answer.verdict;
    const std::vector<Reason>& reasons = result.verdict.reasons;
    const bool said = std::find(reasons.begin(), reasons.end(), Reason::reach) != reasons.end();
    if (result.clear == false && !said) add_finding(result.verdict, {Level::avoid, Reason::reach});
    result.speeds = option.cases[p].speeds;
    result.cells = cells_of(option, p, stickouts);
    result.left_out = option.left_out[p];
    return result;
}

/// Reach limits a pass where nothing clears, or where its tool stands out further than the shortest
/// stickout, since that does not clear in all of its passes, and gives more than the stack does.
LimitedBy limit_of(const TradePass& pass, const std::vector<TradePass>& passes) {
    if (pass.clear == false) return LimitedBy::reach;
    const bool held_off = std::any_of(passes.begin(), passes.end(), [&](const TradePass& other) {
        return other.tool == pass.tool && !other.cells.empty() &&
               other.cells.front().clear == false;
    });
    return held_off && pass.tool_share >= 0.5 ? LimitedBy::reach : LimitedBy::rigidity;
}

std::vector<std::string> not_judged_in(const TradeOptionCase& option,
                                       const std::vector<TradePass>& passes) {
    std::set<std::string> list;
    for (std::size_t p = 0; p < passes.size(); ++p) {
        const TradeReach& reach = option.reach[p];
        if (!reach.judged) {
            list.insert(reach.why_not.empty()
                            ? "reach: stickouts shorter than the job's own are not offered"
                            : "reach: " + reach.why_not +
                                  "; stickouts shorter than the job's own are not offered");
        }
        if (!passes[p].holding.judged) list.insert("holding: " + passes[p].holding.why_not);
        if (!passes[p].allowed_error) list.insert("wall error against a tolerance: none given");
    }
    if (!option.job->machine.carry_max) list.insert("weight: no carry_max given");
    return {list.begin(), list.end()};
}

void summarise(TradeResult& result, const TradeOptionCase& option) {
    double share = HUGE_VAL;
    for (std::size_t p = 0; p < result.passes.size(); ++p) {
        const TradePass& pass = result.passes[p];
        const TradePass& worst = result.passes[result.worst];
        if (p == 0 || pass.verdict.level > worst.verdict.level) result.worst = p;
        const double own = pass.usable.value_or(0) / option.cases[p].usual_depth;
        if (own >= share) continue;
        share = own;
        result.limited_by = limit_of(pass, result.passes);
    }
    for (const TradePass& pass : result.passes) {
        if (pass.clear == false) result.limited_by = LimitedBy::reach;
    }
    result.usable_share = share;
    if (!result.passes.empty()) result.verdict = result.passes[result.worst].verdict;
    result.removal = option_removal(*option.job, result.passes);
}

}  // namespace

double option_removal(const Job& job, const std::vector<TradePass>& passes) {
    double sections = 0, time = 0;
    for (const TradePass& one : passes) {
        const Pass& pass = job.passes[one.pass];
        const double depth = pass.axial.value_or(job.tools[pass.tool].cutter.diameter / 2);
        sections += pass.radial * depth;
        time += pass_time(pass.radial * depth, one.removal);
    }
    return std::isfinite(time) && time > 0 ? sections / time : 0;
}

void fill_result(TradeResult& result, const TradeOptionCase& option, const TradeGrid& grid) {
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        result.passes.push_back(pass_of(option, p, grid.stickouts[option.job->passes[p].tool]));
        const CellAnswer& answer = *option.answers[p][option.chosen[p]];
        result.passes.back().probability = answer.probability;
        result.passes.back().best_probability = answer.best_probability;
        result.passes.back().cautious = answer.cautious;
        result.passes.back().cautious_probability = answer.cautious_probability;
    }
    result.not_judged = not_judged_in(option, result.passes);
    summarise(result, option);
}

std::vector<TunedStickout> tuned_stickouts(const TradeOptionCase& option, const TradeGrid& grid,
                                           const std::vector<TradedTools>& tools,
                                           const TradeSettings& settings) {
    std::vector<TunedStickout> found;
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        const std::size_t tool = option.job->passes[p].tool;
        const std::vector<double>& stickouts = grid.stickouts[tool];
        if (stickouts.empty()) continue;
        std::size_t shortest = 0;
        while (shortest < option.chosen[p] && !option.answers[p][shortest]) ++shortest;
        if (shortest == option.chosen[p]) continue;
        const CellAnswer& with = *option.answers[p][option.chosen[p]];
        const CellAnswer& without = *option.answers[p][shortest];
        if (!with.best || with.removal < kTuned * without.removal) continue;
        TunedStickout one{
            .tool = option.job->tools[tool].name,
            .pass = option.job->passes[p].name,
            .stickout = stickouts[option.chosen[p]],
            .shortest = stickouts[shortest],
            .speed = with.best->speed,
            .usable = with.best->depth,
            .usable_shortest = without.best ? std::optional(without.best->depth) : std::nullopt,
            .limit = with.best->limit,
            .limit_shortest = std::nullopt,
            .within = option.job->limits.least_band / 2};
        one.limit_shortest = least_about(option.cases[p], tools[tool][shortest], without.headings,
                                         one.speed, settings)
                                 .limit;
        // More metal for another reason (a thinner wall error, say) is no pocket.
        const Cutter& cutter = option.job->tools[tool].cutter;
        const double none = search_depth(cutter.flute_length, cutter.diameter);
        if (one.limit.value_or(none) > kTuned * one.limit_shortest.value_or(none)) {
            found.push_back(one);
        }
    }
    return found;
}

}  // namespace standfast
