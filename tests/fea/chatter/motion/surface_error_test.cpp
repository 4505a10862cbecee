#include "fea/chatter/motion/surface_error.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "tests/fea/chatter/milling_cases.hpp"
#include "tests/fea/chatter/surface_error_reference.hpp"

namespace standfast {
namespace {

using reference::even_cutter;
using reference::receptance_of;

struct Case {
    ModalReceptance receptance;
    RigidCut cut;
    std::vector<double> heights;
};

Case single_mode(Milling milling) {
    Case one{receptance_of({{900, 0.02, 5e6, 0, 1}}), {}, {0}};
    one.cut.cutter = even_cutter(2, 0.012);
    one.cut.engagement = engagement(milling, 0.0006, 0.012);
    one.cut.law.tangential = 800e6;
    one.cut.law.radial = 240e6;
    one.cut.feed_per_tooth = 0.1e-3;
    one.cut.depth = 2e-3;
    return one;
}

Case helix_and_edge() {
    Case one = single_mode(Milling::down);
    one.cut.cutter = even_cutter(2, 0.012, 30);
    one.cut.engagement = engagement(Milling::down, 0.0003, 0.012);
    one.cut.law.tangential_edge = 12e3;
    one.cut.law.radial_edge = 10e3;
    one.cut.feed_per_tooth = 0.08e-3;
    one.cut.depth = 6e-3;
    one.heights = {0, 1.5e-3, 3e-3, 4.5e-3, 6e-3};
    return one;
}

Case seven_modes() {
    Case one{receptance_of(reference::case_m1_modes()), {}, {0, 0.6e-3, 1.2e-3, 1.8e-3, 2.4e-3}};
    one.cut.cutter = even_cutter(4, 0.012, 38);
    one.cut.engagement = engagement(Milling::down, 0.00012, 0.012);
    one.cut.law.tangential = 1650e6;
    one.cut.law.radial = 742.5e6;
    one.cut.law.tangential_edge = 22e3;
    one.cut.law.radial_edge = 26e3;
    one.cut.feed_per_tooth = 0.05e-3;
    one.cut.depth = 2.4e-3;
    return one;
}

/// Largest deviations over a table, um.
struct Worst {
    double error_um = 0, peak_to_peak = 0, mean_um = 0;
};

Worst compare(const Case& one, const std::vector<reference::SurfaceErrorRow>& table) {
    Worst worst;
    for (const auto& row : table) {
        const StableMotion motion =
            stable_motion(one.receptance, one.cut, SpindleSpeed::from_rpm(row.rpm), one.heights);
        EXPECT_EQ(motion.error.size(), row.error_um.size());
        double largest = 0;
        for (std::size_t i = 0; i < row.error_um.size(); ++i) {
            const double got = motion.error[i] * 1e6;
            // Five decimals are printed.
            EXPECT_NEAR(got, row.error_um[i], 2e-5) << row.rpm << " rpm, height " << i;
            worst.error_um = std::max(worst.error_um, std::abs(got - row.error_um[i]));
            if (std::abs(got) > std::abs(largest)) largest = got;
        }
        EXPECT_NEAR(motion.largest_error * 1e6, largest, 1e-12);
        const auto relative = [&](double got, double table_value) {
            EXPECT_NEAR(got, table_value, 5e-4 * table_value) << row.rpm << " rpm";
            if (table_value > 0)
                worst.peak_to_peak = std::max(worst.peak_to_peak, std::abs(got / table_value - 1));
        };
        relative(motion.peak_to_peak.x() * 1e6, row.peak_to_peak_x_um);
        relative(motion.peak_to_peak.y() * 1e6, row.peak_to_peak_y_um);
        EXPECT_NEAR(motion.mean.y() * 1e6, row.mean_y_um, 1.1e-5);
        worst.mean_um = std::max(worst.mean_um, std::abs(motion.mean.y() * 1e6 - row.mean_y_um));
    }
    testing::Test::RecordProperty("worst_error_um", std::to_string(worst.error_um * 1e6) + "e-6");
    testing::Test::RecordProperty("worst_peak_to_peak", std::to_string(worst.peak_to_peak));
    testing::Test::RecordProperty("worst_mean_um", std::to_string(worst.mean_um * 1e6) + "e-6");
    return worst;
}

TEST(StableMotion, OneModeUpMillingMatchesTwoIndependentMethods) {
    compare(single_mode(Milling::up), reference::single_mode_up);
}

TEST(StableMotion, OneModeDownMillingMatchesTwoIndependentMethods) {
    compare(single_mode(Milling::down), reference::single_mode_down);
}

TEST(StableMotion, HelixAndEdgeForcesMatchTwoIndependentMethods) {
    compare(helix_and_edge(), reference::helix_and_edge);
}

TEST(StableMotion, SevenModesOfToolAndPartMatchTwoIndependentMethods) {
    compare(seven_modes(), reference::seven_modes);
}

TEST(StableMotion, MeanAndPeakForcesOfTheTabledCases) {
    // From the same tables: mean (Fx, Fy) and peak resultant, N. They were sampled over the angle,
    // which leaves 1.2e-4 of the peak; the closed form of the straight edge is below.
    const auto expect_forces = [](const Case& one, double fx, double fy, double peak) {
        EXPECT_NEAR(mean_force(one.cut).x(), fx, 2e-4 * std::hypot(fx, fy));
        EXPECT_NEAR(mean_force(one.cut).y(), fy, 2e-4 * std::hypot(fx, fy));
        EXPECT_NEAR(peak_force(one.cut).norm(), peak, 1.2e-4 * peak);
    };
    expect_forces(single_mode(Milling::up), -5.2876, 0.0441, 72.8055);
    expect_forces(single_mode(Milling::down), 4.3901, 2.9474, 72.8055);
    expect_forces(helix_and_edge(), 11.7765, 10.1758, 84.6888);
    expect_forces(seven_modes(), 8.2395, 10.0357, 65.2657);
    const double thickest = 0.1e-3 * std::sqrt(1 - 0.9 * 0.9);  // at 5 % of the diameter
    EXPECT_NEAR(peak_force(single_mode(Milling::down).cut).norm(),
                std::hypot(800e6, 240e6) * thickest * 2e-3, 1e-5);
}

TEST(StableMotion, TendsToTheStaticErrorAtLowSpeed) {
    // The slower, the nearer; with helix the force is continuous and nothing rings.
    Case one = helix_and_edge();
    const std::vector<double> still =
        static_error(static_compliance(one.receptance), one.cut, {1e-3, 2e-3, 4e-3});
    double before = 1;
    for (const double rpm : {400.0, 100.0, 30.0}) {
        const StableMotion motion =
            stable_motion(one.receptance, one.cut, SpindleSpeed::from_rpm(rpm), {1e-3, 2e-3, 4e-3});
        double worst = 0;
        for (std::size_t i = 0; i < still.size(); ++i)
            worst = std::max(worst, std::abs(motion.error[i] / still[i] - 1));
        EXPECT_LT(worst, before) << rpm;
        before = worst;
    }
    EXPECT_LT(before, 5e-3);
}

TEST(StableMotion, AFarModeAndAResidualComplianceAreTheSame) {
    Case one = helix_and_edge();
    const ModalReceptance base = one.receptance;
    const StableMotion with_mode =
        stable_motion(sum(base, receptance_of({{60000, 0.02, 2e7, 0, 1}})), one.cut,
                      SpindleSpeed::from_rpm(8000), one.heights);
    ModalReceptance with_residual = base;
    with_residual.residual(1, 1) = 1 / 2e7;
    const StableMotion instead =
        stable_motion(with_residual, one.cut, SpindleSpeed::from_rpm(8000), one.heights);
    for (std::size_t i = 0; i < one.heights.size(); ++i)
        EXPECT_NEAR(with_mode.error[i], instead.error[i], 0.02e-6) << i;
    EXPECT_NEAR(with_mode.mean.y(), instead.mean.y(), 1e-12);
    EXPECT_NEAR(with_mode.peak_to_peak.y(), instead.peak_to_peak.y(),
                0.01 * instead.peak_to_peak.y());
}

TEST(StableMotion, MirroredModesMirrorTheMotionAcrossTheFeed) {
    // The receptance is what counts: the sign of a mode's shape does not.
    Case one = seven_modes();
    for (ModalTerm& term : one.receptance.terms) term.shape = -term.shape;
    const StableMotion flipped =
        stable_motion(one.receptance, one.cut, SpindleSpeed::from_rpm(4000), one.heights);
    const StableMotion plain =
        stable_motion(seven_modes().receptance, one.cut, SpindleSpeed::from_rpm(4000), one.heights);
    for (std::size_t i = 0; i < one.heights.size(); ++i)
        EXPECT_NEAR(flipped.error[i], plain.error[i], 1e-15);
}

TEST(StableMotion, ASoftToolInDownMillingLeavesStockAtLowSpeed) {
    // Common practice, no source: climb milling pushes the cutter off the wall. The force on the
    // tool points away from the wall (-y side), toward +y.
    const Case one = single_mode(Milling::down);
    EXPECT_GT(mean_force(one.cut).y(), 0);
    Case edge = helix_and_edge();
    const std::vector<double> error =
        static_error(static_compliance(edge.receptance), edge.cut, {0, 3e-3, 5.9e-3});
    for (const double value : error) EXPECT_LT(value, 0);
}

TEST(StableMotion, RunoutMovesTheWallAsFarAsTheOutermostToothStandsOut) {
    // A stiff machine: only geometry is left.
    Case one = single_mode(Milling::down);
    one.receptance = receptance_of({{900, 0.02, 5e12, 0, 1}});
    one.cut.cutter.runout = {4e-6, -4e-6};
    const StableMotion motion =
        stable_motion(one.receptance, one.cut, SpindleSpeed::from_rpm(8000), one.heights);
    EXPECT_NEAR(motion.error[0], 4e-6, 1e-10);
}

TEST(StableMotion, EvenTeethTreatedAsUnevenGiveTheSameMotion) {
    // A tooth displaced by less than anything measurable makes the period a revolution.
    const Case one = seven_modes();
    Case uneven = one;
    uneven.cut.cutter.tooth_angle[2] += 2e-9;
    const SpindleSpeed speed = SpindleSpeed::from_rpm(4800);
    const StableMotion a = stable_motion(one.receptance, one.cut, speed, one.heights);
    const StableMotion b = stable_motion(uneven.receptance, uneven.cut, speed, one.heights);
    for (std::size_t i = 0; i < one.heights.size(); ++i) EXPECT_NEAR(a.error[i], b.error[i], 2e-10);
    EXPECT_NEAR(a.peak_to_peak.y(), b.peak_to_peak.y(), 2e-3 * a.peak_to_peak.y());
}

TEST(StableMotion, RefusesHeightsOutsideTheCutAndStandstill) {
    const Case one = single_mode(Milling::down);
    EXPECT_THROW(stable_motion(one.receptance, one.cut, SpindleSpeed{0}, {0}), std::domain_error);
    EXPECT_THROW(stable_motion(one.receptance, one.cut, SpindleSpeed{500}, {3e-3}),
                 std::domain_error);
    EXPECT_THROW(static_error(Eigen::Matrix3d::Identity(), one.cut, {-1e-6}), std::domain_error);
    Case undamped = one;
    undamped.receptance.terms[0].damping_ratio = 0;
    undamped.receptance.terms[0].frequency = {2 * 2 * 500.0};  // second harmonic of two teeth
    EXPECT_THROW(stable_motion(undamped.receptance, one.cut, SpindleSpeed{500}, {0}),
                 std::domain_error);
}

}  // namespace
}  // namespace standfast
