#include "fea/studies/trade/trade_choice.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace standfast {
namespace {

constexpr double kSame = 1e-6;
constexpr double kTie = 1.01;

/// Calls each(sketched, searched) for every stickout that has both.
template <class Each>
void for_both(const std::vector<TimedStickout>& sketched,
              const std::vector<TimedStickout>& searched, const Each& each) {
    for (const TimedStickout& one : searched) {
        for (const TimedStickout& sketch : sketched) {
            const bool timed = std::isfinite(one.time) && std::isfinite(sketch.time);
            if (sketch.index == one.index && timed && one.time > 0 && sketch.time > 0) {
                each(sketch.time, one.time);
            }
        }
    }
}

}  // namespace

double pass_time(double work, double removal) { return removal > 0 ? work / removal : HUGE_VAL; }

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

double sketched_time(const TradePassCase& of, const PassSketches& pass, std::size_t stickout) {
    const double per_depth = of.cut().radial * of.feed_per_revolution;
    return pass_time(pass.work, per_depth * pass.cells[stickout].worth / (2 * std::numbers::pi));
}

std::vector<TimedStickout> by_promise(const std::vector<TradePassCase>& cases,
                                      const std::vector<PassSketches>& passes,
                                      const std::vector<std::size_t>& allowed) {
    std::vector<TimedStickout> list;
    for (const std::size_t index : allowed) {
        TimedStickout one{.index = index};
        for (std::size_t p = 0; p < passes.size(); ++p) {
            one.time += sketched_time(cases[p], passes[p], index);
        }
        list.push_back(one);
    }
    std::stable_sort(list.begin(), list.end(), [](const TimedStickout& a, const TimedStickout& b) {
        return a.time < b.time;
    });
    return list;
}

std::vector<TimedStickout> as_it_turned_out(std::vector<TimedStickout> sketched,
                                            const std::vector<TimedStickout>& searched) {
    double sum = 0;
    int count = 0;
    for_both(sketched, searched, [&](double sketch, double found) {
        sum += std::log(found / sketch);
        ++count;
    });
    const double factor = count > 0 ? std::exp(sum / count) : 1;
    for (TimedStickout& one : sketched) one.time *= factor;
    return sketched;
}

double too_slow_at_worst(const std::vector<TimedStickout>& sketched,
                         const std::vector<TimedStickout>& searched) {
    double worst = 0;
    for_both(sketched, searched,
             [&](double sketch, double found) { worst = std::max(worst, sketch / found - 1); });
    return worst;
}

double would_have_to_be_off(const TimedStickout& sketched, double time) {
    if (!std::isfinite(sketched.time)) return HUGE_VAL;
    if (!std::isfinite(time)) return 0;
    return std::max(0.0, sketched.time / time - 1);
}

std::size_t best_stickout(const std::vector<TimedStickout>& searched) {
    double least = HUGE_VAL;
    for (const TimedStickout& one : searched) least = std::min(least, one.time);
    std::size_t best = 0;
    while (best + 1 < searched.size() && searched[best].time > kTie * least) ++best;
    return best;
}

}  // namespace standfast
