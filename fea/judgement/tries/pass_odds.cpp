#include "fea/judgement/tries/pass_odds.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <utility>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/job/edits/tool_edits.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/own_spreads.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/tries/drawn_sides.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

// Limits cost some twenty multipliers each; so many give their quantiles well enough for words.
constexpr std::size_t kLimitDraws = 24;
constexpr int kStartSpeeds = 40;

Spread force_spread(const Job& job, const Pass& pass, const CuttingLaw& law) {
    return {.group = "cutting force: " + pass.cutting.name,
            .factor = job.uncertainty.cutting_force.of(pass.cutting.name).value_or(law.spread)};
}

/// Of edge forces that stand in for those that a set lacks: 80 % of the aluminium sets' lie within
/// a factor of 1.8 of their median. Others go with the chip's.
Spread edge_spread(const Job& job, const Pass& pass) {
    constexpr double kOfNeighbours = 1.8;
    const bool lacking = pass.cutting.mechanistic && pass.cutting.mechanistic->edge_from_neighbours;
    const double own = job.uncertainty.cutting_force.of(pass.cutting.name).value_or(kOfNeighbours);
    return {.group = "edge force: " + pass.cutting.name, .factor = lacking ? own : 1};
}

/// Of rubbing by the material's group; one that the job states is taken as measured.
constexpr double kRubbing = 3, kFreshEdge = 10;
Spread rubbing_spread(const Pass& pass) {
    const bool of_group = pass.cutting.process_damping_of_group;
    return {.group = "rubbing of the flank: " + pass.cutting.name,
            .factor = of_group ? kRubbing : 1};
}

/// Downward the spread reaches as far as a fresh edge's tenth.
double rubbing_factor(double drawn) {
    return drawn < 1 ? std::pow(drawn, std::log(kFreshEdge) / std::log(kRubbing)) : drawn;
}

/// Runout shows in the push-off; the delay equation has every tooth cut.
Spread runout_of(const Job& job, const ToolChain& tool) {
    const bool runs_out = tool.cutter.runout > 0;
    return {.group = "runout: " + tool.name,
            .factor = runs_out ? runout_spread(job.uncertainty, tool.name) : 1};
}

/// A stickout as set lies anywhere within its tolerance. Its factor is no factor on anything: a
/// third of the draws each stand for one set short, as meant and long.
Spread stickout_as_set(const Job& job, const ToolChain& tool) {
    constexpr double kAny = 2;
    const bool known_by_stickout = !tool.rigid && tool.modes.empty();
    const bool uncertain = job.uncertainty.stickout.value_or(0) > 0 && known_by_stickout;
    return {.group = "stickout as set: " + tool.name, .factor = uncertain ? kAny : 1};
}

/// -1: set short, 0: as meant, 1: long.
int set_to(const Draws& draws, Eigen::Index draw, const Spread& spread) {
    constexpr double kThird = 0.43072729929545756;  // normal quantile of 2/3
    const double at = std::log(factor_in(draws, draw, spread.group)) / log_deviation(spread.factor);
    return at < -kThird ? -1 : at > kThird ? 1 : 0;
}

Draws rows_of(const Draws& draws, const std::vector<Eigen::Index>& rows) {
    Draws some{.group = draws.group, .factor = {}};
    some.factor.resize(static_cast<Eigen::Index>(rows.size()), draws.factor.cols());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        some.factor.row(static_cast<Eigen::Index>(i)) = draws.factor.row(rows[i]);
    }
    return some;
}

/// The tool side with another stickout; the same where it cannot be had.
std::shared_ptr<const SolvedSide> set_off_by(const Job& job, const Pass& pass, double by,
                                             const std::shared_ptr<const SolvedSide>& side) {
    Job other = job;
    ToolChain& tool = other.tools[pass.tool];
    try {
        tool = with_stickout(tool, stickout_of(tool.cutter) + by);
        return tool_side_of(other, pass);
    } catch (const std::domain_error&) {
        return side;
    }
}

/// A tool side for every draw, each with the stickout that it is set to: in the middle of its third
/// of the tolerance.
std::vector<LineReceptance> drawn_tool(const Job& job, const Pass& pass,
                                       const std::shared_ptr<const SolvedSide>& side,
                                       const Draws& draws) {
    const Spread spread = stickout_as_set(job, job.tools[pass.tool]);
    if (spread.factor == 1 || !side->system) return drawn_lines(*side, "tool", draws);
    std::vector<LineReceptance> drawn(static_cast<std::size_t>(draws.count()));
    for (const int to : {-1, 0, 1}) {
        std::vector<Eigen::Index> rows;
        for (Eigen::Index draw = 0; draw < draws.count(); ++draw) {
            if (set_to(draws, draw, spread) == to) rows.push_back(draw);
        }
        if (rows.empty()) continue;
        const auto at =
            to == 0 ? side : set_off_by(job, pass, to * *job.uncertainty.stickout / 3, side);
        std::vector<LineReceptance> lines = drawn_lines(*at, "tool", rows_of(draws, rows));
        for (std::size_t i = 0; i < rows.size(); ++i) {
            drawn[static_cast<std::size_t>(rows[i])] = std::move(lines[i]);
        }
    }
    return drawn;
}

