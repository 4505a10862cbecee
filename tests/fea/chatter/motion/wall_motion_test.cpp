#include "fea/chatter/motion/wall_motion.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/chatter/map/floquet.hpp"
#include "fea/chatter/motion/time_march.hpp"

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;

ModalReceptance soft_pair() {
    ModalReceptance receptance;
    receptance.terms = {
        {AngularFrequency::from_hertz(355), 0.03, Eigen::Vector3d{0.4, 0, 0.05}},
        {AngularFrequency::from_hertz(310), 0.028, Eigen::Vector3d{0, 0.4, 0.02}},
        {AngularFrequency::from_hertz(905), 0.018, Eigen::Vector3d{0.6 * 0.9, 0.8 * 0.9, 0}},
        {AngularFrequency::from_hertz(1650), 0.022, Eigen::Vector3d{3, 0.5, 0}},
        {AngularFrequency::from_hertz(1590), 0.024, Eigen::Vector3d{-0.5, 3, 0.3}},
    };
    receptance.residual = Eigen::Vector3d(2e-8, 2e-8, 5e-9).asDiagonal();
    receptance.residual(0, 1) = receptance.residual(1, 0) = 3e-9;
    return receptance;
}

RigidCut cut_of(Milling milling, double helix, int teeth) {
    RigidCut cut;
    cut.cutter.diameter = 0.012;
    cut.cutter.helix = helix * kDegree;
    for (int tooth = 0; tooth < teeth; ++tooth)
        cut.cutter.tooth_angle.push_back(2 * std::numbers::pi * tooth / teeth);
    cut.engagement = engagement(milling, 0.3e-3, 0.012);
    cut.law = {.tangential = 700e6,
               .radial = 280e6,
               .axial = 200e6,
               .tangential_edge = 13e3,
               .radial_edge = 10e3,
               .axial_edge = 2e3};
    cut.feed_per_tooth = 0.06e-3;
    cut.depth = 4e-3;
    return cut;
}

