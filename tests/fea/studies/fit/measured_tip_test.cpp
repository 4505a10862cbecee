#include "fea/studies/fit/measured_tip.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "fea/stack/cut_receptance.hpp"
#include "tests/fea/studies/measured_job.hpp"

namespace standfast {
namespace {

Joint tool_joint(double lateral, double tilting) {
    Joint joint;
    joint.given = {.lateral = std::array{lateral, lateral},
                   .vertical = 5 * lateral,
                   .tilting = std::array{tilting, tilting},
                   .twisting = tilting,
                   .loss = 0.05};
    return joint;
}

Machine some_machine() {
    Machine machine = measured_job().machine;
    machine.spindle.given = {.lateral = std::array{60e6, 60e6},
                             .vertical = 150e6,
                             .tilting = std::array{0.8e6, 0.8e6},
                             .twisting = 0.8e6,
                             .loss = 0.05};
    return machine;
}

ToolChain some_tool(double stickout) {
    ToolChain tool;
    tool.name = "long finisher";
    tool.holder = {
        {.diameter = 0.050, .diameter_to = 0.050, .length = 0.035, .material = fitted_steel()},
        {.diameter = 0.032, .diameter_to = 0.026, .length = 0.060, .material = fitted_steel()}};
    tool.taper = tool_joint(250e6, 1.5e6);
    tool.grip = tool_joint(120e6, 25e3);
    Material carbide{.name = "carbide",
                     .youngs_modulus = 600e9,
                     .poissons_ratio = 0.22,
                     .density = 14450,
                     .loss_factor = 0.002};
    tool.cutter = {.diameter = 0.010,
                   .teeth = 4,
                   .flute_length = 0.025,
                   .shank_diameter = 0.010,
                   .stickout = stickout,
                   .material = carbide};
    return tool;
}

/// The tip as a tap would show it: the program's direct solution.
ReceptanceTest tapped(const Machine& machine, const ToolChain& tool) {
    const SolvedSide side = solve_tool_side(machine, tool);
    ReceptanceTest test;
    test.file = "tip";
    for (double hertz = 100; hertz <= 5000; hertz += 5) {
        test.frequency.push_back(AngularFrequency::from_hertz(hertz));
        test.receptance.push_back(side.direct->at(test.frequency.back())(0, 0));
    }
    return test;
}

double worst_difference(const std::vector<std::complex<double>>& a,
                        const std::vector<std::complex<double>>& b) {
    double largest = 0, difference = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        largest = std::max(largest, std::abs(b[i]));
        difference = std::max(difference, std::abs(a[i] - b[i]));
    }
    return difference / largest;
}

TEST(MeasuredTip, ATipOfTheModelItselfIsCarriedToAnotherStickoutAsTheModelHasIt) {
    const Machine machine = some_machine();
    const ReceptanceTest at_58 = tapped(machine, some_tool(0.058));
    const ToolChain shorter = some_tool(0.045);
    const auto carried = at_own_stickout(machine, shorter, at_58, 0.058);
    // Two ways: coupling of a segment of short elements, and the assembled chain.
    EXPECT_LT(worst_difference(carried, tapped(machine, shorter).receptance), 0.01);
}

TEST(MeasuredTip, ATipOfASofterMachineIsCarriedBetterThanTheModelWouldSay) {
    const Machine modelled = some_machine();
    Machine real = modelled;
    real.spindle.adjusted = {.stiffness = 0.6, .loss = 1.5};
    ToolChain real_58 = some_tool(0.058), real_48 = some_tool(0.048);
    real_58.grip.stiffness_adjust = real_48.grip.stiffness_adjust = 0.7;
    const auto truth = tapped(real, real_48).receptance;
    const auto carried = at_own_stickout(modelled, some_tool(0.048), tapped(real, real_58), 0.058);
    const auto model = tapped(modelled, some_tool(0.048)).receptance;
    EXPECT_LT(worst_difference(carried, truth), 0.2 * worst_difference(model, truth));
}

TEST(MeasuredTip, ItsModesGiveTheMeasuredReceptanceBack) {
    const Machine machine = some_machine();
    const ToolChain tool = some_tool(0.058);
    const ReceptanceTest test = tapped(machine, tool);
    ToolChain replaced = tool;
    replaced.modes = tip_modes(machine, tool, test, std::nullopt);
    const SolvedSide side = solve_tool_side(machine, replaced);
    std::vector<std::complex<double>> back;
    for (const AngularFrequency at : test.frequency) back.push_back(receptance_of(side, at)(0, 0));
    EXPECT_LT(worst_difference(back, test.receptance), 0.02);
}

// A round tool has two modes of each frequency; whichever way the solver turns them, a tap along x
// feels the whole of one.
TEST(MeasuredTip, AReceptanceOfTheModelItselfLeavesTheToolAsItIs) {
    Job job = measured_job();
    job.machine = some_machine();
    job.tools = {some_tool(0.058)};
    job.tools[0].grip.stiffness_spread = 2;
    ReceptanceTest test = tapped(job.machine, job.tools[0]);
    test.place.tool = 0;
    Measured measured;
    measured.name = "tip";
    measured.receptance = test;
    job.measured = {measured};
    for (const FitComparison& row : fit_job(job).measured)
        EXPECT_NEAR(row.before / row.value, 1, 0.03) << static_cast<int>(row.what);
}

}  // namespace
}  // namespace standfast
