// Time of the structural solutions: modes of long stacks, one direct receptance, one assembly.
#include <benchmark/benchmark.h>

#include "fea/solution/modes.hpp"
#include "fea/solution/receptance.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {
namespace {

/// Table, riser and part on a joint, of so many elements in all; figures invented.
StructureModel stack(int elements) {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.2}, {0, 0, 0.2}, {0, 0, 0.3}};
    model.members = {{.name = "table", .kind = MemberKind::table},
                     {.name = "riser", .kind = MemberKind::tier},
                     {.name = "part joint", .kind = MemberKind::tier_joint},
                     {.name = "part", .kind = MemberKind::tier}};
    Material steel;
    steel.youngs_modulus = 205e9;
    steel.poissons_ratio = 0.29;
    steel.density = 7850;
    steel.loss_factor = 0.001;
    const auto add_run = [&](int member, int start, const Section& section) {
        BeamRun run;
        run.member = member;
        run.start.node = start;
        run.end.node = start + 1;
        run.section = section;
        run.material = steel;
        run.least_elements = elements / 2;
        model.beams.push_back(run);
    };
    add_run(1, 0, rectangle(0.1, 0.1, 0.29));
    add_run(3, 2, rectangle(0.07, 0.05, 0.29));
    const auto add_joint = [&](int member, int below, int above, double scale) {
        JointElement joint;
        joint.member = member;
        joint.below.node = below;
        joint.above.node = above;
        joint.translation = scale * Eigen::Vector3d(1.5e8, 1.5e8, 4e8);
        joint.rotation = scale * Eigen::Vector3d(2e6, 2e6, 2e6);
        joint.loss_factor = 0.03;
        model.joints.push_back(joint);
    };
    add_joint(0, kGround, 0, 1);
    add_joint(2, 1, 2, 0.5);
    return model;
}

void modes_of_a_stack(benchmark::State& state) {
    const AssembledSystem system = assemble(stack(static_cast<int>(state.range(0))));
    for (auto _ : state) benchmark::DoNotOptimize(modes(system, static_cast<int>(state.range(1))));
}
BENCHMARK(modes_of_a_stack)
    ->ArgNames({"elements", "modes"})
    ->Args({32, 12})
    ->Args({200, 6})
    ->Args({200, 12})
    ->Args({200, 20})
    ->Unit(benchmark::kMillisecond);

void one_direct_receptance(benchmark::State& state) {
    const AssembledSystem system = assemble(stack(static_cast<int>(state.range(0))));
    const DirectReceptance receptance(system, {.node = 3});
    double hertz = 500;
    for (auto _ : state) {
        hertz += 0.1;
        benchmark::DoNotOptimize(receptance.at(AngularFrequency::from_hertz(hertz)));
    }
}
BENCHMARK(one_direct_receptance)
    ->ArgName("elements")
    ->Arg(16)
    ->Arg(32)
    ->Arg(200)
    ->Unit(benchmark::kMicrosecond);

void compliance_of_a_point(benchmark::State& state) {
    const AssembledSystem system = assemble(stack(static_cast<int>(state.range(0))));
    for (auto _ : state) benchmark::DoNotOptimize(point_compliance(system, {.node = 3}));
}
BENCHMARK(compliance_of_a_point)
    ->ArgName("elements")
    ->Arg(32)
    ->Arg(200)
    ->Unit(benchmark::kMicrosecond);

void assembly_of_a_stack(benchmark::State& state) {
    const StructureModel model = stack(static_cast<int>(state.range(0)));
    for (auto _ : state) benchmark::DoNotOptimize(assemble(model));
}
BENCHMARK(assembly_of_a_stack)
    ->ArgName("elements")
    ->Arg(32)
    ->Arg(200)
    ->Unit(benchmark::kMicrosecond);

}  // namespace
}  // namespace standfast
