#include "fea/studies/trade.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>

#include "fea/judgement/levels.hpp"
#include "fea/judgement/pass_odds.hpp"
#include "fea/judgement/sides.hpp"
#include "fea/judgement/weight.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/studies/trade_cell.hpp"
#include "fea/studies/trade_choice.hpp"

namespace standfast {
namespace {

constexpr double kSame = 1e-6;
// Sketches within this of the best are worked out too.
constexpr double kMargin = 0.25;
constexpr std::size_t kMostWorkedOut = 4;
// A longer stickout must remove so much more metal before it is called tuned.
constexpr double kTuned = 1.05;

std::size_t index_of(const std::vector<double>& values, double wanted) {
    for (std::size_t i = 0; i < values.size(); ++i)
        if (std::abs(values[i] - wanted) < kSame) return i;
    return 0;
}

}  // namespace

/// Everything about one option while it is judged.
struct TradeOptionCase {
    const Job* job = nullptr;
    Job open;
    std::vector<TradePassCase> cases;
    std::vector<TradeReach> reach;
    std::vector<PassSketches> sketches;
    std::vector<std::vector<CellLimits>> limits;  ///< pass x stickout
    /// Pass x stickout; those worked out.
    std::vector<std::vector<std::optional<CellAnswer>>> answers;
    std::vector<std::vector<std::size_t>> allowed;  ///< per tool: stickouts that may be chosen
    std::vector<std::size_t> chosen;                ///< per pass: index of its stickout
};

namespace {

using Tools = std::vector<TradedTool>;  // one tool at its stickouts

Job without_depths(Job job) {
    for (Pass& pass : job.passes) pass.axial.reset();
    return job;
}

double section_of(const TradePassCase& of) {
    return of.job->passes[of.pass].radial * of.usual_depth;
}

/// The speed at which a cell's limit is told.
SpindleSpeed told_speed(const TradePassCase& of, const CellSketch& sketch) {
    const Pass& pass = of.job->passes[of.pass];
    if (pass.speed) return *pass.speed;
    std::size_t best = 0;
    for (std::size_t i = 1; i < sketch.usable.size(); ++i)
        if (of.speeds[i].radians_per_second * sketch.usable[i] >
            of.speeds[best].radians_per_second * sketch.usable[best])
            best = i;
    return of.speeds[best];
}

/// The level as programmed, with the limit that the settings' method gives instead of the sketch's.
void refine_level(CellSketch& sketch, const TradePassCase& of, const CellLimits& limits) {
    const Pass& pass = of.job->passes[of.pass];
    if (!pass.speed || !pass.axial) return;
    const Level chatter = judge_chatter(*pass.axial, limits.at.limit, of.job->limits).level;
    sketch.level = std::max(sketch.push_off_level, chatter);
}

void make_room(TradeOptionCase& option, const std::vector<Tools>& tools) {
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        const std::size_t count = tools[option.job->passes[p].tool].size();
        option.sketches.push_back({.pass = p, .section = section_of(option.cases[p])});
        option.sketches[p].cells.resize(count);
        option.limits.emplace_back(count);
        option.answers.emplace_back(count);
    }
}

/// Limits of every cell; sketches of those that may be chosen.
void sketch_cells(TradeOptionCase& option, const std::vector<Tools>& tools,
                  const TradeSettings& settings) {
    struct Place {
        std::size_t pass, stickout;
    };
    std::vector<Place> places;
    for (std::size_t p = 0; p < option.cases.size(); ++p)
        for (std::size_t s = 0; s < option.limits[p].size(); ++s) places.push_back({p, s});
    for_each_index(places.size(), [&](std::size_t i) {
        const auto [p, s] = places[i];
        const TradePassCase& of = option.cases[p];
        const std::size_t tool = option.job->passes[p].tool;
        const std::vector<std::size_t>& allowed = option.allowed[tool];
        CellSketch& sketch = option.sketches[p].cells[s];
        if (std::binary_search(allowed.begin(), allowed.end(), s))
            sketch = sketch_cell(of, tools[tool][s]);
        option.limits[p][s] = cell_limits(of, tools[tool][s], told_speed(of, sketch), settings);
        refine_level(sketch, of, option.limits[p][s]);
    });
}

void judge_reach(TradeOptionCase& option, const TradeGrid& grid, const TradeSettings& settings) {
    option.reach.resize(option.cases.size());
    if (settings.reach)
        for_each_index(option.cases.size(),
                       [&](std::size_t p) { option.reach[p] = settings.reach(*option.job, p); });
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        const TradeReach& reach = option.reach[p];
        const std::vector<double>& stickouts = grid.stickouts[option.job->passes[p].tool];
        std::vector<std::optional<bool>>& clear = option.sketches[p].clear;
        clear.assign(std::max<std::size_t>(1, stickouts.size()), std::nullopt);
        for (std::size_t s = 0; reach.judged && s < clear.size(); ++s) {
            const double stickout = stickouts.empty() ? HUGE_VAL : stickouts[s];
            clear[s] = reach.least_stickout && stickout >= *reach.least_stickout - kSame;
        }
    }
}

