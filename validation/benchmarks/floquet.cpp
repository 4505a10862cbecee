// One multiplier, a grid of them, limits along 400 speeds; one thread each. The dense peer of the
// grid is validation/peers/semi_discretization.py; validation/peers/compare_grid.py runs both.
#include <benchmark/benchmark.h>

#include <vector>

#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

void one_multiplier(benchmark::State& state) {
    const DelaySystem system = reference::benchmark_system(1, 0.05, Milling::down);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(static_cast<double>(state.range(0)));
    for (auto _ : state) {
        benchmark::DoNotOptimize(largest_multiplier(system, speed, 2e-3, 1e-4));
    }
}
BENCHMARK(one_multiplier)->Arg(5000)->Arg(7500)->Arg(10000)->Unit(benchmark::kMicrosecond);

void grid_of_20000(benchmark::State& state) {
    const DelaySystem system = reference::benchmark_system(1, 0.05, Milling::down);
    for (auto _ : state) {
        int stable = 0;
        for (int i = 0; i < 200; ++i) {
            const SpindleSpeed speed = SpindleSpeed::from_rpm(5000 + 25 * (i + 0.5));
            for (int j = 0; j < 100; ++j) {
                stable += largest_multiplier(system, speed, 1e-4 * (j + 0.5), 1e-4).radius() < 1;
            }
        }
        state.counters["stable_cells"] = stable;
    }
}
BENCHMARK(grid_of_20000)->Unit(benchmark::kMillisecond);

// Seven modes, helix 38 deg, 6 % immersion, 2000 to 10000 rpm even in 1/rpm; islands to the given
// percentage of the limit.
void limits_at_400_speeds(benchmark::State& state) {
    const DelaySystem system = reference::m1_system(38, 0.06);
    const double islands_to = static_cast<double>(state.range(0)) / 100;
    for (auto _ : state) {
        double sum = 0;
        for (int k = 0; k < 400; ++k) {
            const double rpm = 1 / (1 / 10000.0 + (1 / 2000.0 - 1 / 10000.0) * k / 399);
            const SpeedLimit limit =
                periodic_limit(system, SpindleSpeed::from_rpm(rpm), 0.06, islands_to);
            sum += limit.limit.value_or(0);
        }
        benchmark::DoNotOptimize(sum);
    }
}
BENCHMARK(limits_at_400_speeds)->Arg(100)->Arg(200)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace standfast
