#include "fea/stack/cut_receptance.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/stack/frames.hpp"
#include "tests/fea/stack/sample_stack.hpp"

namespace standfast {
namespace {

using sample::given_joint;
using sample::put_on_top;
using sample::tier;

constexpr double kPi = std::numbers::pi;

Stack skew_stack() {
    Stack stack;
    put_on_top(stack, tier("riser", sample::steel_4140(), BlockShape{0.1, 0.06}, 0.15,
                           given_joint(5e8, 1e9, 2e6, 1e6)));
    Joint tail = given_joint(2e8, 4e8, 2e5, 1e5);
    tail.given.tilting = std::array{3e5, 1e5};
    put_on_top(stack, tier("part", sample::aluminium_6061(), BlockShape{0.07, 0.05}, 0.09, tail));
    return stack;
}

Machine soft_machine() {
    Machine machine;
    machine.table.given = sample::numbers(1e8, 3e8, 4e6, 3e6, 0.04);
    machine.table.given.lateral = std::array{1e8, 4e7};
    machine.spindle.given = sample::numbers(6e7, 1.5e8, 8e5, 8e5, 0.05);
    return machine;
}

ToolChain plain_tool() {
    ToolChain tool;
    tool.name = "tool";
    tool.holder = {
        {.diameter = 0.05, .diameter_to = 0.03, .length = 0.08, .material = sample::steel_4140()}};
    tool.taper = given_joint(3e8, 7e8, 1.2e6, 8e5, 0.02);
    tool.grip = given_joint(5e7, 1e8, 2e4, 1e4, 0.01);
    tool.cutter.diameter = tool.cutter.shank_diameter = 0.012;
    tool.cutter.stickout = 0.05;
    tool.cutter.flute_length = 0.03;
    tool.cutter.material = sample::carbide();
    return tool;
}

Pass cut_at_the_part() {
    Pass pass;
    pass.tier = 1;
    pass.path = {{0.035, 0.01, 0.08}};
    return pass;
}

SolvedSide work_side(const Machine& machine = soft_machine()) {
    const Pass pass = cut_at_the_part();
    return solve_work_side(machine, skew_stack(), pass, pass.path.front());
}

SolvedSide rigid_tool() {
    ToolChain tool;
    tool.rigid = true;
    return solve_tool_side(soft_machine(), tool);
}

Eigen::Matrix3cd at(const CutReceptance& cut, double hertz) {
    return receptance_at(cut.modal, AngularFrequency::from_hertz(hertz));
}

TEST(CutReceptance, AtNinetyDegreesOfTiltTheAxesAreExchanged) {
    const SolvedSide tool = rigid_tool(), work = work_side();
    const Eigen::Matrix3cd upright = at(cut_receptance(tool, work, 0, 0, 0), 400);
    const Eigen::Matrix3cd tilted = at(cut_receptance(tool, work, kPi / 2, 0, 0), 400);
    // The spindle now points along the stack's x, so the feed points down the stack.
    const double scale = 1e-9 * upright.norm();
    EXPECT_NEAR(std::abs(tilted(2, 2) - upright(0, 0)), 0, scale);
    EXPECT_NEAR(std::abs(tilted(0, 0) - upright(2, 2)), 0, scale);
    EXPECT_NEAR(std::abs(tilted(1, 1) - upright(1, 1)), 0, scale);
    EXPECT_NEAR(std::abs(tilted(0, 2) + upright(2, 0)), 0, scale);
    EXPECT_NEAR(std::abs(tilted(1, 2) - upright(1, 0)), 0, scale);
    EXPECT_NEAR(std::abs(tilted(1, 0) + upright(1, 2)), 0, scale);
}

TEST(CutReceptance, ARigidToolLeavesTheWorkSideAndTheOtherWayRound) {
    Stack rigid;
    rigid.rigid = true;
    const SolvedSide no_work = solve_work_side(soft_machine(), rigid, {}, {0, 0, 0});
    EXPECT_TRUE(no_work.rigid);
    const SolvedSide tool = solve_tool_side(soft_machine(), plain_tool());
    const CutReceptance only_tool = cut_receptance(tool, no_work, 0.3, 0.4, 0);
    EXPECT_LT((static_compliance(only_tool.modal) - tool.compliance).norm(),
              1e-9 * tool.compliance.norm());
    const SolvedSide work = work_side();
    const CutReceptance only_work = cut_receptance(rigid_tool(), work, 0, 0, 0);
    EXPECT_LT((static_compliance(only_work.modal) - work.compliance).norm(),
              1e-9 * work.compliance.norm());
}

TEST(CutReceptance, BothSidesAddUpInToolAxes) {
    const SolvedSide tool = solve_tool_side(soft_machine(), plain_tool()), work = work_side();
    const double tilt = 0.7, turn = -1.2, heading = 2.1;
    const CutReceptance cut = cut_receptance(tool, work, tilt, turn, heading);
    const Eigen::Matrix3d axes = tool_axes(tilt, turn, heading);
    // Round about the tool's own axis the tool is the same in all directions.
    const Eigen::Matrix3d expected = tool.compliance + axes.transpose() * work.compliance * axes;
    EXPECT_LT((static_compliance(cut.modal) - expected).norm(), 1e-9 * expected.norm());
    EXPECT_EQ(cut.tool_terms, tool.modal.terms.size());
    EXPECT_EQ(cut.modal.terms.size(), tool.modal.terms.size() + work.modal.terms.size());
}

TEST(CutReceptance, IsReciprocalAndSoftensNothing) {
    const SolvedSide tool = solve_tool_side(soft_machine(), plain_tool()), work = work_side();
    const CutReceptance cut = cut_receptance(tool, work, 0.7, -1.2, 2.1);
    for (const double hertz : {10.0, 333.0, 1234.0, 4000.0}) {
        const Eigen::Matrix3cd g = at(cut, hertz);
        EXPECT_LT((g - g.transpose()).norm(), 1e-12 * g.norm()) << hertz;
        // Power flows into the structure whichever way it is shaken: Im G <= 0.
        const Eigen::SelfAdjointEigenSolver<Eigen::Matrix3d> loss(g.imag());
        EXPECT_LE(loss.eigenvalues().maxCoeff(), 1e-6 * g.norm()) << hertz;
    }
}

TEST(CutReceptance, ModesAndDirectSolutionTellTheSameStoryWhereDampingIsEven) {
    // With one loss factor everywhere the modes are real, and both ways must meet at every peak.
    // (Uneven damping couples close modes; modal damping leaves that out.)
    const double loss = 0.02;
    Machine machine = soft_machine();
    machine.table.given.loss = machine.spindle.given.loss = loss;
    Stack stack = skew_stack();
    for (Tier& member : stack.tiers)
        member.material.loss_factor = *(member.joint.given.loss = loss);
    ToolChain chain = plain_tool();
    chain.taper.given.loss = chain.grip.given.loss = loss;
    chain.holder[0].material.loss_factor = chain.cutter.material.loss_factor = loss;
    const Pass pass = cut_at_the_part();
    const SolvedSide work = solve_work_side(machine, stack, pass, pass.path.front());
    const SolvedSide tool = solve_tool_side(machine, chain);
    for (const SolvedSide* side : {&work, &tool}) {
        for (const Mode& mode : side->modes) {
            if (mode.frequency.hertz() > 2500) break;
            EXPECT_NEAR(mode.damping_ratio, loss / 2, 1e-9);
            const Eigen::Matrix3cd direct = receptance_of(*side, mode.frequency);
            const Eigen::Matrix3cd modal = receptance_at(side->modal, mode.frequency);
            EXPECT_LT((direct - modal).norm(), 0.01 * direct.norm()) << mode.frequency.hertz();
        }
    }
}

TEST(CutReceptance, SolvingASideTwiceGivesTheSame) {
    const SolvedSide once = work_side(), again = work_side();
    EXPECT_EQ(once.compliance, again.compliance);
    ASSERT_EQ(once.modes.size(), again.modes.size());
    for (std::size_t index = 0; index < once.modes.size(); ++index) {
        EXPECT_EQ(once.modes[index].frequency, again.modes[index].frequency);
        EXPECT_EQ(once.modal.terms[index].shape, again.modal.terms[index].shape);
    }
}

TEST(CutReceptance, TheTablesOwnXStaysWithTheStackOnEveryMachine) {
    // Where the table turns, its springs turn with the stack; where the head does, nothing on the
    // table turns at all. In stack axes both are the same, whatever the pass's turn.
    Machine turning = soft_machine(), standing = soft_machine();
    turning.table_turns = true;
    standing.table_turns = false;
    const SolvedSide a = work_side(turning), b = work_side(standing);
    EXPECT_EQ(a.compliance, b.compliance);
    Pass turned = cut_at_the_part();
    turned.turn = kPi / 2;
    turned.tilt = 0.4;
    const SolvedSide c = solve_work_side(turning, skew_stack(), turned, turned.path.front());
    EXPECT_EQ(a.compliance, c.compliance);
    // Turned by 90 deg about z the tool's x is the table's y, the softer one.
    const CutReceptance cut = cut_receptance(rigid_tool(), a, 0, kPi / 2, 0);
    EXPECT_NEAR(static_compliance(cut.modal)(0, 0), a.compliance(1, 1), 1e-9 * a.compliance(1, 1));
}

TEST(CutReceptance, MeasuredModesAreTakenAsTheyAre) {
    // Displacement per unit of the modal coordinate is never normalised: doubling the direction
    // quadruples the receptance. Static give of one mode: d d^T / k.
    ToolChain tool;
    const double mass = 0.5;
    const AngularFrequency frequency = AngularFrequency::from_hertz(780);
    tool.modes = {
        {.direction = {0.6, 0.8, 0}, .frequency = frequency, .damping_ratio = 0.035, .mass = mass}};
    const SolvedSide side = solve_tool_side(soft_machine(), tool);
    EXPECT_TRUE(side.measured);
    const double stiffness = mass * std::pow(frequency.radians_per_second, 2);
    EXPECT_NEAR(side.compliance(0, 1), 0.6 * 0.8 / stiffness, 1e-12 / stiffness);
    const Eigen::Matrix3cd peak = receptance_of(side, frequency);
    EXPECT_NEAR(-peak(1, 1).imag(), 0.64 / (2 * 0.035 * stiffness), 1e-9 / stiffness);
    tool.modes[0].direction *= 2;
    const SolvedSide doubled = solve_tool_side(soft_machine(), tool);
    EXPECT_LT((doubled.compliance - 4 * side.compliance).norm(), 1e-12 * doubled.compliance.norm());
}

TEST(CutReceptance, MeasuredStackModesNeedNoTier) {
    Stack stack;
    stack.modes = {{.direction = Eigen::Vector3d::UnitY(),
                    .frequency = AngularFrequency::from_hertz(310),
                    .damping_ratio = 0.028,
                    .mass = 7}};
    const SolvedSide side = solve_work_side(soft_machine(), stack, {}, {0, 0, 0});
    EXPECT_TRUE(side.measured);
    EXPECT_GT(side.compliance(1, 1), 0);
    EXPECT_EQ(side.compliance(0, 0), 0);
    stack.modes[0].mass = 0;
    EXPECT_THROW(solve_work_side(soft_machine(), stack, {}, {0, 0, 0}), std::domain_error);
}

TEST(CutReceptance, AtLeastSixModesAndAllBelowTheChosenFrequencyAreKept) {
    const SolvedSide usual = work_side();
    EXPECT_GE(usual.modes.size(), 6U);
    const Pass pass = cut_at_the_part();
    const SolvedSide few = solve_work_side(soft_machine(), skew_stack(), pass, pass.path.front(),
                                           {.count = 0, .up_to = AngularFrequency::from_hertz(1)});
    EXPECT_EQ(few.modes.size(), 6U);
    const SolvedSide many =
        solve_work_side(soft_machine(), skew_stack(), pass, pass.path.front(),
                        {.count = 0, .up_to = AngularFrequency::from_hertz(12000)});
    EXPECT_GT(many.modes.size(), usual.modes.size());
    EXPECT_GT(many.modes.back().frequency, usual.modes.back().frequency);
    const SolvedSide three = solve_work_side(soft_machine(), skew_stack(), pass, pass.path.front(),
                                             {.count = 3, .up_to = {}});
    EXPECT_EQ(three.modes.size(), 3U);
    // What is not kept as a mode stays as static give.
    EXPECT_LT((static_compliance(three.modal) - usual.compliance).norm(),
              1e-9 * usual.compliance.norm());
}

TEST(CutReceptance, TheStateOfThePassIsWhatIsCut) {
    Pass pass = cut_at_the_part();
    const SolvedSide whole = work_side();
    pass.state = PassState{.shape = BlockShape{0.035, 0.025}, .height = std::nullopt};
    const SolvedSide thinned =
        solve_work_side(soft_machine(), skew_stack(), pass, pass.path.front());
    EXPECT_GT(thinned.compliance(0, 0), whole.compliance(0, 0));
    pass.state = PassState{.shape = std::nullopt, .height = 0.05};
    EXPECT_THROW(solve_work_side(soft_machine(), skew_stack(), pass, pass.path.front()),
                 std::domain_error)
        << "the cut is above what is left of the part";
}

TEST(CutReceptance, APassOnATierThatIsNotThereIsRefused) {
    Pass pass = cut_at_the_part();
    pass.tier = 5;
    EXPECT_THROW(solve_work_side(soft_machine(), skew_stack(), pass, {0, 0, 0.01}),
                 std::domain_error);
}

TEST(CutReceptance, AStackInOnePieceWithARigidTableDoesNotMoveAtItsFoot) {
    Stack stack;
    stack.tiers.push_back(
        tier("block", sample::steel_4140(), BlockShape{0.1, 0.1}, 0.1, sample::solid_joint()));
    const SolvedSide side = solve_work_side(sample::rigid_machine(), stack, {}, {0, 0, 0});
    EXPECT_EQ(receptance_of(side, AngularFrequency::from_hertz(100)).norm(), 0);
}

// A wall along x at the part's side: its end farther from the axis twists away too, so that it
// gives more than the middle; none of 40 places between gives 5 % more than the one that is found.
TEST(CutReceptance, TheSoftestPlaceOfAPathIsSofterThanAllOthersWithinFivePercent) {
    Pass pass = cut_at_the_part();
    pass.path = {{-0.010, 0.025, 0.070}, {0.035, 0.025, 0.070}};
    const double depth = 0.010;
    const Eigen::Vector3d found = softest_place(soft_machine(), skew_stack(), pass, depth);
    const auto gives = [&](const Eigen::Vector3d& place) {
        const Eigen::Vector3d middle = place + Eigen::Vector3d(0, 0, depth / 2);
        return solve_work_side(soft_machine(), skew_stack(), pass, middle)
            .compliance.topLeftCorner<2, 2>()
            .norm();
    };
    double most = 0;
    for (int k = 0; k <= 40; ++k) {
        most = std::max(most, gives(pass.path[0] + (pass.path[1] - pass.path[0]) * k / 40.0));
    }
    EXPECT_GT(gives(found), most / 1.05);
    EXPECT_NEAR(found.x(), 0.035, 1e-9);
}

// The tip of a pass whose place was not given goes down as the cut grows; the part's line then ends
// at its top, and what it shows there does not depend on the depth.
TEST(CutReceptance, WithoutAPlaceTheEdgeHangsFromThePartsTop) {
    Pass pass = cut_at_the_part();
    pass.from_top = true;
    const SolvedSide side = solve_work_side(soft_machine(), skew_stack(), pass, pass.path.front());
    EXPECT_NEAR(side.line.point.back(), 0, 1e-12);
    EXPECT_NEAR(side.line.point.front(), -0.09, 1e-12);
    Pass given = pass;
    given.from_top = false;
    const SolvedSide up = solve_work_side(soft_machine(), skew_stack(), given, pass.path.front());
    EXPECT_NEAR(up.line.point.front(), 0, 1e-12);
    EXPECT_NEAR(up.line.point.back(), 0.09 - pass.path.front().z(), 1e-12);
    const auto at = [](const SolvedSide& of, double coordinate) {
        return static_compliance(along_edge(of.line, {.height = {coordinate}}, 0, 0, false));
    };
    EXPECT_LT((at(side, 0) - at(up, up.line.point.back())).norm(), 1e-9 * at(side, 0).norm());
}

TEST(CutReceptance, TheHighestPlaceIsHighestAboveTheTable) {
    Pass pass;
    pass.path = {{0.02, 0, 0.01}, {-0.02, 0, 0.02}};
    EXPECT_EQ(highest_place(pass, TierFrame{}), pass.path[1]);
    TierFrame on_side;  // leaning to +x by 90 deg: the tier's -x is up
    on_side.axes = rotation_y(kPi / 2);
    pass.path = {{0.02, 0, 0.03}, {-0.02, 0, 0.01}};
    EXPECT_EQ(highest_place(pass, on_side), pass.path[1]);
    pass.path = {{0.035, 0, 0.045}, {0.035, -0.025, 0.045}};
    EXPECT_EQ(highest_place(pass, TierFrame{}), pass.path[1]) << "as high, but twists more";
    pass.path.clear();
    EXPECT_EQ(highest_place(pass, TierFrame{}), Eigen::Vector3d::Zero());
}

}  // namespace
}  // namespace standfast
