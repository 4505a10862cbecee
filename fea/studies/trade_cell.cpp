#include "fea/studies/trade_cell.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/best_speed.hpp"

namespace standfast {
namespace {

// So often the best speed of the sketch is looked for and confirmed; one that keeps so much of
// what the sketch promised ends the search.
constexpr int kRounds = 5;
constexpr double kHolds = 0.9;

double worth_of(const Recommendation& r) { return r.speed.radians_per_second * r.depth; }

/// Limits on all modes of one cell at one heading.
class WholeLimits {
public:
    WholeLimits(const CutProblem& problem, const CellSketch& sketch, double sketched_heading,
                double heading)
        : problem_(problem), heading_(heading), search_(sketch.search) {
        if (search_ && heading != sketched_heading) {
            search_ = std::make_shared<const BandSearch>(delay_system(problem, heading),
                                                         std::vector<SpindleSpeed>{},
                                                         problem.searched_to, kSketchCoarser);
        }
    }

    SpeedLimit at(SpindleSpeed speed) { return over({speed}).front(); }

    /// The smallest over half a least band either side: a spindle is never at its number exactly.
    /// Away from the middle it is that on mode bands, put right as the middle was.
    SpeedLimit about(SpindleSpeed speed) {
        const double half = problem_.job->limits.least_band / 2;
        const std::vector<SpindleSpeed> sides = {{speed.radians_per_second * (1 - half)},
                                                 {speed.radians_per_second * (1 + half)}};
        SpeedLimit least = at(speed);
        for (const std::optional<double>& limit : beside(sides, least.limit)) {
            if (limit && (!least.limit || *limit < *least.limit)) least.limit = limit;
        }
        return least;
    }

    const std::vector<ComparedLimit>& compared() const { return compared_; }

private:
    std::vector<SpeedLimit> over(const std::vector<SpindleSpeed>& speeds) {
        if (!search_) return limits_at_heading(problem_, heading_, speeds).speeds;
        const BandSearch search = search_->at(speeds);
        std::vector<SpeedLimit> limits;
        for (std::size_t i = 0; i < speeds.size(); ++i) {
            const BandSearch::OnWhole found = search.on_whole(i, 1);
            limits.push_back(found.limit);
            off_ = 1;
            if (!found.on_bands || !found.limit.limit) continue;
            compared_.push_back({*found.on_bands, *found.limit.limit});
            off_ = *found.limit.limit / *found.on_bands;
        }
        return limits;
    }

    std::vector<std::optional<double>> beside(const std::vector<SpindleSpeed>& speeds,
                                              const std::optional<double>& middle) {
        std::vector<std::optional<double>> limits;
        if (!search_ || !middle) {
            for (const SpeedLimit& limit : over(speeds)) limits.push_back(limit.limit);
            return limits;
        }
        const BandSearch search = search_->at(speeds);
        for (std::size_t i = 0; i < speeds.size(); ++i) {
            limits.push_back(search.depth_on_bands(i));
            if (limits.back()) *limits.back() *= off_;
        }
        return limits;
    }

    const CutProblem& problem_;
    double heading_;
    std::shared_ptr<const BandSearch> search_;
    double off_ = 1;  // of the last limit, all modes to bands
    std::vector<ComparedLimit> compared_;
};

StabilityLimits as_limits(const CutProblem& problem, const std::vector<SpeedLimit>& speeds) {
    return {.method = problem.method, .searched_to = problem.searched_to, .speeds = speeds};
}

/// The best of the sketch's speeds, confirmed by the problem's own method: one that does not hold
/// there gets the confirmed limit, and the next best is looked for.
std::optional<Recommendation> confirmed_best(const CutProblem& open, const TradePassCase& of,
                                             const CellSketch& sketch, const Headings& headings,
                                             WholeLimits& whole) {
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
    WholeLimits whole(problem, sketch, of.headings.stability, cell.headings.stability);
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
    cell.compared = whole.compared();
    return cell;
}

SpeedLimit least_about(const TradePassCase& of, const TradedTool& tool, const CellSketch& sketch,
                       const Headings& headings, SpindleSpeed speed,
                       const TradeSettings& settings) {
    const CutProblem problem = trade_problem(of, *of.job, tool, settings);
    return WholeLimits(problem, sketch, of.headings.stability, headings.stability).about(speed);
}

}  // namespace standfast
