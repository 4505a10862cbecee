#include "fea/studies/trade/trade_cell.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/speed/best_speed.hpp"

namespace standfast {
namespace {

// A quarter of the tries, or about so many, err by about twice as much as all.
constexpr double kCaution = 0.5;
// Without tries: so many of the most hopeful speeds, and others to either side so far apart.
constexpr std::size_t kHopeful = 3;
constexpr double kApart = 0.01;
constexpr int kToEitherSide = 4;

/// m^3 a radian and metre of depth.
double removed_by(const TradePassCase& of) {
    return of.cut().radial * of.feed_per_revolution / (2 * std::numbers::pi);
}

/// The job of a cell with the axial depths left out.
Job open_job_of_cell(const TradePassCase& of, const TradedTool& tool) {
    Job job = *of.open;
    job.tools[of.cut().tool] = tool.chain;
    return job;
}

/// Speeds about the most hopeful ones, fine enough to tell their peaks.
std::vector<SpindleSpeed> speeds_to_look_at(const TradePassCase& of, const CellSketch& sketch) {
    std::vector<HopedSpeed> sorted = sketch.hopes;
    std::stable_sort(sorted.begin(), sorted.end(), [](const HopedSpeed& a, const HopedSpeed& b) {
        return a.worth() > b.worth();
    });
    std::vector<SpindleSpeed> speeds;
    for (std::size_t i = 0; i < std::min(kHopeful, sorted.size()); ++i) {
        for (int step = -kToEitherSide; step <= kToEitherSide; ++step) {
            const SpindleSpeed speed{sorted[i].speed.radians_per_second * (1 + kApart * step)};
            if (of.offered.contains(speed)) speeds = merge_speeds(speeds, {speed});
        }
    }
    return speeds;
}

SearchedCell as_searched(const TradePassCase& of, std::vector<HeldSpeed> found) {
    const double removal = found.empty() ? 0 : removed_by(of) * found.front().worth();
    return {.found = std::move(found), .removal = removal};
}

/// Without tries: by the limits of the method.
SearchedCell search_nominal(const TradePassCase& of, const CellSketch& sketch,
                            const CutProblem& problem) {
    const std::vector<SpindleSpeed> speeds = speeds_to_look_at(of, sketch);
    if (speeds.empty()) return {};
    const StabilityLimits limits = limits_at_heading(problem, of.headings.stability, speeds);
    const auto best = best_speed_and_depth(problem, of.headings, limits, of.offered);
    if (!best) return {};
    return as_searched(of, {{best->speed, best->depth}});
}

/// The best speeds by other tries, which may have another pocket better than those of the search:
/// from what was hoped, in proportion to what the search found of it.
std::vector<HeldSpeed> found_again(const CutProblem& problem, const Headings& headings,
                                   const SearchedCell& searched, const CellSketch& sketch,
                                   CutTries tries) {
    if (tries.none() || searched.best() == nullptr) return searched.found;
    const HeldSpeed& best = *searched.best();
    SpeedHopes from;
    from.between = true;
    from.hopes = sketch.hopes;
    for (HopedSpeed& one : from.hopes) one.depth *= best.worth() / sketch.worth;
    const auto place = std::ranges::lower_bound(
        from.hopes, best.speed.radians_per_second, {},
        [](const HopedSpeed& one) { return one.speed.radians_per_second; });
    from.hopes.insert(place,
                      {.speed = best.speed, .depth = best.depth, .most = from.hopes.front().most});
    tries.rough = true;  // what is found is confirmed
    const std::vector<HeldSpeed> found = search_speeds(problem, headings, from, tries, 1);
    return found.empty() ? searched.found : found;
}

}  // namespace

SearchedCell search_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const JobDraws* drawn, const TradeSettings& settings, double least) {
    if (sketch.hopes.empty()) return {};
    const Job open = open_job_of_cell(of, tool);
    const CutProblem problem = trade_problem(of, open, tool, settings);
    if (drawn == nullptr) return search_nominal(of, sketch, problem);
    const SpeedHopes from{.hopes = sketch.hopes, .between = true, .least = least / removed_by(of)};
    try {
        CutTries tries = cut_tries(with_draws(problem, *drawn), of.headings);
        tries.rough = true;
        return as_searched(of, search_speeds(problem, of.headings, from, tries, kCaution));
    } catch (const std::domain_error&) {
        return search_nominal(of, sketch, problem);  // what the method refuses, nothing tries
    }
}

CellAnswer tell_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                     const SearchedCell& searched, const JobDraws* drawn,
                     const TradeSettings& settings) {
    const Job job = job_of_cell(of, tool), open_job = open_job_of_cell(of, tool);
    CutProblem problem = trade_problem(of, job, tool, settings);
    if (drawn != nullptr) problem = with_draws(problem, *drawn);
    CutProblem open = problem;
    open.job = &open_job;
    const Pass& pass = problem.pass();
    CellAnswer cell;
    cell.headings =
        of.headings.searched
            ? judged_headings(problem, representative_speeds(*of.job, pass), of.usual_depth)
            : of.headings;
    const double heading = cell.headings.stability;
    const StabilityLimits at_speed =
        limits_at_heading(problem, heading, {pass.speed.value_or(of.speeds.back())});
    // Where the method refuses the case, check tries nothing either.
    const CutTries tries =
        at_speed.fallback.empty() ? cut_tries(problem, cell.headings) : CutTries{};
    cell.best = confirmed_speed(open, cell.headings,
                                found_again(open, cell.headings, searched, sketch, tries), tries);
    if (cell.best) {
        cell.removal = removed_by(of) * cell.best->speed.radians_per_second * cell.best->depth;
        SpeedLimit there;
        there.speed = cell.best->speed;
        there.limit = cell.best->limit;
        cell.at_best = judge_cut(open, cell.headings, tries, there, cell.best->depth, 1);
        cell.sings_hertz =
            limits_at_heading(problem, heading, {there.speed}).speeds.front().chatter_hertz;
        if (pass.tolerance && !tries.none()) {
            cell.finish = finish_stock(open, cell.headings, there.speed, cell.best->depth);
        }
    }
    const double half = deepest_cut(problem.tool_chain().cutter) / 2;
    cell.speed = pass.speed.value_or(cell.best ? cell.best->speed : of.speeds.back());
    cell.limit = at_speed.speeds.front().speed == cell.speed
                     ? at_speed.speeds.front()
                     : limits_at_heading(problem, heading, {cell.speed}).speeds.front();
    cell.depth = pass.axial.value_or(cell.best ? cell.best->depth
                                               : std::min(half, cell.limit.limit.value_or(half)));
    cell.answer = judge_cut(problem, cell.headings, tries, cell.limit, cell.depth);
    return cell;
}

SpeedLimit least_about(const TradePassCase& of, const TradedTool& tool, const Headings& headings,
                       SpindleSpeed speed, const TradeSettings& settings) {
    return limit_about(trade_problem(of, *of.job, tool, settings), headings.stability, speed);
}

}  // namespace standfast
