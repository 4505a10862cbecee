#include "fea/studies/trade/trade_sketch.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/equation/square_corner.hpp"
#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/speed/at_speed.hpp"
#include "fea/judgement/speed/best_speed.hpp"

namespace standfast {
namespace {

// Just inside the threshold at which an error is flagged.
constexpr double kInside = 0.999;
constexpr int kHeights = 5;
constexpr double kHope = 1.1;
// Most limits asked of the method for one cell.
constexpr int kMostAsked = 8;

/// Depth, m, at which a motion that grows in proportion to depth is not flagged yet, by wall error
/// or by resonance.
double motion_depth(const TradePassCase& of, const WallMotion& motion, double slow) {
    const Limits& limits = of.job->limits;
    double depth = error_depth(of, std::abs(motion.largest_error));
    const bool rings = motion.peak_to_peak >= limits.resonance_gain_marginal * slow;
    if (rings && motion.peak_to_peak > 0) {
        depth = std::min(depth, of.usual_depth * limits.resonance_least / motion.peak_to_peak);
    }
    return depth * kInside;
}

std::optional<double> limit_of(const CellSketch& sketch, SpindleSpeed speed) {
    return sketch.search->limit(speed).limit;
}

/// The depths of one cell over its speeds while they are being found out.
class Depths {
public:
    Depths(const TradePassCase& of, const CutProblem& problem, double error)
        : of_(of),
          problem_(problem),
          deepest_(deepest_cut(problem.tool_chain().cutter)),
          within_error_(error_depth(of, error)),
          known_(of.speeds.size(), false),
          moved_(of.speeds.size(), false),
          cap_(of.speeds.size(), HUGE_VAL) {}

    /// Looks at the most hopeful speeds until none that is not known can be worth more.
    void find_worth(CellSketch& sketch) {
        sketch.usable.resize(of_.speeds.size());
        const bool to_ask = sketch.search && !sketch.every_speed;
        if (!to_ask) known_.assign(known_.size(), true);
        for (std::size_t i = 0; i < known_.size(); ++i) set(sketch, i);
        int asked = 0;
        for (;;) {
            const std::size_t best = most_hopeful(sketch);
            if (!(hope(sketch, best) > sketch.worth)) break;
            if (!moved_[best]) {
                look_at_motion(best);
                set(sketch, best);
            } else if (!known_[best] && asked < kMostAsked) {
                ask(sketch, best);
                ++asked;
            } else {
                known_[best] = true;
                sketch.worth = std::max(sketch.worth, worth(sketch, best));
            }
        }
        for (std::size_t i = 0; i < known_.size(); ++i) {
            if (!known_[i] && sketch.limits[i]) *sketch.limits[i] *= ratio_;
        }
    }

private:
    void ask(CellSketch& sketch, std::size_t i) {
        const std::optional<double> averaged = sketch.limits[i];
        sketch.limits[i] = limit_of(sketch, of_.speeds[i]);
        known_[i] = true;
        const double most = sketch.searched_to;
        ratio_ = std::max(ratio_, sketch.limits[i].value_or(most) / averaged.value_or(most));
        set(sketch, i);
    }
    double worth(const CellSketch& sketch, std::size_t i) const {
        return of_.speeds[i].radians_per_second * sketch.usable[i];
    }
    double hope(const CellSketch& sketch, std::size_t i) const {
        if (known_[i]) return worth(sketch, i);
        std::optional<double> limit = sketch.limits[i];
        if (limit) *limit *= kHope * ratio_;
        const double depth = chatter_depth(of_, limit, deepest_);
        return offered(i)
                   ? of_.speeds[i].radians_per_second * std::min({depth, within_error_, cap_[i]})
                   : 0;
    }
    bool offered(std::size_t i) const { return of_.offered.contains(of_.speeds[i]); }
    std::size_t most_hopeful(const CellSketch& sketch) const {
        std::size_t best = 0;
        double most = -1;
        for (std::size_t i = 0; i < known_.size(); ++i) {
            const double here = hope(sketch, i);
            if (here <= most) continue;
            most = here;
            best = i;
        }
        return best;
    }
    void set(CellSketch& sketch, std::size_t i) const {
        const double depth = chatter_depth(of_, sketch.limits[i], deepest_);
        sketch.usable[i] = offered(i) ? std::min({depth, within_error_, cap_[i]}) : 0;
    }
    void look_at_motion(std::size_t i) {
        if (!slow_) {
            slow_ =
                slow_answer(problem_, of_.headings, of_.usual_depth, of_.speeds.front(), kHeights);
        }
        cap_[i] = motion_depth(of_, slow_->motions->at(of_.speeds[i]), slow_->slow_vibration);
        moved_[i] = true;
    }

