#include "fea/studies/trade/trade_result.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "fea/judgement/answer/levels.hpp"
#include "fea/studies/trade/trade_why.hpp"

namespace standfast {
namespace {

// A longer stickout must remove so much more metal before it is called tuned.
constexpr double kTuned = 1.05;
constexpr double kSame = 1e-6;
// Stickouts nearer than this are one and the same to who sets them, m.
constexpr double kSetTo = 0.5e-3;

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
        const std::optional<SearchedCell>& searched = option.searched[p][s];
        const auto told = option.answers[p].find(s);
        cell.stickout = stickouts.empty()
                            ? stickout_of(option.job->tools[option.job->passes[p].tool].cutter)
                            : stickouts[s];
        cell.clear = option.sketches[p].clear[s];
        cell.worked_out = searched.has_value();
        cell.limit = option.sketches[p].cells[s].limit;
        if (searched && searched->best() != nullptr) {
            cell.usable = searched->best()->depth;
            cell.best = searched->best()->speed;
        }
        if (told != option.answers[p].end()) {
            const std::optional<Recommendation>& best = told->second.best;
            cell.limit = told->second.limit.limit;
            cell.usable = best ? std::optional(best->depth) : std::nullopt;
            cell.best = best ? std::optional(best->speed) : std::nullopt;
        }
        if (option.sketches[p].cells[s].every_speed) {
            cell.limits = option.sketches[p].cells[s].limits;
        }
    }
    return cells;
}

void add_best(TradePass& result, const TradePassCase& of, const CellAnswer& answer) {
    if (!answer.best) {
        result.best_verdict = answer.answer.verdict;
        result.best_verdict.level = Level::avoid;
        return;
    }
    result.best_speed = answer.best->speed;
    result.best_limit = answer.best->limit;
    result.usable = answer.best->depth;
    result.removal = answer.removal;
    result.feed = of.feed_per_revolution * answer.best->speed.revolutions_per_second();
    const PassAnswer& there = answer.at_best;
    result.best_verdict = there.verdict;
    if (there.at.motion) result.best_error = there.at.motion->largest_error;
    if (!there.tried) return;
    result.best_probability = there.tried->unstable;
    if (there.tried->wall) result.best_error = there.tried->wall->stays_under();
}

StickoutsOut stickouts_out(const PassSketches& sketches, const std::vector<double>& stickouts,
                           double own) {
    StickoutsOut out;
    for (std::size_t s = 0; s < stickouts.size(); ++s) {
        if (sketches.clear[s] == false) ++out.not_clear;
        if (!sketches.clear[s] && stickouts[s] < own - kSame) ++out.shorter_than_job;
    }
    return out;
}

void add_reach(Verdict& verdict) {
    const std::vector<Reason>& reasons = verdict.reasons;
    const bool said = std::find(reasons.begin(), reasons.end(), Reason::reach) != reasons.end();
    if (!said) add_finding(verdict, {Level::avoid, Reason::reach});
}

TradePass pass_of(const TradeOptionCase& option, std::size_t p,
                  const std::vector<double>& stickouts, const TradedTools& tools) {
    const Job& job = *option.job;
    const Pass& pass = job.passes[p];
    const CellAnswer& answer = option.answer(p);
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
    result.out = stickouts_out(option.sketches[p], stickouts, own);
    result.speed = answer.speed;
    result.depth = answer.depth;
    result.programmed = pass.speed.has_value();
    result.limit = answer.limit.limit;
    result.share = share_of_path(job, p);
    if (pass.length && answer.removal > 0) {
        result.time = *pass.length * pass.radial * option.cases[p].usual_depth / answer.removal;
    }
    add_best(result, option.cases[p], answer);
    if (answer.answer.at.motion) result.error = answer.answer.at.motion->largest_error;
    result.push_off = answer.answer.statics.error;
    result.allowed_error = allowed_error(pass);
    result.tool_share = tool_share(answer.answer.statics);
    if (answer.answer.tried) result.probability = answer.answer.tried->unstable;
    result.holding = answer.answer.holding;
    result.verdict = answer.answer.verdict;
    if (result.clear == false) {
        add_reach(result.verdict);
        add_reach(result.best_verdict);
    }
    result.finish = answer.finish;
    result.why = why_of(option, p, tools[option.chosen[p]]);
    result.speeds = option.cases[p].speeds;
    result.cells = cells_of(option, p, stickouts);
    result.left_out = option.left_out[p];
    const SearchedCell& searched = *option.searched[p][option.chosen[p]];
    if (answer.answer.tried && answer.removal > 0 && searched.removal > 0) {
        result.told_ratio = answer.removal / searched.removal;
    }
    return result;
}

