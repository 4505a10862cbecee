#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "fea/solution/modes.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/stack/tool_model.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/fea/stack/sample_stack.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/exact_chain.hpp"
#include "tests/support/published.hpp"

// The first three bending frequencies of members and of whole chains, with the elements that
// tool_model and stack_model choose, against Timoshenko's equations solved exactly.
namespace standfast {
namespace {

using test::within;

constexpr double kTolerance = 1e-3;

/// The same in the x-z plane and stiffer across, so that modes do not come in pairs.
StructureModel parted(StructureModel model) {
    const auto stiffer = [](Section section) {
        section.second_moment_y *= 1.13;
        return section;
    };
    for (BeamRun& run : model.beams) {
        run.section = stiffer(run.section);
        if (!run.taper) continue;
        run.taper = [taper = run.taper, stiffer](double s) { return stiffer(taper(s)); };
    }
    for (JointElement& joint : model.joints) {
        joint.translation.y() *= 1.13;
        joint.rotation.x() *= 1.13;
    }
    return model;
}

std::vector<double> bending(const StructureModel& model) {
    return test::frequencies_along(modes(assemble(model), 24), test::kBendingX, 0.01);
}

void expect_exact(const StructureModel& given, const std::string& what) {
    const StructureModel model = parted(given);
    const std::vector<double> found = bending(model);
    ASSERT_GE(found.size(), 3U) << what;
    const std::vector<double> exact = test::ExactChain(model).frequencies(3, 0.3 * found[0]);
    test::expect_list(found, exact, kTolerance, what);
}

struct CutterSizes {
    double diameter, stickout, flute;
    double shank = diameter;
    double neck = 0, neck_length = 0;
};

ToolChain clamped_cutter(const CutterSizes& sizes) {
    ToolChain tool;
    tool.name = "cutter";
    tool.taper.solid = true;
    tool.grip.solid = true;
    tool.cutter.teeth = 4;
    tool.cutter.diameter = sizes.diameter;
    tool.cutter.shank_diameter = sizes.shank;
    tool.cutter.stickout = sizes.stickout;
    tool.cutter.flute_length = sizes.flute;
    tool.cutter.neck_diameter = sizes.neck;
    tool.cutter.neck_length = sizes.neck_length;
    tool.cutter.material = sample::carbide();
    return tool;
}

HolderStep step(double diameter, double diameter_to, double length) {
    return {.diameter = diameter,
            .diameter_to = diameter_to,
            .length = length,
            .material = sample::steel_4140()};
}

std::vector<HolderStep> holder_with_nut() {
    std::vector<HolderStep> steps{step(0.063, 0.063, 0.03), step(0.05, 0.04, 0.05),
                                  step(0.032, 0.026, 0.03)};
    steps.back().extra_mass = 0.15;
    steps.back().extra_inertia = 3e-5;
    return steps;
}

/// The exact method itself. T. C. Huang, J. Appl. Mech. 28 (1961) 579-584, frequency equation of
/// the Timoshenko cantilever; square 50 mm, E 210 GPa, nu 0.3, Cowper's coefficient.
TEST(MemberFrequencies, TheExactChainIsHuangsCantilever) {
    const auto huang = [](double length) {
        StructureModel model = test::cantilever({.section = rectangle(0.05, 0.05, 0.3),
                                                 .material = test::isotropic(210e9, 0.3, 7850),
                                                 .length = length});
        return test::ExactChain(model).frequencies(3, 10);
    };
    test::expect_list(huang(0.15), {1715.84738, 7840.067464, 17177.75831}, 1e-8, "L/h = 3");
    test::expect_list(huang(0.5), {165.8076489, 994.352214, 2617.29853}, 1e-8, "L/h = 10");
}

TEST(MemberFrequencies, CuttersAreWithinATenthOfAPercentOfExactBeams) {
    const std::vector<CutterSizes> cutters{
        {.diameter = 12e-3, .stickout = 36e-3, .flute = 0},
        {.diameter = 16e-3, .stickout = 40e-3, .flute = 0},
        {.diameter = 12e-3, .stickout = 12e-3, .flute = 0},
        {.diameter = 12e-3, .stickout = 60e-3, .flute = 0},
        {.diameter = 12e-3, .stickout = 36e-3, .flute = 26e-3},
        {.diameter = 6e-3, .stickout = 120e-3, .flute = 30e-3},
        {.diameter = 8e-3, .stickout = 50e-3, .flute = 20e-3, .shank = 16e-3},
        {.diameter = 22e-3, .stickout = 80e-3, .flute = 12e-3, .shank = 47e-3},
        {.diameter = 10e-3,
         .stickout = 58e-3,
         .flute = 12e-3,
         .shank = 10e-3,
         .neck = 9.2e-3,
         .neck_length = 20e-3},
        {.diameter = 6e-3,
         .stickout = 60e-3,
         .flute = 8e-3,
         .shank = 12e-3,
         .neck = 5e-3,
         .neck_length = 25e-3}};
    for (const CutterSizes& sizes : cutters) {
        const ToolChain tool = clamped_cutter(sizes);
        expect_exact(tool_model(sample::rigid_machine(), tool).structure,
                     "D" + std::to_string(1e3 * sizes.diameter) + " x " +
                         std::to_string(1e3 * sizes.stickout));
    }
}

TEST(MemberFrequencies, SteppedAndTaperedHoldersAreWithinATenthOfAPercentOfExactBeams) {
    const std::vector<std::vector<HolderStep>> holders{
        holder_with_nut(),
        {step(0.09, 0.09, 0.09)},
        {step(0.08, 0.06, 0.12), step(0.05, 0.05, 0.015)},
        {step(0.05, 0.03, 0.2)}};
    for (std::size_t i = 0; i < holders.size(); ++i) {
        ToolChain tool = clamped_cutter({.diameter = 12e-3, .stickout = 36e-3, .flute = 26e-3});
        tool.holder = holders[i];
        StructureModel model = tool_model(sample::rigid_machine(), tool).structure;
        model.beams.resize(holders[i].size());
        model.nodes.resize(holders[i].size());
        expect_exact(model, "holder " + std::to_string(i));
    }
}

TEST(MemberFrequencies, ToolChainsOnASpindleAreWithinATenthOfAPercentOfExactBeams) {
    Machine machine = sample::rigid_machine();
    machine.spindle.rigid = false;
    machine.spindle.given = sample::numbers(6e7, 1.5e8, 8e5, 8e5);
    for (const double stickout : {36e-3, 60e-3, 100e-3}) {
        ToolChain tool = clamped_cutter({.diameter = 12e-3, .stickout = stickout, .flute = 26e-3});
        tool.holder = holder_with_nut();
        expect_exact(tool_model(sample::rigid_machine(), tool).structure, "clamped chain");
        tool.taper = sample::given_joint(3e8, 3e8, 2e6, 2e6);
        tool.grip = sample::given_joint(1.2e8, 3e8, 2.5e4, 2.5e4);
        expect_exact(tool_model(machine, tool).structure, "chain on springs");
    }
}

Stack tapered_tube(double foot, double top, double height) {
    Tier tube = sample::tier("tube", sample::steel_4140(), TubeShape{foot, 0.6 * foot}, height,
                             sample::solid_joint());
    tube.top = TubeShape{top, 0.6 * top};
    Stack stack;
    stack.tiers.push_back(tube);
    return stack;
}

TEST(MemberFrequencies, ATaperedTubeWithALumpAtItsEndIsWithinATenthOfAPercentOfAnExactBeam) {
    struct Case {
        double foot, top, height, mass, inertia;
    };
    for (const Case& tube :
         {Case{0.1, 0.06, 0.3, 0, 0}, Case{0.1, 0.06, 0.3, 2, 4e-3}, Case{0.1, 0.05, 0.2, 5, 0.015},
          Case{0.06, 0.03, 0.6, 1, 1e-3}, Case{0.1, 0.03, 0.25, 0.5, 0}}) {
        const StackModel stack =
            stack_model(sample::rigid_machine(), tapered_tube(tube.foot, tube.top, tube.height));
        StructureModel model = stack.structure;
        test::add_lump(model, "lump", stack.top_node[0], tube.mass,
                       Eigen::Vector3d::Constant(tube.inertia));
        expect_exact(model, "tube of height " + std::to_string(tube.height) + " with " +
                                std::to_string(tube.mass) + " kg");
    }
}

/// A tall stack of invented sizes.
Stack riser_block_part(double stiffer) {
    Stack stack;
    const auto add = [&](const std::string& name, const Material& material,
                         const SectionShape& shape, double height, const Joint& joint) {
        sample::put_on_top(stack, sample::tier(name, material, shape, height, joint));
    };
    add("riser", sample::steel_4140(), TubeShape{0.16, 0.1}, 0.25,
        sample::given_joint(stiffer * 4e8, 1e9, stiffer * 5e6, 5e6));
    add("block", sample::steel_4140(), BlockShape{0.12, 0.1}, 0.08,
        sample::given_joint(stiffer * 3e8, 8e8, stiffer * 1e6, 1e6));
    add("part", sample::aluminium_6061(), BlockShape{0.05, 0.04}, 0.12,
        sample::given_joint(stiffer * 2e8, 5e8, stiffer * 2e5, 2e5));
    return stack;
}

TEST(MemberFrequencies, RiserBlockAndPartOnJointsAreWithinATenthOfAPercentOfExactBeams) {
    for (const double stiffer : {0.3, 1.0, 100.0}) {
        const Stack stack = riser_block_part(stiffer);
        expect_exact(stack_model(sample::rigid_machine(), stack).structure, "stack");
        expect_exact(stack_model(sample::rigid_machine(), stack,
                                 {{.tier = 2, .heights = {0.08, 0.09, 0.105}}})
                         .structure,
                     "stack with cuts");
    }
}

TEST(MemberFrequencies, NodesForCutsKeepABlockWithinATenthOfAPercent) {
    for (const double height : {0.1, 0.3}) {
        Stack stack;
        stack.tiers.push_back(sample::tier("block", sample::steel_4140(), BlockShape{0.1, 0.1},
                                           height, sample::solid_joint()));
        for (const std::vector<double>& shares :
             {std::vector<double>{},
              {0.9, 0.95},
              {0.97, 0.98, 0.99},
              {0.5},
              {0.03, 0.07, 0.1, 0.17, 0.3, 0.5, 0.67, 0.7, 0.8, 0.87, 0.93, 0.97}}) {
            CutHeights cuts{.tier = 0, .heights = shares};
            for (double& place : cuts.heights) place *= height;
            expect_exact(stack_model(sample::rigid_machine(), stack, {cuts}).structure,
                         std::to_string(shares.size()) + " cuts");
        }
    }
}

TEST(MemberFrequencies, AShortCutterTakesAtMostTenNodesAndASlenderOneEight) {
    const auto nodes = [](const CutterSizes& sizes) {
        const ToolModel model = tool_model(sample::rigid_machine(), clamped_cutter(sizes));
        return assemble(model.structure).nodes.size();
    };
    EXPECT_LE(nodes({.diameter = 16e-3, .stickout = 40e-3, .flute = 0}), 10U);
    EXPECT_LE(nodes({.diameter = 6e-3, .stickout = 120e-3, .flute = 30e-3}), 8U);
}

}  // namespace
}  // namespace standfast