    const TradePassCase& of_;
    const CutProblem& problem_;
    double deepest_, within_error_;
    std::vector<bool> known_, moved_;
    std::vector<double> cap_;  // m, of the motion, which grows with depth
    double ratio_ = 1;         // largest limit over averaged limit seen, 1 at least
    std::optional<SlowAnswer> slow_;
};

void leave_small_corner_out(CutProblem& problem) {
    CutterGeometry& cutter = problem.cut.cutter;
    cutter = with_small_corner_square(cutter, depth_for_corner(cutter));
}

/// None where periodic does not serve: then zero-order ranks, as where it is the method.
std::shared_ptr<const EdgeLimits> search_of(const CutProblem& problem, const TradePassCase& of,
                                            const TradeSettings& settings) {
    if (settings.method == StabilityMethod::zero_order || nothing_gives(problem) ||
        !problem.cut.cutter.evenly_spaced()) {
        return nullptr;
    }
    return std::make_shared<const EdgeLimits>(delay_system(problem, of.headings.stability),
                                              problem.searched_to);
}

/// Limits to start from, over the case's speeds and then the programmed one.
std::vector<SpeedLimit> first_limits(const TradePassCase& of, const TradedTool& tool,
                                     const std::vector<SpindleSpeed>& speeds,
                                     const TradeSettings& settings, const CellSketch& sketch) {
    if (sketch.every_speed) {
        const CutProblem problem = trade_problem(of, *of.job, tool, settings);
        return limits_at_heading(problem, of.headings.stability, speeds).speeds;
    }
    CutProblem problem = sketch_problem(of, tool, true);
    leave_small_corner_out(problem);
    return ranking_limits(problem, of.headings.stability, speeds, of.usual_depth).speeds;
}

std::size_t best_of(const TradePassCase& of, const CellSketch& sketch) {
    std::size_t best = 0;
    for (std::size_t i = 1; i < sketch.usable.size(); ++i) {
        if (of.speeds[i].radians_per_second * sketch.usable[i] >
            of.speeds[best].radians_per_second * sketch.usable[best]) {
            best = i;
        }
    }
    return best;
}

/// The limit at the speed that is told.
std::optional<double> told_limit(const TradePassCase& of, const TradedTool& tool,
                                 const TradeSettings& settings, const CellSketch& sketch) {
    if (sketch.search) return limit_of(sketch, sketch.told);
    const bool averaged = settings.method == StabilityMethod::zero_order;
    const CutProblem problem =
        averaged ? sketch_problem(of, tool, true) : trade_problem(of, *of.job, tool, settings);
    return limits_at_heading(problem, of.headings.stability, {sketch.told}).speeds.front().limit;
}

}  // namespace

CellSketch sketch_cell(const TradePassCase& of, const TradedTool& tool, bool rank,
                       const TradeSettings& settings) {
    CellSketch sketch;
    sketch.every_speed = settings.every_speed && rank;
    CutProblem problem = sketch_problem(of, tool, false);
    const Pass& pass = problem.pass();
    // Of a cell that may not be chosen, only the limit that is told is wanted.
    std::vector<SpindleSpeed> speeds = rank ? of.speeds : std::vector<SpindleSpeed>{};
    if (pass.speed || !rank) speeds.push_back(pass.speed.value_or(of.speeds.back()));
    sketch.search = search_of(problem, of, settings);
    sketch.searched_to = problem.searched_to;
    leave_small_corner_out(problem);
    const std::vector<SpeedLimit> first = first_limits(of, tool, speeds, settings, sketch);
    for (std::size_t i = 0; rank && i < of.speeds.size(); ++i) {
        sketch.limits.push_back(first[i].limit);
    }

    const double error = std::abs(static_wall_error(problem, of.headings.error, of.usual_depth));
    if (rank) Depths(of, problem, error).find_worth(sketch);
    const std::size_t told = pass.speed || !rank ? speeds.size() - 1 : best_of(of, sketch);
    sketch.told = speeds[told];
    sketch.limit = sketch.every_speed ? first[told].limit : told_limit(of, tool, settings, sketch);
    if (pass.speed && pass.axial) {
        const Limits& levels = of.job->limits;
        sketch.level = std::max(judge_chatter(*pass.axial, sketch.limit, levels).level,
                                judge_error(error, pass, levels).level);
    }
    return sketch;
}

}  // namespace standfast