void expect_same_motion(const RigidCut& cut) {
    const std::vector<double> heights = {0, 1e-3, 2e-3, 3e-3, 4e-3};
    const ModalReceptance receptance = soft_pair();
    const WallMotions motions(receptance, cut, SpindleSpeed::from_rpm(600), heights);
    for (const double rpm : {600.0, 1733.0, 4650.0, 7950.0, 9000.0, 14400.0, 24000.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const StableMotion expected = stable_motion(receptance, cut, speed, heights);
        const WallMotion found = motions.at(speed);
        const double scale = expected.peak_to_peak.y();
        EXPECT_NEAR(found.peak_to_peak, scale, 1e-2 * scale) << rpm;
        for (std::size_t i = 0; i < heights.size(); ++i)
            EXPECT_NEAR(found.error[i], expected.error[i], 1e-3 * scale)
                << rpm << " rpm, height " << heights[i];
        EXPECT_NEAR(found.largest_error, expected.largest_error, 1e-3 * scale) << rpm;
    }
}

TEST(WallMotion, IsTheStableMotionOfAHelicalCutter) {
    expect_same_motion(cut_of(Milling::down, 40, 4));
    expect_same_motion(cut_of(Milling::up, 30, 3));
}

TEST(WallMotion, IsTheStableMotionOfAStraightCutter) {
    expect_same_motion(cut_of(Milling::down, 0, 2));
    expect_same_motion(cut_of(Milling::up, 0, 2));
}

TEST(ForceCourse, IsLinearInTheForceLaw) {
    const std::vector<double> heights = {0, 2e-3, 4e-3};
    const RigidCut whole = cut_of(Milling::down, 30, 4);
    RigidCut chip = whole, edge = whole, other = whole;
    chip.law.tangential_edge = chip.law.radial_edge = chip.law.axial_edge = 0;
    edge.law.tangential = edge.law.radial = edge.law.axial = 0;
    for (double* part : {&other.law.tangential, &other.law.radial, &other.law.axial}) *part *= 1.3;
    for (double* part :
         {&other.law.tangential_edge, &other.law.radial_edge, &other.law.axial_edge}) {
        *part *= 0.6;
    }
    const ModalReceptance receptance = soft_pair();
    const SpindleSpeed speed = SpindleSpeed::from_rpm(7950);
    const std::size_t harmonics = WallMotions::harmonics_needed(receptance, other, speed);
    const auto course = [&](const RigidCut& cut) {
        return force_course(cut, receptance.basis, harmonics, heights);
    };
    const WallMotion shared = WallMotions(receptance, other, speed, heights,
                                          combined(1.3, course(chip), 0.6, course(edge)))
                                  .at(speed);
    const WallMotion own = WallMotions(receptance, other, speed, heights).at(speed);
    EXPECT_NEAR(shared.peak_to_peak, own.peak_to_peak, 1e-12 * own.peak_to_peak);
    for (std::size_t i = 0; i < heights.size(); ++i) {
        EXPECT_NEAR(shared.error[i], own.error[i], 1e-12 * own.peak_to_peak) << heights[i];
    }
    EXPECT_THROW(WallMotions(receptance, other, speed, heights, ForceCourse{}), std::domain_error);
}

/// A cut whose teeth differ against a march in finer steps and slices, to a share of the motion.
void expect_as_marched(const RigidCut& cut, double rpm, double tolerance) {
    const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
    const ModalReceptance receptance = soft_pair();
    const DelaySystem system{receptance, cut.cutter, cut.engagement, cut.law};
    ASSERT_LT(largest_multiplier(system, speed, cut.depth).radius(), 0.95) << rpm;
    const March fine = time_march(receptance, cut, speed, {.revolutions = 60, .slices = 24});
    const WallMotion found = WallMotions(receptance, cut, speed, fine.height).at(speed);
    double low = fine.displacement.back().y(), high = low;
    for (auto d = fine.displacement.end() - fine.steps_per_revolution; d != fine.displacement.end();
         ++d) {
        low = std::min(low, d->y());
        high = std::max(high, d->y());
    }
    const double scale = high - low;
    EXPECT_NEAR(found.peak_to_peak, scale, tolerance * scale) << rpm;
    for (std::size_t k = 0; k < fine.height.size(); ++k)
        EXPECT_NEAR(found.error[k], fine.wall_error[k], tolerance * scale)
            << rpm << " rpm, height " << fine.height[k];
}

TEST(WallMotion, OfTeethThatDifferIsThatOfAFineMarch) {
    RigidCut runs_out = cut_of(Milling::down, 30, 3);
    runs_out.depth = 1e-3;
    runs_out.cutter.runout = {5e-6, -2e-6, -3e-6};
    RigidCut uneven = cut_of(Milling::up, 30, 3);
    uneven.depth = 1e-3;
    uneven.cutter.tooth_angle = {0, 2.0, 4.1};
    expect_as_marched(runs_out, 4650, 0.02);
    expect_as_marched(runs_out, 9000, 0.02);
    expect_as_marched(uneven, 9000, 0.02);
}

TEST(WallMotion, OfTeethThatHardlyDifferIsThatOfEqualTeeth) {
    RigidCut equal = cut_of(Milling::down, 30, 3);
    equal.depth = 1e-3;
    RigidCut hardly = equal;
    hardly.cutter.runout = {1e-12, 0, 0};
    const std::vector<double> heights = {0, 0.5e-3, 1e-3};
    for (const double rpm : {1733.0, 4650.0, 9000.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const WallMotion expected = WallMotions(soft_pair(), equal, speed, heights).at(speed);
        const WallMotion found = WallMotions(soft_pair(), hardly, speed, heights).at(speed);
        for (std::size_t i = 0; i < heights.size(); ++i)
            EXPECT_NEAR(found.error[i], expected.error[i], 0.02 * expected.peak_to_peak) << rpm;
        EXPECT_NEAR(found.waviness, expected.waviness, 0.05 * expected.waviness);
    }
}

TEST(WallMotion, RefusesSpeedsItWasNotPreparedFor) {
    const WallMotions motions(soft_pair(), cut_of(Milling::down, 30, 4),
                              SpindleSpeed::from_rpm(3000), {0});
    EXPECT_THROW(motions.at(SpindleSpeed::from_rpm(2000)), std::domain_error);
}

}  // namespace
}  // namespace standfast
