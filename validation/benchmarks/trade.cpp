// The trade of 20 risers, 15 stickouts and 3 passes, 60 speeds each: only the programmed speed and
// the neighbourhood of the best (the default), and every speed. All threads of the machine.
#include <benchmark/benchmark.h>

#include <vector>

#include "cli/job/read_job.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"
#include "fea/studies/trade/trade.hpp"
#include "fea/studies/trade/trade_reach.hpp"

namespace standfast {
namespace {

Job job_of_20_by_15_by_3() {
    ReadResult read = read_job("examples/02-small-part-tall-riser/job.toml");
    if (!read.job) throw std::runtime_error("run it from the top of the repository");
    Job job = std::move(*read.job);
    job.tools[0].cutter.overall = 0.12;
    job.tools[0].cutter.stickout = 0.028;  // one of the list, which stays at 15
    job.passes.push_back(job.passes[0]);
    job.passes[2].name = "again, lower";
    for (Eigen::Vector3d& place : job.passes[2].path) place.z() -= 0.012;
    job.trade = Trade{.tier = 1};
    for (int i = 0; i < 20; ++i) job.trade->heights.push_back(0.070 + 0.010 * i);
    for (int i = 0; i < 15; ++i) job.trade->stickouts.push_back(0.024 + 0.004 * i);
    return job;
}

void run(benchmark::State& state, TradeSettings settings) {
    const Job job = job_of_20_by_15_by_3();
    const std::unique_ptr<SolidDistance> distance = fcl_distance();
    settings.reach = reach_by_distance(*distance);
    settings.distance = distance.get();
    for (auto _ : state) {
        TradeStudy study(job, settings);
        for (std::size_t i = 0; i < study.grid().options.size(); ++i)
            benchmark::DoNotOptimize(study.option(i));
        state.counters["cells"] = static_cast<double>(study.count().cells);
        state.counters["worked_out"] = static_cast<double>(study.count().worked_out);
    }
}

void trade_as_by_default(benchmark::State& state) { run(state, {}); }
BENCHMARK(trade_as_by_default)->Unit(benchmark::kMillisecond)->UseRealTime();

void trade_without_draws(benchmark::State& state) { run(state, {.draws = 0}); }
BENCHMARK(trade_without_draws)->Unit(benchmark::kMillisecond)->UseRealTime();

void trade_zero_order(benchmark::State& state) {
    run(state, {.method = StabilityMethod::zero_order, .draws = 0});
}
BENCHMARK(trade_zero_order)->Unit(benchmark::kMillisecond)->UseRealTime();

void trade_at_every_speed(benchmark::State& state) { run(state, {.every_speed = true}); }
BENCHMARK(trade_at_every_speed)->Unit(benchmark::kMillisecond)->UseRealTime();

}  // namespace
}  // namespace standfast
