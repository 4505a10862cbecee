#include "fea/stack/tool_model.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/stack/joint_stiffness.hpp"
#include "fea/stack/springs.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/fea/stack/sample_stack.hpp"

namespace standfast {
namespace {

using sample::carbide;

/// A cutter held by something that does not give: no holder, taper and grip in one piece.
ToolChain clamped_cutter(double diameter, double stickout, double flute) {
    ToolChain tool;
    tool.name = "cutter";
    tool.taper.solid = true;
    tool.grip.solid = true;
    tool.cutter.diameter = diameter;
    tool.cutter.shank_diameter = diameter;
    tool.cutter.teeth = 4;
    tool.cutter.stickout = stickout;
    tool.cutter.flute_length = flute;
    tool.cutter.material = carbide();
    return tool;
}

MaterialPoint tip(const ToolModel& model) {
    return {.node = model.tip_node, .arm = Eigen::Vector3d::Zero()};
}

struct Solved {
    double stiffness;      // N/m, sideways at the tip
    double first, second;  // Hz, bending
};

Solved solve(const ToolChain& tool) {
    const ToolModel model = tool_model(sample::rigid_machine(), tool);
    const AssembledSystem system = assemble(model.structure);
    const std::vector<Mode> found = modes(system, 6);
    std::vector<double> bending;
    for (const Mode& mode : found) {
        // Axial and twisting modes do not move the tip sideways.
        const Eigen::Index tip_row = 6 * model.tip_node;
        if (std::hypot(mode.shape[tip_row], mode.shape[tip_row + 1]) > 1e-3) {
            bending.push_back(mode.frequency.hertz());
        }
    }
    return {.stiffness = 1 / point_compliance(system, tip(model))(0, 0),
            .first = bending.at(0),
            .second = bending.at(2)};
}

/// Stiffness and first two bending frequencies of clamped carbide cutters (E = 600 GPa, rho =
/// 14450 kg/m3, nu = 0.22) with shear and rotary inertia, computed independently by exact
/// Timoshenko solutions; the figures are printed to 5 digits.
struct BeamCheck {
    const char* name;
    double diameter, stickout, flute;
    double stiffness, first, second;
};
constexpr BeamCheck kBeamChecks[] = {
    {"D12 x 60", 12e-3, 60e-3, 0, 8.3095e6, 2941.5, 16501.1},
    {"D12 x 60 at 0.8 D", 12e-3, 60e-3, 60e-3, 3.4287e6, 2371.0, 13786.6},
    {"shank D12 x 30, flute 0.8 D x 40", 12e-3, 70e-3, 40e-3, 4.1435e6, 2535.0, 11406.8},
    {"D16 x 100", 16e-3, 100e-3, 0, 5.7145e6, 1422.6, 8271.9},
};

TEST(ToolModel, ClampedCuttersMatchExactTimoshenkoBeams) {
    for (const BeamCheck& check : kBeamChecks) {
        const Solved solved = solve(clamped_cutter(check.diameter, check.stickout, check.flute));
        EXPECT_NEAR(solved.stiffness, check.stiffness, 2e-5 * check.stiffness) << check.name;
        EXPECT_NEAR(solved.first, check.first, 1e-4 * check.first) << check.name;
        EXPECT_NEAR(solved.second, check.second, 1e-4 * check.second) << check.name;
    }
}

TEST(ToolModel, ACutterOnAnElasticRootMatchesTheExactBeam) {
    // D12 x 60 on 1.2e8 N/m and 2.5e4 N m/rad: 3.6673e6 N/m, 1756.8 and 8823.8 Hz; same origin as
    // the table above.
    ToolChain tool = clamped_cutter(12e-3, 60e-3, 0);
    tool.grip = sample::given_joint(1.2e8, 1e12, 2.5e4, 1e9);
    const Solved solved = solve(tool);
    EXPECT_NEAR(solved.stiffness, 3.6673e6, 2e-5 * 3.6673e6);
    EXPECT_NEAR(solved.first, 1756.8, 1e-4 * 1756.8);
    EXPECT_NEAR(solved.second, 8823.8, 1e-4 * 8823.8);
}

TEST(ToolModel, TwentyPercentMoreStickoutBendsOnePointSevenThreeTimesAsMuch) {
    // 1.2^3 in the slender limit: common practice, no source.
    const double before = solve(clamped_cutter(6e-3, 120e-3, 0)).stiffness;
    const double after = solve(clamped_cutter(6e-3, 144e-3, 0)).stiffness;
    EXPECT_NEAR(before / after, 1.73, 0.005);
}

TEST(ToolModel, TheSpindleMovesTheTipByItsSpringsAndTheGaugeLength) {
    Machine machine = sample::rigid_machine();
    ToolChain tool = clamped_cutter(12e-3, 60e-3, 0);
    tool.holder = {
        {.diameter = 0.05, .diameter_to = 0.04, .length = 0.07, .material = sample::steel_4140()}};
    const auto give = [&] {
        const ToolModel model = tool_model(machine, tool);
        return point_compliance(assemble(model.structure), tip(model))(0, 0);
    };
    const double hard = give();
    machine.spindle.rigid = false;
    machine.spindle.given = sample::numbers(6e7, 1.5e8, 8e5, 8e5);
    const double soft = give();
    EXPECT_NEAR(soft - hard, 1 / 6e7 + 0.13 * 0.13 / 8e5, 1e-8 * soft);
    tool.taper = sample::given_joint(3e8, 3e8, 2e6, 2e6);
    EXPECT_NEAR(give() - soft, 1 / 3e8 + 0.13 * 0.13 / 2e6, 1e-8 * soft);
    machine.spindle.includes_taper = true;
    EXPECT_NEAR(give(), soft, 1e-10 * soft);
}

/// A spindle whose nose is heavy, with a cutter beside which it counts for all.
Machine heavy_nose(double mass, double inertia, double centre) {
    Machine machine = sample::rigid_machine();
    machine.spindle.rigid = false;
    machine.spindle.given = sample::numbers(6e7, 1e11, 8e5, 1e9);
    machine.spindle.mass = mass;
    machine.spindle.inertia = inertia;
    machine.spindle.centre = centre;
    return machine;
}

/// First two frequencies in one plane, Hz, of a rigid body on a spring sideways and one in tilting
/// where they meet, its centre `c` above: M = [m, m c; m c, I + m c^2].
std::array<double, 2> body_on_springs(double m, double inertia, double c, double lateral,
                                      double tilting) {
    const double turning = inertia + m * c * c;
    const double a = m * turning - m * c * m * c, b = lateral * turning + tilting * m;
    const double root = std::sqrt(b * b - 4 * a * lateral * tilting);
    const double two_pi = 2 * std::numbers::pi;
    return {std::sqrt((b - root) / (2 * a)) / two_pi, std::sqrt((b + root) / (2 * a)) / two_pi};
}

TEST(ToolModel, ANoseOnItsSpringsRingsAsARigidBody) {
    ToolChain tool = clamped_cutter(3e-3, 12e-3, 6e-3);  // about 1 g
    for (const double centre : {0.0, 0.04}) {
        const ToolModel model = tool_model(heavy_nose(2.5, 0.006, centre), tool);
        const std::vector<Mode> found = modes(assemble(model.structure), 4);
        const auto expected = body_on_springs(2.5, 0.006, centre, 6e7, 8e5);
        for (std::size_t plane = 0; plane < 2; ++plane) {
            // The cutter weighs 1/2000 of the nose.
            EXPECT_NEAR(found[plane].frequency.hertz(), expected[0], 1e-3 * expected[0]) << centre;
            EXPECT_NEAR(found[2 + plane].frequency.hertz(), expected[1], 1e-3 * expected[1])
                << centre;
        }
    }
}

TEST(ToolModel, ANoseMassIsANamedParameterThatMovesNoStiffness) {
    const ToolChain tool = clamped_cutter(12e-3, 60e-3, 30e-3);
    Machine machine = heavy_nose(2.5, 0.006, 0);
    const AssembledSystem heavy = assemble(tool_model(machine, tool).structure);
    const auto named = std::find_if(heavy.mass.begin(), heavy.mass.end(),
                                    [](const auto& mass) { return mass.name == "spindle.lump"; });
    ASSERT_NE(named, heavy.mass.end());
    EXPECT_EQ(named->spread.group, "spindle mass");
    machine.spindle.mass = 0;
    const ToolModel light = tool_model(machine, tool);
    const AssembledSystem without = assemble(light.structure);
    EXPECT_EQ(without.mass.size() + 1, heavy.mass.size());
    EXPECT_NEAR(point_compliance(heavy, tip(light))(0, 0),
                point_compliance(without, tip(light))(0, 0),
                1e-12 * point_compliance(without, tip(light))(0, 0));
}

TEST(ToolModel, AMassGivenAloneHasTheInertiaOfABodyOfTheSameForm) {
    Machine machine;
    machine.spindle_kind.mass = 2.5;
    machine.spindle_kind.inertia = 0.006;
    machine.spindle_kind.mass_spread = 1.6;
    EXPECT_DOUBLE_EQ(spindle_mass(machine).inertia.x(), 0.006);
    EXPECT_DOUBLE_EQ(spindle_mass(machine).spread.factor, 1.6);
    machine.spindle.mass = 2.5 * 8;  // twice as large in every direction
    EXPECT_NEAR(spindle_mass(machine).inertia.x(), 0.006 * 32, 1e-12);
    EXPECT_LT(spindle_mass(machine).spread.factor, 1.6);
}

TEST(ToolModel, SpindleAxesAreDrawnApartUnlessTheyAreGivenApart) {
    Machine machine = heavy_nose(0, 0, 0);
    std::vector<Assumption> notes;
    const Spread split = spindle_springs(machine, notes).split_spread;
    EXPECT_EQ(split.group, "spindle: x against y");
    machine.table.given = machine.spindle.given;
    EXPECT_EQ(table_springs(machine, notes).split_spread.group, "table: x against y");
    machine.spindle.given.told_apart = true;
    EXPECT_TRUE(spindle_springs(machine, notes).split_spread.group.empty());
}

TEST(ToolModel, ATwistingThatNobodySaysDoesNotMatterSideways) {
    Machine machine = sample::rigid_machine();
    machine.spindle.rigid = false;
    machine.spindle.given = sample::numbers(6e7, 1.5e8, 8e5, 8e5);
    const ToolChain tool = clamped_cutter(12e-3, 60e-3, 30e-3);
    const auto give = [&]() -> Eigen::Matrix3d {
        const ToolModel model = tool_model(machine, tool);
        return point_compliance(assemble(model.structure), tip(model));
    };
    const Eigen::Matrix3d said = give();
    machine.spindle.given.twisting.reset();
    EXPECT_LT((give() - said).norm(), 1e-12 * said.norm());
}

TEST(ToolModel, ANeckMakesTheToolSofterAndStandsBetweenFluteAndShank) {
    ToolChain tool = clamped_cutter(10e-3, 58e-3, 12e-3);
    const double plain = solve(tool).stiffness;
    tool.cutter.neck_diameter = 9.2e-3;
    tool.cutter.neck_length = 20e-3;
    EXPECT_LT(solve(tool).stiffness, plain);
    const std::vector<CutterRun> runs = cutter_runs(tool.cutter);
    ASSERT_EQ(runs.size(), 3U);
    EXPECT_DOUBLE_EQ(runs[0].diameter, 10e-3);
    EXPECT_NEAR(runs[0].length, 26e-3, 1e-15);
    EXPECT_DOUBLE_EQ(runs[1].diameter, 9.2e-3);
    EXPECT_NEAR(runs[1].length, 20e-3, 1e-15);
    EXPECT_NEAR(runs[2].diameter, 8e-3, 1e-15);
    EXPECT_NEAR(runs[2].length, 12e-3, 1e-15);
}

TEST(ToolModel, AFluteLongerThanTheStickoutEndsAtTheHolder) {
    const std::vector<CutterRun> runs = cutter_runs(clamped_cutter(10e-3, 30e-3, 45e-3).cutter);
    ASSERT_EQ(runs.size(), 1U);
    EXPECT_NEAR(runs[0].length, 30e-3, 1e-15);
    EXPECT_NEAR(runs[0].diameter, 8e-3, 1e-15);
}

TEST(ToolModel, SegmentsStandAsTheyAreAndTheUppermostTakesUpALongerStickout) {
    ToolChain tool = clamped_cutter(12e-3, 70e-3, 40e-3);
    const double by_flute = solve(tool).stiffness;
    tool.cutter.segments = {{.diameter = 12e-3, .length = 30e-3, .material = carbide()},
                            {.diameter = 9.6e-3, .length = 40e-3, .material = carbide()}};
    EXPECT_NEAR(solve(tool).stiffness, by_flute, 1e-9 * by_flute);
    tool.cutter.stickout = 80e-3;
    EXPECT_NEAR(cutter_runs(tool.cutter)[0].length, 40e-3, 1e-12);
    EXPECT_NEAR(cutter_runs(tool.cutter)[1].length, 40e-3, 1e-12);
    tool.cutter.stickout = 39e-3;
    EXPECT_THROW(cutter_runs(tool.cutter), std::domain_error);
}

TEST(ToolModel, ANutLowersTheFrequencyOnly) {
    ToolChain tool = clamped_cutter(12e-3, 60e-3, 0);
    tool.holder = {
        {.diameter = 0.04, .diameter_to = 0.03, .length = 0.09, .material = sample::steel_4140()}};
    const Solved bare = solve(tool);
    tool.holder[0].extra_mass = 0.3;
    tool.holder[0].extra_inertia = 5e-5;
    const Solved with_nut = solve(tool);
    EXPECT_NEAR(with_nut.stiffness, bare.stiffness, 1e-9 * bare.stiffness);
    EXPECT_LT(with_nut.first, bare.first);
}

TEST(ToolModel, GripsGrowWithTheShank) {
    Joint grip;
    grip.kind.name = "shrink";
    grip.kind.use = JointUse::grip;
    grip.kind.scaling = JointScaling::per_shank;
    grip.kind.lateral = 1.6e8;
    grip.kind.vertical = 3.2e8;
    grip.kind.tilting = 4.096e4;
    grip.kind.twisting = 4.096e4;
    const ResolvedJoint at_catalogue = resolve_tool_joint(grip, 16e-3);
    const ResolvedJoint half = resolve_tool_joint(grip, 8e-3);
    EXPECT_NEAR(at_catalogue.translation.x(), 1.6e8, 1);
    EXPECT_NEAR(at_catalogue.rotation.x(), 4.096e4, 1e-6);
    EXPECT_NEAR(half.translation.x(), 0.8e8, 1);
    EXPECT_NEAR(half.rotation.x(), 4.096e4 / 8, 1e-6);
    EXPECT_EQ(half.stiffness_spread.group, "joint stiffness: shrink");
}

TEST(ToolModel, AStickoutThatLeavesNoShankIsRefused) {
    ToolChain tool = clamped_cutter(10e-3, 58e-3, 25e-3);
    tool.cutter.overall = 58e-3;
    EXPECT_THROW(tool_model(sample::rigid_machine(), tool), std::domain_error);
    tool.cutter.overall = 100e-3;
    EXPECT_NO_THROW(tool_model(sample::rigid_machine(), tool));
}

TEST(ToolModel, UnphysicalSizesAreRefused) {
    EXPECT_THROW(tool_model(sample::rigid_machine(), clamped_cutter(0, 60e-3, 20e-3)),
                 std::domain_error);
    EXPECT_THROW(tool_model(sample::rigid_machine(), clamped_cutter(12e-3, -60e-3, 20e-3)),
                 std::domain_error);
    ToolChain tool = clamped_cutter(12e-3, 60e-3, 20e-3);
    tool.holder = {{.diameter = 0.04, .diameter_to = 0.03, .length = 0, .material = carbide()}};
    EXPECT_THROW(tool_model(sample::rigid_machine(), tool), std::domain_error);
}

}  // namespace
}  // namespace standfast
