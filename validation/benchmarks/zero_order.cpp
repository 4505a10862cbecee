// Zero-order limits at 400 speeds, seven modes of tool and part, and the stable motion beside.

#include <benchmark/benchmark.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "fea/chatter/limits/zero_order.hpp"
#include "fea/chatter/motion/surface_error.hpp"

namespace standfast {
namespace {

struct Mode {
    double hertz, damping, stiffness, ux, uy;
};

ModalReceptance tool_and_part() {
    ModalReceptance receptance;
    for (const Mode& mode : std::vector<Mode>{{780, 0.035, 2.2e7, 1, 0},
                                              {1650, 0.022, 9.0e6, 1, 0},
                                              {745, 0.038, 1.9e7, 0, 1},
                                              {1590, 0.024, 8.2e6, 0, 1},
                                              {355, 0.030, 3.1e7, 1, 0},
                                              {310, 0.028, 2.6e7, 0, 1},
                                              {905, 0.018, 3.4e7, 0.6, 0.8}}) {
        const AngularFrequency w = AngularFrequency::from_hertz(mode.hertz);
        const double scale = w.radians_per_second / std::sqrt(mode.stiffness);
        receptance.terms.push_back({w, mode.damping, Eigen::Vector3d(mode.ux, mode.uy, 0) * scale});
    }
    return receptance;
}

DelaySystem wall_cut(double corner_radius) {
    DelaySystem system;
    system.receptance = tool_and_part();
    system.cutter.diameter = 0.012;
    system.cutter.helix = 38 * std::numbers::pi / 180;
    system.cutter.corner_radius = corner_radius;
    for (int tooth = 0; tooth < 4; ++tooth)
        system.cutter.tooth_angle.push_back(std::numbers::pi / 2 * tooth);
    system.engagement = engagement(Milling::down, 0.06 * 0.012, 0.012);
    system.law.tangential = 1650e6;
    system.law.radial = 0.45 * 1650e6;
    return system;
}

SampledReceptance samples(const ModalReceptance& receptance) {
    return sample_receptance([&](AngularFrequency w) { return receptance_at(receptance, w); },
                             receptance.terms, AngularFrequency::from_hertz(8000));
}

std::vector<SpindleSpeed> even_in_inverse_speed(int count) {
    std::vector<SpindleSpeed> speeds;
    for (int i = 0; i < count; ++i) {
        const double share = static_cast<double>(i) / (count - 1);
        speeds.push_back(SpindleSpeed::from_rpm(1 / ((1 - share) / 2000 + share / 20000)));
    }
    return speeds;
}

void zero_order(benchmark::State& state, double corner_radius, double second_tooth) {
    DelaySystem system = wall_cut(corner_radius);
    system.cutter.tooth_angle[1] = second_tooth;
    const SampledReceptance receptance = samples(system.receptance);
    const std::vector<SpindleSpeed> speeds = even_in_inverse_speed(400);
    for (auto _ : state)
        benchmark::DoNotOptimize(zero_order_limits(system, receptance, speeds, 0.06));
    state.counters["samples"] = static_cast<double>(receptance.frequency.size());
}

void surface_error(benchmark::State& state, double helix_degrees) {
    const DelaySystem system = wall_cut(0);
    RigidCut cut{system.cutter, system.engagement, system.law, 0.05e-3, 2.4e-3};
    cut.cutter.helix = helix_degrees * std::numbers::pi / 180;
    const std::vector<double> heights = {0, 0.6e-3, 1.2e-3, 1.8e-3, 2.4e-3};
    for (auto _ : state)
        for (const SpindleSpeed speed : even_in_inverse_speed(40))
            benchmark::DoNotOptimize(stable_motion(system.receptance, cut, speed, heights));
}

const double quarter_turn = std::numbers::pi / 2;
BENCHMARK_CAPTURE(zero_order, square_corner_400_speeds, 0.0, quarter_turn)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(zero_order, uneven_pitch_400_speeds, 0.0, quarter_turn + 0.05)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(zero_order, ball_400_speeds, 0.006, quarter_turn)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(surface_error, helix_40_speeds, 38.0)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(surface_error, straight_40_speeds, 0.0)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace standfast
