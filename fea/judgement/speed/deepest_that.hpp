#pragma once

#include <algorithm>
#include <cmath>
#include <optional>

namespace standfast {

/// Where a search over depths begins and ends, m.
struct DepthRange {
    double guess = 0;  ///< asked first
    double most = 0;
    double least = 0;  ///< > 0: nothing shallower is wanted, and this is asked before all others
};

/// The deepest cut within a range that holds, to 1 %, where a shallower one holds if a deeper one
/// does: away from the guess in growing steps, then by halving. None where none does, or only one
/// under 0.05 mm, which is no cut that a shop takes.
/// @param ask  of a depth, m: 1 where it holds, else by what factor it may have to be shallower
template <class Ask>
std::optional<double> deepest_that(const DepthRange& range, const Ask& ask) {
    constexpr double kFine = 1.01, kStep = 1.06, kMostStep = 2, kLeastDepth = 50e-6;
    const double least = std::max(range.least, std::min(kLeastDepth, range.most));
    if (range.most < least) return std::nullopt;
    double holds = 0, fails = HUGE_VAL, step = kStep;
    double depth = range.least > 0 ? least : std::clamp(range.guess, least, range.most);
    for (;;) {
        const double shallower_by = ask(depth);
        (shallower_by >= 1 ? holds : fails) = depth;
        if (holds == 0 && fails <= least) return std::nullopt;
        if (holds >= range.most || fails <= kFine * holds) return holds;
        if (holds > 0 && fails < HUGE_VAL) {
            depth = std::sqrt(holds * fails);
            continue;
        }
        const bool only_least = holds > 0 && range.least > 0 && holds <= least;
        const double next = holds == 0   ? depth * std::min(shallower_by, 1 / step)
                            : only_least ? std::max(range.guess, kStep * least)
                                         : depth * step;
        depth = std::clamp(next, least, range.most);
        step = std::min(step * step, kMostStep);
    }
}

}  // namespace standfast
