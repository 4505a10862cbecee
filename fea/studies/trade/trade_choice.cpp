#include "fea/studies/trade/trade_choice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace standfast {
namespace {

constexpr double kSame = 1e-6;
constexpr double kTie = 1.03;

SketchedStickout sketched_stickout(const std::vector<TradePassCase>& cases,
                                   const std::vector<PassSketches>& passes, std::size_t index) {
    SketchedStickout sketched{.index = index};
    for (std::size_t p = 0; p < passes.size(); ++p) {
        const CellSketch& cell = passes[p].cells[index];
        const double per_depth = cases[p].cut().radial * cases[p].feed_per_revolution;
        const double turns = cell.worth / (2 * std::numbers::pi);
        sketched.avoid = sketched.avoid || cell.level == Level::avoid;
        sketched.time += pass_time(passes[p].section, per_depth * turns);
    }
    return sketched;
}

bool better(const SketchedStickout& a, const SketchedStickout& b) {
    if (a.avoid != b.avoid) return !a.avoid;
    return a.time < b.time;
}

}  // namespace

double pass_time(double section, double removal) {
    return removal > 0 ? section / removal : HUGE_VAL;
}

std::vector<std::size_t> allowed_stickouts(const std::vector<PassSketches>& passes,
                                           const std::vector<double>& stickouts, double own) {
    std::vector<std::size_t> allowed;
    for (std::size_t s = 0; s < stickouts.size(); ++s) {
        const bool fits = std::all_of(passes.begin(), passes.end(), [&](const PassSketches& pass) {
            return pass.clear[s].value_or(stickouts[s] >= own - kSame);
        });
        if (fits) allowed.push_back(s);
    }
    return allowed;
}

std::vector<SketchedStickout> by_promise(const std::vector<TradePassCase>& cases,
                                         const std::vector<PassSketches>& passes,
                                         const std::vector<std::size_t>& allowed) {
    std::vector<SketchedStickout> list;
    for (const std::size_t index : allowed) list.push_back(sketched_stickout(cases, passes, index));
    std::stable_sort(list.begin(), list.end(), better);
    return list;
}

double too_slow_at_worst(const std::vector<SketchedStickout>& sketched,
                         const std::vector<WorkedStickout>& worked) {
    double worst = 0;
    for (const WorkedStickout& one : worked) {
        for (const SketchedStickout& sketch : sketched) {
            if (sketch.index == one.index && std::isfinite(one.time) && one.time > 0) {
                worst = std::max(worst, sketch.time / one.time - 1);
            }
        }
    }
    return worst;
}

double would_have_to_be_off(const SketchedStickout& sketched, const WorkedStickout& best) {
    if (sketched.avoid && best.level != Level::avoid) return HUGE_VAL;
    if (!sketched.avoid && best.level == Level::avoid) return 0;
    if (!std::isfinite(sketched.time)) return HUGE_VAL;
    if (!std::isfinite(best.time)) return 0;
    return std::max(0.0, sketched.time / best.time - 1);
}

std::size_t best_stickout(const std::vector<WorkedStickout>& worked) {
    std::size_t best = 0;
    const auto avoid = [&](std::size_t i) { return worked[i].level == Level::avoid; };
    for (std::size_t i = 1; i < worked.size(); ++i) {
        const bool safer = avoid(best) && !avoid(i);
        const bool quicker = avoid(best) == avoid(i) && worked[i].time * kTie < worked[best].time;
        if (safer || quicker) best = i;
    }
    return best;
}

}  // namespace standfast
