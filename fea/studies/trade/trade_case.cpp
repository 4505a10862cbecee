#include "fea/studies/trade/trade_case.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

#include "fea/judgement/answer/levels.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

// Sizes closer than this are one and the same.
constexpr double kSame = 1e-6;
// Stickouts whose sketch comes within this of the best answer, or within the largest error seen in
// a sketch if that is more, are worked out too; so many at most.
// Of the usable depth, until few enough tries chatter.
constexpr std::array kCautiousShares = {0.85, 0.7, 0.5, 0.35, 0.25, 0.15};
constexpr double kMargin = 0.03;
constexpr std::size_t kMostWorkedOut = 12, kAtOnce = 2;

double section_of(const TradePassCase& of) {
    return of.job->passes[of.pass].radial * of.usual_depth;
}

void make_room(TradeOptionCase& option, const std::vector<TradedTools>& tools) {
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        const std::size_t count = tools[option.job->passes[p].tool].size();
        option.sketches.push_back({.pass = p, .section = section_of(option.cases[p])});
        option.sketches[p].cells.resize(count);
        option.answers.emplace_back(count);
    }
}

void judge_reach(TradeOptionCase& option, const TradeGrid& grid, const TradeSettings& settings) {
    option.reach.resize(option.cases.size());
    for_each_index(option.cases.size(), [&](std::size_t p) {
        const std::size_t tool = option.job->passes[p].tool;
        std::vector<double> stickouts = grid.stickouts[tool];
        if (stickouts.empty()) stickouts = {stickout_of(option.job->tools[tool].cutter)};
        TradeReach& reach = option.reach[p];
        if (settings.reach) reach = settings.reach(*option.job, p, stickouts);
        std::vector<std::optional<bool>>& clear = option.sketches[p].clear;
        clear.assign(stickouts.size(), std::nullopt);
        for (std::size_t s = 0; reach.judged && s < clear.size(); ++s) {
            clear[s] = s < reach.clear.size() && reach.clear[s];
        }
    });
}

template <typename Item>
std::vector<Item> picked(const std::vector<Item>& all, const std::vector<std::size_t>& indices) {
    std::vector<Item> some;
    for (const std::size_t i : indices) some.push_back(all[i]);
    return some;
}

/// Stickouts that may be chosen, per tool; the longest where nothing clears, so that there are
/// figures.
void find_allowed(TradeOptionCase& option, const TradeGrid& grid) {
    for (std::size_t tool = 0; tool < grid.stickouts.size(); ++tool) {
        const std::vector<double>& stickouts = grid.stickouts[tool];
        std::vector<std::size_t> allowed{0};
        if (!stickouts.empty()) {
            allowed = allowed_stickouts(picked(option.sketches, passes_of(*option.job, tool)),
                                        stickouts, stickout_of(option.job->tools[tool].cutter));
            if (allowed.empty()) allowed = {stickouts.size() - 1};
        }
        option.allowed.push_back(std::move(allowed));
    }
}

std::optional<double> finite(double value) {
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

void work_out(TradeOptionCase& option, const std::vector<std::size_t>& passes,
              const TradedTools& tools, const std::vector<std::size_t>& stickouts,
              const TradeSettings& settings) {
    for_each_index(stickouts.size() * passes.size(), [&](std::size_t i) {
        const std::size_t s = stickouts[i / passes.size()], p = passes[i % passes.size()];
        option.answers[p][s] =
            work_out_cell(option.cases[p], tools[s], option.sketches[p].cells[s], settings);
    });
}

/// Looks at lower depths at the best speed until few enough of the draws chatter; what is removed
/// is what the draws leave.
void add_cautious_depth(CellAnswer& answer, const std::vector<DelaySystem>& draws, double most) {
    if (*answer.best_probability < most) return;
    const double by_depth = answer.removal / answer.best->depth;
    answer.removal = 0;
    for (const double share : kCautiousShares) {
        const double depth = share * answer.best->depth;
        const auto unstable = unstable_share_below(draws, answer.best->speed, depth, most);
        if (!unstable) {
            continue;
        }
        answer.cautious = depth;
        answer.removal = by_depth * depth;
        answer.cautious_probability = unstable;
        return;
    }
}

WorkedStickout worked_stickout(const TradeOptionCase& option,
                               const std::vector<std::size_t>& passes, std::size_t stickout) {
    WorkedStickout one{.index = stickout};
    for (const std::size_t p : passes) {
        const CellAnswer& answer = *option.answers[p][stickout];
        one.level = std::max(one.level, answer.answer.verdict.level);
        one.time += pass_time(option.sketches[p].section, answer.removal);
    }
    return one;
}

}  // namespace