CutterGeometry with_runout(CutterGeometry cutter, double factor) {
    for (double& offset : cutter.runout) offset *= factor;
    return cutter;
}

CuttingLaw scaled(CuttingLaw law, double factor, double edge) {
    for (double* part : {&law.tangential, &law.radial, &law.axial, &law.tangential_edge,
                         &law.radial_edge, &law.axial_edge}) {
        *part *= factor;
    }
    for (double* part : {&law.tangential_edge, &law.radial_edge, &law.axial_edge}) *part *= edge;
    return law;
}

DelaySystem drawn_system(const CutProblem& problem, double heading, Eigen::Index draw) {
    const auto index = static_cast<std::size_t>(draw);
    const CutLines lines = lines_at_heading(problem, (*problem.tool_draws)[index],
                                            (*problem.work_draws)[index], heading);
    const Pass& pass = problem.pass();
    const Job& job = *problem.job;
    const auto drawn = [&](const Spread& spread) {
        return factor_in(*problem.draws, draw, spread.group);
    };
    const double force = drawn(force_spread(job, pass, problem.cut.law));
    CuttingLaw law = scaled(problem.cut.law, force, drawn(edge_spread(job, pass)));
    law.process_damping *= rubbing_factor(drawn(rubbing_spread(pass)));
    const bool point = lines.tool.point.size() == 1 && lines.work.point.size() == 1;
    return {.receptance = receptance_at_height(lines, 1, 0),
            .cutter = with_runout(problem.cut.cutter, drawn(runout_of(job, problem.tool_chain()))),
            .engagement = problem.cut.engagement,
            .law = law,
            .lines = point ? nullptr : std::make_shared<const CutLines>(lines)};
}

double push_off_of(const CutProblem& problem, const DelaySystem& system, double depth) {
    RigidCut cut = problem.cut;
    cut.cutter = system.cutter;
    cut.law = system.law;
    cut.depth = depth;
    double largest = 0;
    for (const double error :
         static_error(receptance_of_cut(system, depth), cut, wall_heights(depth, 5))) {
        largest = std::max(largest, std::abs(error));
    }
    return largest;
}

std::optional<DrawnRange> first_frequencies(const std::vector<LineReceptance>& draws) {
    std::vector<double> first;
    for (const LineReceptance& line : draws) {
        if (line.modes.empty()) return std::nullopt;
        double lowest = line.modes.front().frequency.hertz();
        for (const LineMode& mode : line.modes) lowest = std::min(lowest, mode.frequency.hertz());
        first.push_back(lowest);
    }
    return ten_to_ninety(std::move(first));
}

/// Quantiles of the limit; one that lies deeper than was searched stands there.
void add_limit_range(ChatterOdds& odds, const CutProblem& problem,
                     const std::vector<DelaySystem>& draws, SpindleSpeed judged) {
    const std::size_t count = std::min(kLimitDraws, draws.size());
    std::vector<double> limits(count);
    for_each_index(count, [&](std::size_t i) {
        const std::size_t draw = i * draws.size() / count;
        limits[i] = EdgeLimits(draws[draw], problem.searched_to)
                        .limit(judged)
                        .limit.value_or(problem.searched_to);
    });
    odds.limit_draws = static_cast<int>(count);
    const DrawnRange range = ten_to_ninety(std::move(limits));
    if (range.low < problem.searched_to) odds.limit = range;
}

/// Over the speeds that may be offered; where there are none, over the machine's.
std::vector<SpindleSpeed> speeds_to_draw_at(const CutProblem& problem) {
    const Machine& machine = problem.job->machine;
    SpeedWindow window = offered_window(*problem.job, problem.pass());
    if (!(window.from < window.to)) window = {machine.slowest, machine.fastest};
    return default_speeds(window.from, window.to, kStartSpeeds);
}

void add_influences(ChatterOdds& odds, const CutProblem& problem,
                    const std::vector<DelaySystem>& draws, SpindleSpeed judged, double depth) {
    Eigen::VectorXd log_growth(static_cast<Eigen::Index>(draws.size()));
    CourseShelf shelf;
    for_each_index(draws.size(), [&](std::size_t draw) {
        // A cut that nothing can shake has no multiplier to speak of.
        log_growth[static_cast<Eigen::Index>(draw)] =
            std::log(std::max(growth(prepare_depth(draws[draw], depth, &shelf), judged), 1e-6));
    });
    odds.influences = influences_on(log_growth, *problem.draws);
}

}  // namespace