std::vector<std::size_t> passes_of(const Job& job, std::size_t tool) {
    std::vector<std::size_t> passes;
    for (std::size_t p = 0; p < job.passes.size(); ++p)
        if (job.passes[p].tool == tool) passes.push_back(p);
    return passes;
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

/// Works out the short list of a tool and chooses.
void choose_stickout(TradeOptionCase& option, std::size_t tool, const Tools& tools,
                     const TradeSettings& settings) {
    const std::vector<std::size_t> passes = passes_of(*option.job, tool);
    if (passes.empty()) return;
    const std::vector<std::size_t> list =
        short_list(picked(option.cases, passes), picked(option.sketches, passes),
                   option.allowed[tool], kMargin, kMostWorkedOut);
    const std::size_t count = list.size() * passes.size();
    for_each_index(count, [&](std::size_t i) {
        const std::size_t s = list[i / passes.size()], p = passes[i % passes.size()];
        option.answers[p][s] =
            work_out_cell(option.cases[p], tools[s], option.sketches[p].cells[s], settings);
    });
    std::vector<WorkedStickout> worked;
    for (const std::size_t s : list) {
        WorkedStickout one{.index = s};
        for (const std::size_t p : passes) {
            const CellAnswer& answer = *option.answers[p][s];
            one.level = std::max(one.level, answer.answer.verdict.level);
            one.time += pass_time(option.sketches[p].section, answer.removal);
        }
        worked.push_back(one);
    }
    const std::size_t chosen = worked[best_stickout(worked)].index;
    for (const std::size_t p : passes) option.chosen[p] = chosen;
}

double tool_share(const StaticResult& statics) {
    double share = 0;
    for (const GiveShare& give : statics.give)
        if (give.tool_side) share += give.share;
    return share;
}

std::vector<TradeCell> cells_of(const TradeOptionCase& option, std::size_t p,
                                const std::vector<double>& stickouts) {
    std::vector<TradeCell> cells(option.limits[p].size());
    for (std::size_t s = 0; s < cells.size(); ++s) {
        TradeCell& cell = cells[s];
        const std::optional<CellAnswer>& answer = option.answers[p][s];
        cell.stickout = stickouts.empty()
                            ? stickout_of(option.job->tools[option.job->passes[p].tool].cutter)
                            : stickouts[s];
        cell.clear = option.sketches[p].clear[s];
        cell.worked_out = answer.has_value();
        cell.limit = answer ? answer->limit.limit : option.limits[p][s].at.limit;
        if (answer && answer->best) {
            cell.usable = answer->best->depth;
            cell.best = answer->best->speed;
        }
        for (const SpeedLimit& at : option.limits[p][s].every) cell.limits.push_back(at.limit);
    }
    return cells;
}

/// How far the sketches' worth was from the answers', relative to the answer.
double sketch_error_of(const TradeOptionCase& option, std::size_t p) {
    double worst = 0;
    for (std::size_t s = 0; s < option.answers[p].size(); ++s) {
        const std::optional<CellAnswer>& answer = option.answers[p][s];
        if (!answer || !answer->best) continue;
        const double found = answer->best->depth * answer->best->speed.radians_per_second;
        worst = std::max(worst, std::abs(option.sketches[p].cells[s].worth / found - 1));
    }
    return worst;
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
    if (result.clear == false) add_finding(result.verdict, {Level::avoid, Reason::reach});
    result.speeds = option.cases[p].speeds;
    result.cells = cells_of(option, p, stickouts);
    result.sketch_error = sketch_error_of(option, p);
    return result;
}

/// The odds of chatter at the judged speed and depth of every pass, and the verdicts with them.
void add_odds(TradeOptionCase& option, const std::vector<Tools>& tools,
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
        CutProblem problem = trade_problem(option.cases[p], at, tool, settings.method);
        problem.draws = drawn.draws;
        problem.tool_draws = drawn.tool[p];
        problem.work_draws = drawn.work[p];
        ChatterOdds odds;
        odds.draws = settings.draws;
        odds.seed = settings.seed;
        odds.speed = {answer.speed};
        odds.unstable = unstable_share(drawn_systems(problem, answer.headings.stability),
                                       odds.speed, answer.depth);
        odds.at_judged = odds.unstable.front();
        answer.probability = odds.at_judged;
        answer.answer = answer_pass(problem, answer.headings, answer.limit, answer.depth,
                                    std::make_shared<const ChatterOdds>(odds));
    });
}

/// Tools whose chosen stickout is longer than the shortest allowed one and removes more.
std::vector<TunedStickout> tuned_stickouts(const TradeOptionCase& option, const TradeGrid& grid,
                                           const std::vector<Tools>& tools,
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
            .limit_shortest = std::nullopt};
        const CutProblem problem =
            trade_problem(option.cases[p], *option.job, tools[tool][shortest], settings.method);
        one.limit_shortest =
            limits_at_heading(problem, without.headings.stability, {one.speed}).speeds[0].limit;
        // More metal for another reason (a thinner wall error, say) is no pocket.
        const double none = problem.searched_to;
        if (one.limit.value_or(none) > kTuned * one.limit_shortest.value_or(none))
            found.push_back(one);
    }
    return found;
}

