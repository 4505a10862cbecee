#include "fea/judgement/cut/speed_grid.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

double local_value(const SpeedLimit& limit) {
    return limit.limit.value_or(std::numeric_limits<double>::infinity());
}

SpindleSpeed midway(SpindleSpeed a, SpindleSpeed b) {
    return {2 / (1 / a.radians_per_second + 1 / b.radians_per_second)};
}

}  // namespace

std::vector<SpindleSpeed> default_speeds(SpindleSpeed slowest, SpindleSpeed fastest, int count) {
    require_positive(slowest.radians_per_second, "default_speeds", "slowest speed");
    require_between(slowest.radians_per_second, 0, fastest.radians_per_second, "default_speeds",
                    "slowest speed");
    require_between(count, 2, 1e7, "default_speeds", "count");
    const double low = slowest.radians_per_second, high = fastest.radians_per_second;
    if (low == high) return {slowest};
    const auto share = [&](double n) {
        return 0.5 * (1 / low - 1 / n) / (1 / low - 1 / high) +
               0.5 * std::log(n / low) / std::log(high / low);
    };
    std::vector<SpindleSpeed> speeds{slowest};
    for (int i = 1; i < count - 1; ++i) {
        const double wanted = static_cast<double>(i) / (count - 1);
        double below = speeds.back().radians_per_second, above = high;
        while (above - below > 1e-12 * above) {
            const double middle = (below + above) / 2;
            (share(middle) < wanted ? below : above) = middle;
        }
        speeds.push_back({above});
    }
    speeds.push_back(fastest);
    return speeds;
}

std::vector<SpindleSpeed> speeds_near_minima(const StabilityLimits& limits, int count) {
    const std::vector<SpeedLimit>& at = limits.speeds;
    std::vector<std::size_t> minima;
    for (std::size_t i = 1; i + 1 < at.size(); ++i) {
        if (at[i].limit && *at[i].limit <= local_value(at[i - 1]) &&
            *at[i].limit <= local_value(at[i + 1])) {
            minima.push_back(i);
        }
    }
    std::stable_sort(minima.begin(), minima.end(),
                     [&](std::size_t a, std::size_t b) { return *at[a].limit < *at[b].limit; });
    std::vector<SpindleSpeed> added;
    for (const std::size_t i : minima) {
        if (static_cast<int>(added.size()) + 2 > count) break;
        added.push_back(midway(at[i - 1].speed, at[i].speed));
        added.push_back(midway(at[i].speed, at[i + 1].speed));
    }
    return added;
}

std::vector<SpindleSpeed> merge_speeds(std::vector<SpindleSpeed> a,
                                       const std::vector<SpindleSpeed>& b) {
    a.insert(a.end(), b.begin(), b.end());
    std::sort(a.begin(), a.end());
    a.erase(std::unique(a.begin(), a.end()), a.end());
    return a;
}

}  // namespace standfast
