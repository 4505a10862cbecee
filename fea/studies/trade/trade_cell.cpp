#include "fea/studies/trade/trade_cell.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/speed/best_speed.hpp"

namespace standfast {
namespace {

// So often the best speed of the sketch is looked for and confirmed; one that keeps so much of
// what the sketch promised ends the search.
constexpr int kRounds = 5;
constexpr double kHolds = 0.9;

double worth_of(const Recommendation& r) { return r.speed.radians_per_second * r.depth; }

/// Limits of one cell at one heading.
class CellLimits {
public:
    CellLimits(const CutProblem& problem, double heading) : problem_(problem), heading_(heading) {}

    SpeedLimit at(SpindleSpeed speed) const { return over({speed}).front(); }

    /// The smallest over half a least band either side: a spindle is never at its number exactly.
    SpeedLimit about(SpindleSpeed speed) const {
        const double half = problem_.job->limits.least_band / 2;
        const std::vector<SpeedLimit> three = over({speed,
                                                    {speed.radians_per_second * (1 - half)},
                                                    {speed.radians_per_second * (1 + half)}});
        SpeedLimit least = three.front();
        for (const SpeedLimit& one : three) {
            if (one.limit && (!least.limit || *one.limit < *least.limit)) least.limit = one.limit;
        }
        return least;
    }

private:
    std::vector<SpeedLimit> over(const std::vector<SpindleSpeed>& speeds) const {
        return limits_at_heading(problem_, heading_, speeds).speeds;
    }

    const CutProblem& problem_;
    double heading_;
};

StabilityLimits as_limits(const CutProblem& problem, const std::vector<SpeedLimit>& speeds) {
    return {.method = problem.method, .searched_to = problem.searched_to, .speeds = speeds};
}

/// The best of the sketch's speeds, confirmed by the problem's own method: one that does not hold
/// there gets the confirmed limit, and the next best is looked for.
std::optional<Recommendation> confirmed_best(const CutProblem& open, const TradePassCase& of,
                                             const CellSketch& sketch, const Headings& headings,
                                             const CellLimits& whole) {
    std::vector<SpeedLimit> speeds(of.speeds.size());
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        speeds[i].speed = of.speeds[i];
        speeds[i].limit = sketch.limits[i];
    }
    std::optional<Recommendation> best;
    for (int round = 0; round < kRounds; ++round) {
        const auto hoped =
            best_speed_and_depth(open, headings, as_limits(open, speeds), of.offered);
        if (!hoped || (best && worth_of(*hoped) <= worth_of(*best))) break;
        const SpeedLimit confirmed = whole.about(hoped->speed);
        const auto found = best_depth_at(open, headings, confirmed);
        if (found && (!best || worth_of(*found) > worth_of(*best))) best = found;
        if (found && worth_of(*found) >= kHolds * worth_of(*hoped)) break;
        for (SpeedLimit& at : speeds) {
            if (at.speed == hoped->speed) at.limit = confirmed.limit;
        }
    }
    return best;
}

}  // namespace

CellAnswer work_out_cell(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                         const TradeSettings& settings) {
    const Job job = job_of_cell(of, tool);
    const CutProblem problem = trade_problem(of, job, tool, settings);
    const Pass& pass = problem.pass();
    CellAnswer cell;
    cell.headings =
        of.headings.searched
            ? judged_headings(problem, representative_speeds(*of.job, pass), of.usual_depth)
            : of.headings;
    CutProblem open = problem;
    open.job = of.open;
    const CellLimits whole(problem, cell.headings.stability);
    cell.best = confirmed_best(open, of, sketch, cell.headings, whole);
    if (cell.best) {
        cell.removal = pass.radial * cell.best->depth * of.feed_per_revolution *
                       cell.best->speed.revolutions_per_second();
    }
    const double half = deepest_cut(problem.tool_chain().cutter) / 2;
    cell.speed = pass.speed.value_or(cell.best ? cell.best->speed : of.speeds.back());
    cell.limit = whole.at(cell.speed);
    cell.depth = pass.axial.value_or(cell.best ? cell.best->depth
                                               : std::min(half, cell.limit.limit.value_or(half)));
    cell.answer = answer_pass(problem, cell.headings, cell.limit, cell.depth);
    return cell;
}

SpeedLimit least_about(const TradePassCase& of, const TradedTool& tool, const Headings& headings,
                       SpindleSpeed speed, const TradeSettings& settings) {
    const CutProblem problem = trade_problem(of, *of.job, tool, settings);
    return CellLimits(problem, headings.stability).about(speed);
}

}  // namespace standfast