JobDraws draw_job(const Job& job, const std::vector<std::size_t>& passes, const JobSides& sides,
                  const OddsOptions& options, DrawnSides* tools, DrawnSides* works) {
    std::vector<std::vector<Spread>> spreads;
    for (const std::size_t pass : passes) {
        const Pass& cut = job.passes[pass];
        spreads.push_back(side_spreads(*sides.tool[pass], "tool", job.uncertainty));
        spreads.push_back(side_spreads(*sides.work[pass], "stack", job.uncertainty));
        spreads.push_back({force_spread(job, cut, rigid_cut(job, cut, 0).law)});
        for (const Spread& more :
             {edge_spread(job, cut), runout_of(job, job.tools[cut.tool]), rubbing_spread(cut),
              stickout_as_set(job, job.tools[cut.tool])}) {
            if (more.factor > 1) spreads.push_back({more});
        }
    }
    JobDraws drawn;
    const std::vector<Spread> merged = merged_spreads(spreads);
    Draws draws = latin_hypercube(merged, options.draws, options.seed);
    if (job.fitted) draws = hanging_together(std::move(draws), merged, *job.fitted);
    drawn.draws = std::make_shared<const Draws>(std::move(draws));
    drawn.tool.resize(job.passes.size());
    drawn.work.resize(job.passes.size());
    DrawnSides own_tools, own_works;
    DrawnSides& kept = tools != nullptr ? *tools : own_tools;
    DrawnSides& kept_works = works != nullptr ? *works : own_works;
    struct ToDraw {
        std::size_t pass = 0;
        std::shared_ptr<const SolvedSide> side;
        bool tool = true;
        std::shared_ptr<const std::vector<LineReceptance>>* result;
    };
    std::vector<ToDraw> missing;
    const auto want = [&](std::size_t pass, bool tool, DrawnSides& once) {
        const std::shared_ptr<const SolvedSide>& side = (tool ? sides.tool : sides.work)[pass];
        auto& result = once[side.get()];
        const bool asked = std::any_of(missing.begin(), missing.end(), [&](const ToDraw& other) {
            return other.result == &result;
        });
        if (!result && !asked) missing.push_back({pass, side, tool, &result});
    };
    for (const std::size_t pass : passes) {
        want(pass, true, kept);
        want(pass, false, kept_works);
    }
    for_each_index(missing.size(), [&](std::size_t i) {
        const auto& [pass, side, tool, result] = missing[i];
        *result = std::make_shared<const std::vector<LineReceptance>>(
            tool ? drawn_tool(job, job.passes[pass], side, *drawn.draws)
                 : drawn_lines(*side, "stack", *drawn.draws));
    });
    for (const std::size_t pass : passes) {
        drawn.tool[pass] = kept.at(sides.tool[pass].get());
        drawn.work[pass] = kept_works.at(sides.work[pass].get());
    }
    return drawn;
}

std::vector<DelaySystem> drawn_systems(const CutProblem& problem, double heading) {
    std::vector<DelaySystem> draws(static_cast<std::size_t>(problem.draws->count()));
    for_each_index(draws.size(), [&](std::size_t draw) {
        draws[draw] = drawn_system(problem, heading, static_cast<Eigen::Index>(draw));
    });
    return draws;
}

std::shared_ptr<const ChatterOdds> pass_odds(const CutProblem& problem, const CutTries& tries,
                                             double heading, SpindleSpeed judged, double depth,
                                             const std::vector<SpindleSpeed>& speeds,
                                             const OddsOptions& options) {
    const std::vector<DelaySystem>& draws = tries.at_stability;
    std::vector<double> push_off(draws.size());
    for_each_index(draws.size(), [&](std::size_t draw) {
        push_off[draw] = push_off_of(problem, tries.of_wall()[draw], depth);
    });
    const std::vector<SpindleSpeed> start = speeds.empty() ? speeds_to_draw_at(problem) : speeds;
    ChatterOdds odds = chatter_odds(draws, start, judged, depth,
                                    {problem.job->limits.chatter_probability_marginal,
                                     problem.job->limits.chatter_probability_avoid},
                                    options);
    odds.push_off = ten_to_ninety(std::move(push_off));
    odds.first_tool_hertz = first_frequencies(*problem.tool_draws);
    odds.first_stack_hertz = first_frequencies(*problem.work_draws);
    add_limit_range(odds, problem, draws, judged);
    add_influences(odds, problem, draws, judged, depth);
    if (rubs_as_its_group(problem)) {
        odds.fresh_edge = unstable_share(with_fresh_edges(draws), {judged}, depth).front();
        DelaySystem fresh = delay_system(problem, heading);
        fresh.law.process_damping = 0;
        odds.fresh_limit = EdgeLimits(fresh, problem.searched_to).limit(judged).limit;
    }
    return std::make_shared<const ChatterOdds>(std::move(odds));
}

}  // namespace standfast
