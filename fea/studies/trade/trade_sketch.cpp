#include "fea/studies/trade/trade_sketch.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/equation/square_corner.hpp"
#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/judgement/speed/best_speed.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"

namespace standfast {
namespace {

constexpr int kShifts = 9;

void leave_small_corner_out(CutProblem& problem) {
    CutterGeometry& cutter = problem.cut.cutter;
    cutter = with_small_corner_square(cutter, depth_for_corner(cutter));
}

std::vector<std::optional<double>> averaged(const TradePassCase& of, const TradedTool& tool,
                                            const std::vector<SpindleSpeed>& speeds) {
    CutProblem problem = sketch_problem(of, tool, true);
    leave_small_corner_out(problem);
    std::vector<std::optional<double>> limits;
    for (const SpeedLimit& at :
         ranking_limits(problem, of.headings.stability, speeds, of.usual_depth).speeds) {
        limits.push_back(at.limit);
    }
    return limits;
}

/// A limit over speeds, by linear interpolation in 1/rpm; beyond the ends that of the end.
class LimitsOverSpeeds {
public:
    LimitsOverSpeeds(const std::vector<SpindleSpeed>& speeds,
                     const std::vector<std::optional<double>>& limits, double none)
        : speeds_(speeds) {
        for (const std::optional<double>& limit : limits) depth_.push_back(limit.value_or(none));
    }

    double at(double speed) const {
        const auto above = std::lower_bound(
            speeds_.begin(), speeds_.end(), speed,
            [](SpindleSpeed one, double wanted) { return one.radians_per_second < wanted; });
        if (above == speeds_.begin()) return depth_.front();
        if (above == speeds_.end()) return depth_.back();
        const auto i = static_cast<std::size_t>(above - speeds_.begin());
        const double low = 1 / speeds_[i - 1].radians_per_second;
        const double high = 1 / speeds_[i].radians_per_second;
        return depth_[i - 1] + (1 / speed - low) / (high - low) * (depth_[i] - depth_[i - 1]);
    }

private:
    const std::vector<SpindleSpeed>& speeds_;
    std::vector<double> depth_;
};

/// Limit at a speed that all but so large a share of the tries keep, as if these differed in
/// frequency alone: a pocket moves with it.
double kept_by_most(const LimitsOverSpeeds& limits, double speed, double spread, double share) {
    if (!(spread > 0)) return limits.at(speed);
    std::vector<double> moved;
    for (int i = 0; i < kShifts; ++i) {
        const double by = spread * normal_quantile((i + 0.5) / kShifts);
        moved.push_back(limits.at(speed * std::exp(-by)));
    }
    const auto lost = static_cast<std::ptrdiff_t>(share * kShifts);
    std::nth_element(moved.begin(), moved.begin() + lost, moved.end());
    return moved[static_cast<std::size_t>(lost)];
}

/// What the sketch lets one hope of every offered speed.
std::vector<HopedSpeed> hopes_of(const TradePassCase& of, const CutProblem& problem,
                                 const CellSketch& sketch) {
    const double deepest = deepest_cut(problem.tool_chain().cutter);
    const double error = std::abs(static_wall_error(problem, of.headings.error, of.usual_depth));
    const double within_error = error_depth(of, error);
    const LimitsOverSpeeds limits(of.speeds, sketch.limits, problem.searched_to);
    const double share = of.job->limits.chatter_probability_marginal;
    std::vector<HopedSpeed> hopes;
    for (const SpindleSpeed speed : of.speeds) {
        if (!of.offered.contains(speed)) continue;
        const double kept = kept_by_most(limits, speed.radians_per_second, of.spread, share);
        // The tries bring their own margin.
        const double depth =
            of.spread > 0 ? std::min(kept, deepest) : chatter_depth(of, kept, deepest);
        hopes.push_back({.speed = speed, .depth = std::min(depth, within_error), .most = deepest});
    }
    return hopes;
}

/// None where periodic does not serve.
bool by_periodic(const CutProblem& problem, const TradeSettings& settings) {
    return settings.method == StabilityMethod::periodic && !nothing_gives(problem) &&
           problem.cut.cutter.evenly_spaced();
}

/// The limit at the speed that is told.
std::optional<double> told_limit(const TradePassCase& of, const TradedTool& tool,
                                 const TradeSettings& settings, SpindleSpeed speed) {
    const CutProblem problem = sketch_problem(of, tool, false);
    if (by_periodic(problem, settings)) {
        return EdgeLimits(delay_system(problem, of.headings.stability), problem.searched_to)
            .limit(speed)
            .limit;
    }
    const bool averaged = settings.method == StabilityMethod::zero_order;
    const CutProblem sampled =
        averaged ? sketch_problem(of, tool, true) : trade_problem(of, *of.job, tool, settings);
    return limits_at_heading(sampled, of.headings.stability, {speed}).speeds.front().limit;
}

std::vector<std::optional<double>> by_method(const TradePassCase& of, const TradedTool& tool,
                                             const TradeSettings& settings) {
    const CutProblem problem = trade_problem(of, *of.job, tool, settings);
    std::vector<std::optional<double>> limits;
    for (const SpeedLimit& at :
         limits_at_heading(problem, of.headings.stability, of.speeds).speeds) {
        limits.push_back(at.limit);
    }
    return limits;
}

}  // namespace

CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool, bool rank,
                       const TradeSettings& settings) {
    CellSketch sketch;
    sketch.every_speed = settings.every_speed && rank;
    const std::optional<SpindleSpeed> programmed = of.cut().speed;
    sketch.told = programmed.value_or(of.speeds.back());
    if (rank) {
        sketch.limits = averaged(of, tool, of.speeds);
        CutProblem problem = sketch_problem(of, tool, false);
        leave_small_corner_out(problem);
        sketch.hopes = hopes_of(of, problem, sketch);
        for (const HopedSpeed& one : sketch.hopes) {
            if (one.worth() <= sketch.worth) continue;
            sketch.worth = one.worth();
            if (!programmed) sketch.told = one.speed;
        }
        if (sketch.every_speed) sketch.limits = by_method(of, tool, settings);
    }
    sketch.limit = told_limit(of, tool, settings, sketch.told);
    return sketch;
}

}  // namespace standfast
