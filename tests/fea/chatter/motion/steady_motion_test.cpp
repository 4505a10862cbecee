// The motion that a stable cut settles to: the period map's fixed point against the sum of
// harmonics and against following the cut in time.
#include "fea/chatter/motion/steady_motion.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/chatter/motion/surface_error.hpp"
#include "fea/chatter/motion/time_march.hpp"
#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

using reference::even_cutter;
using reference::receptance_of;

struct Case {
    ModalReceptance receptance;
    RigidCut cut;
};

Case seven_modes(double helix_degrees, Milling milling = Milling::down) {
    Case one{receptance_of(reference::case_m1_modes()), {}};
    one.cut.cutter = even_cutter(4, 0.012, helix_degrees);
    one.cut.engagement = engagement(milling, 0.00012, 0.012);
    one.cut.law.tangential = 1650e6;
    one.cut.law.radial = 742.5e6;
    one.cut.law.tangential_edge = 22e3;
    one.cut.law.radial_edge = 26e3;
    one.cut.feed_per_tooth = 0.05e-3;
    one.cut.depth = 1.2e-3;
    return one;
}

Case two_teeth(Milling milling) {
    Case one{receptance_of({{900, 0.02, 5e6, 0, 1}, {700, 0.03, 8e6, 1, 0}}), {}};
    one.cut.cutter = even_cutter(2, 0.012, 30);
    one.cut.engagement = engagement(milling, 0.0006, 0.012);
    one.cut.law.tangential = 800e6;
    one.cut.law.radial = 240e6;
    one.cut.law.tangential_edge = 12e3;
    one.cut.law.radial_edge = 10e3;
    one.cut.feed_per_tooth = 0.1e-3;
    one.cut.depth = 3e-3;
    return one;
}

std::vector<double> heights_of(const RigidCut& cut) {
    return {0, 0.25 * cut.depth, 0.5 * cut.depth, 0.75 * cut.depth, cut.depth};
}

double wall_error(const SteadyMotion& motion, const RigidCut& cut, double height) {
    const bool up = cut.engagement.milling == Milling::up;
    const double phi = (up ? 0 : std::numbers::pi) +
                       std::tan(cut.cutter.helix) * height / (cut.cutter.diameter / 2);
    const double y = motion.displacement(phi, up).y();
    return up ? y : -y;
}

void expect_both_ways(const Case& one, double rpm, double tolerance) {
    const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
    const SteadyMotion fixed(prepare_motion(one.receptance, one.cut), speed, 8);
    const std::vector<double> heights = heights_of(one.cut);
    const StableMotion sum = stable_motion(one.receptance, one.cut, speed, heights);
    for (std::size_t k = 0; k < heights.size(); ++k) {
        EXPECT_NEAR(wall_error(fixed, one.cut, heights[k]), sum.error[k],
                    tolerance * std::abs(sum.largest_error))
            << rpm << " rpm at " << heights[k];
    }
    EXPECT_LT((fixed.mean() - sum.mean).norm(), tolerance * sum.mean.norm()) << rpm;
    EXPECT_LT((fixed.peak_to_peak() - sum.peak_to_peak).norm(), 5e-3 * sum.peak_to_peak.norm());
}

TEST(SteadyMotion, OfEqualTeethIsTheSumOfHarmonicsToOneInAHundredThousand) {
    for (const double rpm : {4100.0, 6000.0, 9700.0}) {
        expect_both_ways(seven_modes(38), rpm, 1e-5);
        expect_both_ways(seven_modes(0), rpm, 1e-5);
        expect_both_ways(two_teeth(Milling::up), rpm, 1e-5);
        expect_both_ways(two_teeth(Milling::down), rpm, 1e-5);
    }
}

TEST(SteadyMotion, WithAResidualThatAnswersAtOnce) {
    Case one = seven_modes(38);
    one.receptance.residual.diagonal() << 1e-8, 2e-8, 0;
    expect_both_ways(one, 6000, 1e-5);
}

TEST(SteadyMotion, TakenOverARevolutionIsThatOfEqualTeeth) {
    // Teeth a billionth of a radian off their places are followed one by one over a revolution.
    for (const Case& one : {seven_modes(38), seven_modes(0), two_teeth(Milling::up)}) {
        Case hardly = one;
        hardly.cut.cutter.tooth_angle[1] += 3e-9;
        const SpindleSpeed speed = SpindleSpeed::from_rpm(6000);
        const SteadyMotion tooth(prepare_motion(one.receptance, one.cut), speed, 8);
        const SteadyMotion turn(prepare_motion(hardly.receptance, hardly.cut), speed, 8);
        for (const double height : heights_of(one.cut)) {
            const double error = wall_error(tooth, one.cut, height);
            EXPECT_NEAR(wall_error(turn, hardly.cut, height), error, 1e-5 * std::abs(error));
        }
    }
}

/// Against following the cut in time; `leaves_cut`: with teeth that may miss, as the map's may not.
void expect_as_marched(const Case& one, double rpm, double tolerance, bool leaves_cut) {
    const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
    const March march =
        time_march(one.receptance, one.cut, speed, {.revolutions = 60, .leaves_cut = leaves_cut});
    const StableMotion motion = stable_motion(one.receptance, one.cut, speed, march.height);
    Eigen::Array3d low = march.displacement.back().array(), high = low;
    for (std::size_t k =
             march.displacement.size() - static_cast<std::size_t>(march.steps_per_revolution);
         k < march.displacement.size(); ++k) {
        low = low.min(march.displacement[k].array());
        high = high.max(march.displacement[k].array());
    }
    const Eigen::Vector3d peak_to_peak = high - low;
    for (std::size_t k = 0; k < march.height.size(); ++k) {
        EXPECT_NEAR(motion.error[k], march.wall_error[k], tolerance * peak_to_peak.y())
            << rpm << " rpm at " << march.height[k];
    }
    EXPECT_LT((peak_to_peak - motion.peak_to_peak).norm(), tolerance * peak_to_peak.norm()) << rpm;
}

TEST(SteadyMotion, WithUnequalPitchIsWhatTheLinearMarchSettlesTo) {
    Case two = two_teeth(Milling::down);
    two.cut.cutter.tooth_angle[1] = 170 * std::numbers::pi / 180;
    Case four = seven_modes(38);
    const double degree = std::numbers::pi / 180;
    four.cut.cutter.tooth_angle = {0, 80 * degree, 180 * degree, 265 * degree};
    for (const double rpm : {5200.0, 8000.0}) {
        expect_as_marched(two, rpm, 0.01, false);
        expect_as_marched(four, rpm, 0.01, false);
    }
}

TEST(SteadyMotion, WithRunoutIsWhatTheTimeMarchSettlesTo) {
    // A stiff slot: chips much thicker than runout and vibration almost everywhere.
    Case slot = two_teeth(Milling::down);
    slot.receptance = receptance_of({{900, 0.02, 4e7, 0, 1}, {700, 0.03, 6e7, 1, 0}});
    slot.cut.engagement = engagement(Milling::slot, 0.012, 0.012);
    slot.cut.depth = 1.5e-3;
    slot.cut.cutter.runout = {2e-6, -2e-6};
    for (const double rpm : {5200.0, 8000.0}) expect_as_marched(slot, rpm, 0.01, true);
}

TEST(SteadyMotion, WhereRunoutMakesAToothMiss) {
    Case two = two_teeth(Milling::down);
    two.cut.depth = 1e-3;
    two.cut.cutter.runout = {80e-6, -80e-6};  // the feed per tooth is 0.1 mm
    expect_as_marched(two, 8000, 0.01, true);
}

}  // namespace
}  // namespace standfast