std::vector<std::size_t> passes_of(const Job& job, std::size_t tool) {
    std::vector<std::size_t> passes;
    for (std::size_t p = 0; p < job.passes.size(); ++p) {
        if (job.passes[p].tool == tool) passes.push_back(p);
    }
    return passes;
}

void begin_case(TradeOptionCase& option, const TradeGrid& grid,
                const std::vector<TradedTools>& tools, const TradeSettings& settings) {
    make_room(option, tools);
    judge_reach(option, grid, settings);
    find_allowed(option, grid);
}

void sketch_cells(TradeOptionCase& option, const std::vector<TradedTools>& tools,
                  const TradeSettings& settings) {
    struct Place {
        std::size_t pass, stickout;
    };
    std::vector<Place> places;
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        for (std::size_t s = 0; s < option.sketches[p].cells.size(); ++s) places.push_back({p, s});
    }
    for_each_index(places.size(), [&](std::size_t i) {
        const auto [p, s] = places[i];
        const std::size_t tool = option.job->passes[p].tool;
        const std::vector<std::size_t>& allowed = option.allowed[tool];
        const bool rank = std::binary_search(allowed.begin(), allowed.end(), s);
        option.sketches[p].cells[s] = sketch_cell(option.cases[p], tools[tool][s], rank, settings);
    });
}

void choose_stickout(TradeOptionCase& option, std::size_t tool, const TradedTools& tools,
                     const TradeSettings& settings) {
    const std::vector<std::size_t> passes = passes_of(*option.job, tool);
    if (passes.empty()) return;
    const std::vector<SketchedStickout> sketched = by_promise(
        picked(option.cases, passes), picked(option.sketches, passes), option.allowed[tool]);
    std::vector<WorkedStickout> worked;
    std::vector<std::size_t> next{option.allowed[tool].front()};
    if (sketched.front().index != next.front()) next.push_back(sketched.front().index);
    double least_off = 0;
    while (!next.empty()) {
        work_out(option, passes, tools, next, settings);
        for (const std::size_t s : next) worked.push_back(worked_stickout(option, passes, s));
        next.clear();
        const WorkedStickout& best = worked[best_stickout(worked)];
        const double margin = std::max(kMargin, too_slow_at_worst(sketched, worked));
        least_off = HUGE_VAL;
        for (const SketchedStickout& one : sketched) {
            if (option.answers[passes.front()][one.index]) continue;
            const double off = would_have_to_be_off(one, best);
            const bool hopeful = off < margin && worked.size() + next.size() < kMostWorkedOut;
            if (hopeful && next.size() < kAtOnce) next.push_back(one.index);
            least_off = std::min(least_off, off);
        }
    }
    std::sort(worked.begin(), worked.end(),
              [](const auto& a, const auto& b) { return a.index < b.index; });
    const std::size_t chosen = worked[best_stickout(worked)].index;
    for (const std::size_t p : passes) {
        option.chosen[p] = chosen;
        option.left_out[p] = {.seen = finite(too_slow_at_worst(sketched, worked)),
                              .needed = finite(least_off)};
    }
}

void add_odds(TradeOptionCase& option, const std::vector<TradedTools>& tools,
              const TradeSettings& settings, DrawnSides& drawn_tools) {
    const Job& job = *option.job;
    std::vector<std::size_t> passes(job.passes.size());
    std::iota(passes.begin(), passes.end(), std::size_t{0});
    JobSides sides;
    for (const std::size_t p : passes) {
        sides.tool.push_back(tools[job.passes[p].tool][option.chosen[p]].side);
        sides.work.push_back(option.cases[p].work);
    }
    const JobDraws drawn = draw_job(job, passes, sides,
                                    {.draws = settings.draws, .seed = settings.seed}, &drawn_tools);
    for_each_index(passes.size(), [&](std::size_t p) {
        CellAnswer& answer = *option.answers[p][option.chosen[p]];
        const TradedTool& tool = tools[job.passes[p].tool][option.chosen[p]];
        const Job at = job_of_cell(option.cases[p], tool);
        CutProblem problem = trade_problem(option.cases[p], at, tool, settings);
        problem.draws = drawn.draws;
        problem.tool_draws = drawn.tool[p];
        problem.work_draws = drawn.work[p];
        const CutTries tries = cut_tries(problem, answer.headings);
        const std::vector<DelaySystem>& systems = tries.at_stability;
        answer.answer = judge_cut(problem, answer.headings, tries, answer.limit, answer.depth);
        answer.probability = answer.answer.tried->unstable;
        if (answer.best) {
            const bool same =
                answer.best->speed == answer.speed && answer.best->depth == answer.depth;
            answer.best_probability =
                same ? *answer.probability
                     : unstable_share(systems, {answer.best->speed}, answer.best->depth).front();
            add_cautious_depth(answer, systems, job.limits.chatter_probability_marginal);
        }
    });
}

}  // namespace standfast