/// Whether any pass of a tool holds it as far out as it is: the least that clears, with what a
/// setting can tell apart.
bool is_least_of(const std::vector<TradePass>& passes, const TradePass& of) {
    return std::any_of(passes.begin(), passes.end(), [&](const TradePass& other) {
        return other.tool == of.tool && other.least_stickout &&
               of.stickout < *other.least_stickout + kSetTo;
    });
}

bool shorter_do_not_clear(const std::vector<TradePass>& passes, const TradePass& of) {
    return std::any_of(passes.begin(), passes.end(), [&](const TradePass& other) {
        return other.tool == of.tool && other.out.not_clear > 0;
    });
}

/// Reach holds a pass where nothing clears, or where its tool stands out as little as clears and
/// gives more than the stack; the list, where the tool could stand out less than any of it.
LimitedBy limit_of(const TradePass& pass, const std::vector<TradePass>& passes,
                   const std::vector<std::size_t>& allowed, std::size_t chosen) {
    if (pass.clear == false) return LimitedBy::reach;
    if (chosen != allowed.front() || pass.tool_share < 0.5) return LimitedBy::rigidity;
    if (is_least_of(passes, pass)) return LimitedBy::reach;
    if (pass.out.shorter_than_job > 0) return LimitedBy::list;
    const bool less_would_clear = pass.clear == true && pass.least_stickout.has_value();
    if (!less_would_clear) return LimitedBy::rigidity;
    return shorter_do_not_clear(passes, pass) || chosen == 0 ? LimitedBy::list
                                                             : LimitedBy::rigidity;
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

Level level_at_best(const TradePass& pass) { return pass.best_verdict.level; }

void summarise(TradeResult& result, const TradeOptionCase& option) {
    double share = HUGE_VAL;
    for (std::size_t p = 0; p < result.passes.size(); ++p) {
        TradePass& pass = result.passes[p];
        const std::size_t tool = option.job->passes[p].tool;
        pass.held_by = limit_of(pass, result.passes, option.allowed[tool], option.chosen[p]);
        if (pass.verdict.level > result.passes[result.worst].verdict.level) result.worst = p;
        if (level_at_best(pass) > level_at_best(result.passes[result.worst_at_best])) {
            result.worst_at_best = p;
        }
        const double own = pass.usable.value_or(0) / option.cases[p].usual_depth;
        if (own >= share) continue;
        share = own;
        result.limited_by = pass.held_by;
    }
    for (const TradePass& pass : result.passes) {
        if (pass.clear == false) result.limited_by = LimitedBy::reach;
    }
    result.usable_share = share;
    if (!result.passes.empty()) {
        result.verdict = result.passes[result.worst].verdict;
        result.best_verdict = result.passes[result.worst_at_best].best_verdict;
    }
    result.removal = option_removal(*option.job, result.passes);
}

double weight_of(const Pass& pass) { return pass.length.value_or(pass.share.value_or(1)); }

}  // namespace

double share_of_path(const Job& job, std::size_t pass) {
    double sum = 0;
    for (const Pass& one : job.passes) sum += weight_of(one);
    return sum > 0 ? weight_of(job.passes[pass]) / sum : 0;
}

double option_removal(const Job& job, const std::vector<TradePass>& passes) {
    double removed = 0, time = 0;
    for (const TradePass& one : passes) {
        const Pass& pass = job.passes[one.pass];
        const double depth = pass.axial.value_or(job.tools[pass.tool].cutter.diameter / 2);
        const double work = share_of_path(job, one.pass) * pass.radial * depth;
        removed += work;
        time += pass_time(work, one.removal);
    }
    return std::isfinite(time) && time > 0 ? removed / time : 0;
}

void fill_result(TradeResult& result, const TradeOptionCase& option, const TradeGrid& grid,
                 const std::vector<TradedTools>& tools) {
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        const std::size_t tool = option.job->passes[p].tool;
        result.passes.push_back(pass_of(option, p, grid.stickouts[tool], tools[tool]));
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
        const std::size_t shortest = option.allowed[tool].front();
        const auto told = option.answers[p].find(shortest);
        if (stickouts.empty() || shortest == option.chosen[p]) continue;
        if (told == option.answers[p].end()) continue;
        const CellAnswer &with = option.answer(p), &without = told->second;
        if (!with.best || with.removal < kTuned * without.removal) continue;
        TunedStickout one;
        one.tool = option.job->tools[tool].name;
        one.pass = option.job->passes[p].name;
        one.stickout = stickouts[option.chosen[p]];
        one.shortest = stickouts[shortest];
        one.speed = with.best->speed;
        one.usable = with.best->depth;
        one.limit = with.best->limit;
        one.within = option.job->limits.least_band / 2;
        if (without.best) {
            one.usable_shortest = without.best->depth;
            one.speed_shortest = without.best->speed;
        }
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