/// Reach limits a pass where nothing clears, or where the tool stands out further than the grip
/// alone would ask for and gives more than the stack does.
LimitedBy limit_of(const TradePass& pass) {
    if (pass.clear == false) return LimitedBy::reach;
    const bool held_off =
        pass.clear.has_value() && !pass.cells.empty() && pass.cells.front().clear == false;
    return held_off && pass.tool_share >= 0.5 ? LimitedBy::reach : LimitedBy::rigidity;
}

std::vector<std::string> not_judged_in(const TradeOptionCase& option,
                                       const std::vector<TradePass>& passes) {
    std::set<std::string> list;
    for (std::size_t p = 0; p < passes.size(); ++p) {
        const TradeReach& reach = option.reach[p];
        if (!reach.judged)
            list.insert(reach.why_not.empty()
                            ? "reach: stickouts shorter than the job's own are not offered"
                            : "reach: " + reach.why_not +
                                  "; stickouts shorter than the job's own are not offered");
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
        result.limited_by = limit_of(pass);
    }
    for (const TradePass& pass : result.passes)
        if (pass.clear == false) result.limited_by = LimitedBy::reach;
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

TradeStudy::TradeStudy(const Job& job, TradeSettings settings)
    : grid_(trade_grid(job)), settings_(std::move(settings)) {
    if (job.passes.empty()) throw std::domain_error("trade: the job has no pass");
    struct Place {
        std::size_t tool, stickout;
    };
    std::vector<Place> places;
    for (std::size_t tool = 0; tool < job.tools.size(); ++tool) {
        if (passes_of(job, tool).empty()) {
            tools_.emplace_back();
            continue;
        }
        tools_.emplace_back(std::max<std::size_t>(1, grid_.stickouts[tool].size()));
        for (std::size_t s = 0; s < tools_.back().size(); ++s) places.push_back({tool, s});
    }
    for_each_index(places.size(), [&](std::size_t i) {
        const auto [tool, s] = places[i];
        const std::vector<double>& stickouts = grid_.stickouts[tool];
        const ToolChain chain =
            stickouts.empty() ? job.tools[tool] : with_stickout(job.tools[tool], stickouts[s]);
        tools_[tool][s] = {chain,
                           std::make_shared<const SolvedSide>(solve_tool_side(job.machine, chain))};
    });
    count_.tool_sides = places.size();
}

TradeResult TradeStudy::option(std::size_t index) {
    const TradeOption& of = grid_.options.at(index);
    TradeResult result;
    result.id = of.id;
    result.hold = of.hold;
    result.tiers = of.tiers;
    result.height = of.height;
    result.as_job = of.as_job;
    try {
        judge(of, result);
    } catch (const std::domain_error& error) {
        result.failed = error.what();
        result.passes.clear();
    }
    return result;
}

void TradeStudy::judge(const TradeOption& of, TradeResult& result) {
    TradeOptionCase option;
    option.job = &of.job;
    option.open = without_depths(of.job);
    const std::size_t count = of.job.passes.size();
    std::vector<std::size_t> passes(count);
    std::iota(passes.begin(), passes.end(), std::size_t{0});
    const std::vector<std::shared_ptr<const SolvedSide>> work = solve_work_sides(of.job, passes);
    const std::set<const void*> different = [&] {
        std::set<const void*> set;
        for (const auto& side : work) set.insert(side.get());
        return set;
    }();
    count_.work_sides += different.size();
    option.cases.resize(count);
    for_each_index(count, [&](std::size_t p) {
        const std::size_t tool = of.job.passes[p].tool;
        const double own = stickout_of(of.job.tools[tool].cutter);
        const TradedTool& at = tools_[tool][index_of(grid_.stickouts[tool], own)];
        option.cases[p] = trade_pass_case(of.job, option.open, p, work[p], at, settings_);
    });
    option.chosen.resize(count);
    make_room(option, tools_);
    judge_reach(option, grid_, settings_);
    find_allowed(option, grid_);
    sketch_cells(option, tools_, settings_);
    for (std::size_t tool = 0; tool < tools_.size(); ++tool)
        choose_stickout(option, tool, tools_[tool], settings_);
    if (settings_.draws > 0) add_odds(option, tools_, settings_, drawn_tools_);

    result.mass = stack_mass(of.job.stack, tier_frames(of.job.stack)).mass;
    for (std::size_t p = 0; p < count; ++p) {
        result.passes.push_back(pass_of(option, p, grid_.stickouts[of.job.passes[p].tool]));
        result.passes.back().probability = option.answers[p][option.chosen[p]]->probability;
        count_.cells += option.limits[p].size();
        for (const auto& answer : option.answers[p]) count_.worked_out += answer.has_value();
    }
    result.tuned = tuned_stickouts(option, grid_, tools_, settings_);
    result.not_judged = not_judged_in(option, result.passes);
    summarise(result, option);
}

}  // namespace standfast
