#include "fea/chatter/limits/zero_order.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <complex>
#include <numbers>

#include "fea/chatter/limits/lobe_segments.hpp"
#include "fea/chatter/limits/receptance_interpolation.hpp"
#include "tests/fea/chatter/averaged_reference.hpp"
#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

using reference::even_cutter;
using reference::receptance_of;
constexpr double searched = 0.2;  // m

SampledReceptance sampled(const ModalReceptance& receptance, double up_to_hertz) {
    return sample_receptance([&](AngularFrequency w) { return receptance_at(receptance, w); },
                             receptance.terms, AngularFrequency::from_hertz(up_to_hertz));
}

SpeedLimit limit_at(const DelaySystem& system, const SampledReceptance& receptance, double rpm) {
    return zero_order_limits(system, receptance, {SpindleSpeed::from_rpm(rpm)}, searched)
        .speeds.front();
}

/// Largest relative error of depth and largest error of frequency over a table.
struct WorstErrors {
    double depth = 0, hertz = 0;

    void add(const SpeedLimit& got, double depth_mm, double chatter_hertz) {
        ASSERT_TRUE(got.limit.has_value()) << got.speed.rpm() << " rpm";
        const double relative = std::abs(*got.limit * 1e3 / depth_mm - 1);
        const double off = std::abs(*got.chatter_hertz - chatter_hertz);
        if (relative > 1e-3 || off > 0.2)
            ADD_FAILURE() << got.speed.rpm() << " rpm: " << *got.limit * 1e3 << " mm at "
                          << *got.chatter_hertz << " Hz; table " << depth_mm << " mm, "
                          << chatter_hertz << " Hz";
        depth = std::max(depth, relative);
        hertz = std::max(hertz, off);
    }
};

// ---- turning: the average is exact -------------------------------------------------------

SampledReceptance turning_receptance() {
    return sampled(receptance_of({{400, 0.03, 2.0e7, 1, 0}}), 2000);
}

/// One tooth a revolution; the force opposes the mode with Ks per width.
AveragedCut turning_cut() {
    AveragedCut cut;
    cut.mean_matrix(0, 0) = -2.0e9;
    cut.pitch = {2 * std::numbers::pi};
    return cut;
}

TEST(AveragedLimits, TurningMatchesTheClosedFormOfTlustyAndMerritt) {
    std::vector<SpindleSpeed> speeds;
    for (const auto& row : reference::turning) speeds.push_back(SpindleSpeed::from_rpm(row.rpm));
    const StabilityLimits limits =
        averaged_limits(turning_cut(), turning_receptance(), speeds, searched);
    ASSERT_EQ(limits.speeds.size(), reference::turning.size());
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        const auto& row = reference::turning[i];
        ASSERT_TRUE(limits.speeds[i].limit);
        EXPECT_NEAR(*limits.speeds[i].limit * 1e3, row.depth_mm, 1e-5 * row.depth_mm) << row.rpm;
        EXPECT_NEAR(*limits.speeds[i].chatter_hertz, row.chatter_hertz, 2e-4) << row.rpm;
    }
}

TEST(AveragedLimits, TheLeastTurningWidthIsTwoKZetaOnePlusZetaOverKs) {
    // Worst speeds of the first five lobes, from the same closed form.
    for (const double rpm : {32743.6, 14082.4, 8970.2, 6581.1, 5196.9}) {
        const auto limits = averaged_limits(turning_cut(), turning_receptance(),
                                            {SpindleSpeed::from_rpm(rpm)}, searched);
        ASSERT_TRUE(limits.speeds[0].limit);
        EXPECT_NEAR(*limits.speeds[0].limit, 2 * 2.0e7 * 0.03 * 1.03 / 2.0e9, 1e-9) << rpm;
        EXPECT_NEAR(*limits.speeds[0].chatter_hertz, 411.8252, 0.02) << rpm;
    }
}

// ---- milling ------------------------------------------------------------------------------

DelaySystem example_a(int teeth, bool up) {
    DelaySystem system;
    system.cutter = even_cutter(teeth, 0.02);
    system.engagement = engagement(up ? Milling::up : Milling::down, 0.01, 0.02);
    system.law.tangential = 600e6;
    system.law.radial = 0.07 * 600e6;
    return system;
}

TEST(ZeroOrder, ExampleAMatchesIndependentLimits) {
    const SampledReceptance receptance =
        sampled(receptance_of({{603, 0.039, 5.59e6, 1, 0}, {666, 0.035, 5.715e6, 0, 1}}), 4000);
    WorstErrors worst;
    for (const auto& row : reference::example_a)
        worst.add(limit_at(example_a(row.teeth, row.up), receptance, row.rpm), row.depth_mm,
                  row.chatter_hertz);
    RecordProperty("worst_depth_error", std::to_string(worst.depth));
    RecordProperty("worst_hertz_error", std::to_string(worst.hertz));
}

/// A mode by its complex residue: (alpha + beta s)/(s^2 + 2 zeta w s + w^2).
struct ResidueMode {
    double hertz, damping, residue_re, residue_im;
};

std::complex<double> by_residues(const std::vector<ResidueMode>& modes, double w) {
    std::complex<double> sum = 0;
    for (const ResidueMode& mode : modes) {
        const double wn = 2 * std::numbers::pi * mode.hertz;
        const double wd = wn * std::sqrt(1 - mode.damping * mode.damping);
        const std::complex<double> s(0, w);
        const double alpha = 2 * (mode.damping * wn * mode.residue_re - wd * mode.residue_im);
        sum += (alpha + 2 * mode.residue_re * s) / (s * s + 2 * mode.damping * wn * s + wn * wn);
    }
    return sum;
}

TEST(ZeroOrder, ExampleBWithComplexResiduesMatchesIndependentLimits) {
    const std::vector<ResidueMode> x = {{452.77, 0.123718, 9.202966e-5, -1.862195e-4},
                                        {1448.53, 0.01651, -4.181562e-5, -3.043618e-4}};
    const std::vector<ResidueMode> y = {{516.17, 0.0243, -2.3929e-6, -1.721539e-4},
                                        {1407.64, 0.0324, 4.055052e-5, -3.618808e-4}};
    std::vector<ModalTerm> peaks;
    for (const auto& modes : {x, y})
        for (const ResidueMode& mode : modes)
            peaks.push_back(
                {AngularFrequency::from_hertz(mode.hertz), mode.damping, Eigen::Vector3d::Zero()});
    const SampledReceptance receptance = sample_receptance(
        [&](AngularFrequency w) {
            Eigen::Matrix3cd value = Eigen::Matrix3cd::Zero();
            value(0, 0) = by_residues(x, w.radians_per_second);
            value(1, 1) = by_residues(y, w.radians_per_second);
            return value;
        },
        peaks, AngularFrequency::from_hertz(5000));
    DelaySystem system;
    system.cutter = even_cutter(2, 0.03175);
    system.engagement = engagement(Milling::down, 0.03175 / 2, 0.03175);
    system.law.tangential = 1319.4e6;
    system.law.radial = 788.8e6;
    WorstErrors worst;
    for (const auto& row : reference::example_b)
        worst.add(limit_at(system, receptance, row.rpm), row.depth_mm, row.chatter_hertz);
    RecordProperty("worst_depth_error", std::to_string(worst.depth));
    RecordProperty("worst_hertz_error", std::to_string(worst.hertz));
}

DelaySystem case_m1(double immersion, double helix_degrees = 0) {
    DelaySystem system;
    system.receptance = receptance_of(reference::case_m1_modes());
    system.cutter = even_cutter(4, 0.012, helix_degrees);
    system.engagement =
        engagement(immersion < 1 ? Milling::down : Milling::slot, immersion * 0.012, 0.012);
    system.law.tangential = 1650e6;
    system.law.radial = 0.45 * 1650e6;
    return system;
}

TEST(ZeroOrder, ToolAndPartWithCrossTermsMatchIndependentLimits) {
    const SampledReceptance receptance = sampled(case_m1(1).receptance, 8000);
    WorstErrors worst;
    for (const auto& row : reference::case_m1)
        worst.add(limit_at(case_m1(row.immersion), receptance, row.rpm), row.depth_mm,
                  row.chatter_hertz);
    RecordProperty("worst_depth_error", std::to_string(worst.depth));
    RecordProperty("worst_hertz_error", std::to_string(worst.hertz));
}

TEST(ZeroOrder, ASlotWithFourTeethHasNothingToAverageSoTheLimitIsThePeriodicOne) {
    const SampledReceptance receptance = sampled(case_m1(1).receptance, 8000);
    for (const auto& row : reference::case_m1) {
        if (row.immersion != 1) continue;
        const SpeedLimit limit = limit_at(case_m1(1), receptance, row.rpm);
        EXPECT_NEAR(*limit.limit * 1e3, row.periodic_mm, 2e-5 * row.periodic_mm) << row.rpm;
    }
}

TEST(ZeroOrder, HelixDoesNotChangeTheAveragedLimit) {
    const SampledReceptance receptance = sampled(case_m1(1).receptance, 8000);
    for (const double rpm : {2400.0, 5700.0, 9900.0}) {
        const double straight = *limit_at(case_m1(0.2, 0), receptance, rpm).limit;
        EXPECT_NEAR(*limit_at(case_m1(0.2, 38), receptance, rpm).limit, straight, 1e-12 * straight);
    }
}

TEST(ZeroOrder, LimitAndFrequencySatisfyTheLoopEquationOnTheExactReceptance) {
    // The determinant is written out, without the eigenvalues that the search goes by.
    const DelaySystem system = case_m1(0.2);
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    for (const double rpm : {900.0, 2400.0, 5200.0, 8200.0, 14000.0, 24000.0}) {
        const SpeedLimit limit = limit_at(system, receptance, rpm);
        ASSERT_TRUE(limit.limit) << rpm;
        const AngularFrequency w = AngularFrequency::from_hertz(*limit.chatter_hertz);
        const double delay = 60 / (4 * rpm);
        const std::complex<double> factor = 1.0 - std::polar(1.0, -w.radians_per_second * delay);
        const Eigen::Matrix3cd loop =
            Eigen::Matrix3cd::Identity() -
            *limit.limit * factor *
                mean_directional_matrix(system, 0.01).cast<std::complex<double>>() *
                receptance_at(system.receptance, w);
        EXPECT_LT(std::abs(loop.determinant()), 2e-4) << rpm;
    }
}

TEST(ZeroOrder, TurningTheAxesOfToolAndForceTogetherIsTheSameCut) {
    // Feed along -x with the wall at -y is feed along x seen from the other side: with every
    // shape turned by 180 deg about z the receptance is the same, cross terms included.
    DelaySystem system = case_m1(0.5);
    const double before = *limit_at(system, sampled(system.receptance, 8000), 5200).limit;
    system.receptance =
        in_axes(system.receptance, Eigen::Vector3d(-1, -1, 1).asDiagonal().toDenseMatrix());
    EXPECT_NEAR(*limit_at(system, sampled(system.receptance, 8000), 5200).limit, before,
                1e-12 * before);
    // Mirrored in one axis the skewed mode points elsewhere: not the same cut.
    system.receptance =
        in_axes(system.receptance, Eigen::Vector3d(1, -1, 1).asDiagonal().toDenseMatrix());
    EXPECT_GT(std::abs(*limit_at(system, sampled(system.receptance, 8000), 5200).limit - before),
              1e-3 * before);
}

TEST(ZeroOrder, ScalingUnitsScalesTheLimit) {
    // Twice the stiffness, or half the cutting force, is twice the depth.
    DelaySystem system = case_m1(0.2);
    SampledReceptance receptance = sampled(system.receptance, 8000);
    const double before = *limit_at(system, receptance, 3650).limit;
    for (auto& value : receptance.value) value /= 2;
    EXPECT_NEAR(*limit_at(system, receptance, 3650).limit, 2 * before, 1e-9 * before);
    system.law.tangential /= 2;
    system.law.radial /= 2;
    EXPECT_NEAR(*limit_at(system, receptance, 3650).limit, 4 * before, 1e-9 * before);
}

TEST(ZeroOrder, StableToTheSearchedDepthMeansNoLimit) {
    const DelaySystem system = case_m1(0.06);
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    const StabilityLimits limits =
        zero_order_limits(system, receptance, {SpindleSpeed::from_rpm(4000)}, 0.004);
    EXPECT_FALSE(limits.speeds[0].limit);  // 4.026 mm by the table
    EXPECT_FALSE(limits.speeds[0].chatter_hertz);
    EXPECT_FALSE(limits.speeds[0].kind);
    EXPECT_EQ(limits.searched_to, 0.004);
}

TEST(ZeroOrder, LimitsRunSmoothlyOverSpeedBetweenLobes) {
    // A coarse scan of frequency would leave steps of a percent.
    const DelaySystem system = case_m1(0.2);
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    std::vector<SpindleSpeed> speeds;
    for (int i = 0; i < 400; ++i) speeds.push_back(SpindleSpeed::from_rpm(5000 + 0.25 * i));
    const StabilityLimits limits = zero_order_limits(system, receptance, speeds, searched);
    for (std::size_t i = 2; i < speeds.size(); ++i) {
        const double a = *limits.speeds[i - 2].limit, b = *limits.speeds[i - 1].limit,
                     c = *limits.speeds[i].limit;
        EXPECT_LT(std::abs(a - 2 * b + c), 2e-6 * b) << speeds[i].rpm();
    }
}

// ---- unevenly spaced teeth ------------------------------------------------------------------

TEST(ZeroOrder, SlightlyUnevenTeethTendToEvenOnes) {
    DelaySystem system = case_m1(0.2);
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    for (const double rpm : {2400.0, 3650.0, 5700.0, 9900.0}) {
        const SpeedLimit even = limit_at(case_m1(0.2), receptance, rpm);
        system.cutter.tooth_angle[1] = std::numbers::pi / 2 + 1e-6;
        const SpeedLimit nearly = limit_at(system, receptance, rpm);
        ASSERT_TRUE(nearly.limit);
        EXPECT_NEAR(*nearly.limit, *even.limit, 2e-5 * *even.limit) << rpm;
        EXPECT_NEAR(*nearly.chatter_hertz, *even.chatter_hertz, 0.02) << rpm;
    }
}

TEST(ZeroOrder, UnevenTeethRaiseTheLimitWhereTheirDelaysOpposeEachOther) {
    // Two pitches whose phases at the chatter frequency differ by pi cancel half the regeneration:
    // common practice in choosing a variable-pitch cutter, dp = pi n / (60 f) x 2 pi / 2.
    DelaySystem system = case_m1(0.2);
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    const double rpm = 900;
    const SpeedLimit even = limit_at(system, receptance, rpm);
    const double apart = std::numbers::pi * (rpm / 60) / *even.chatter_hertz;
    const double half_turn = std::numbers::pi;
    system.cutter.tooth_angle = {0, half_turn / 2 - apart / 2, half_turn,
                                 1.5 * half_turn - apart / 2};
    const SpeedLimit uneven = limit_at(system, receptance, rpm);
    ASSERT_TRUE(uneven.limit);
    EXPECT_GT(*uneven.limit, 1.5 * *even.limit);
    // And it lies on the edge: the loop equation with every delay of its own.
    std::complex<double> factor = 0;
    const double w = 2 * std::numbers::pi * *uneven.chatter_hertz;
    for (int tooth = 0; tooth < 4; ++tooth)
        factor += (1.0 - std::polar(1.0, -w * tooth_delay(system.cutter, tooth,
                                                          SpindleSpeed::from_rpm(rpm)))) /
                  4.0;
    const Eigen::Matrix3cd loop =
        Eigen::Matrix3cd::Identity() -
        *uneven.limit * factor *
            mean_directional_matrix(system, 0.01).cast<std::complex<double>>() *
            receptance_at(system.receptance, {w});
    EXPECT_LT(std::abs(loop.determinant()), 2e-4);
}

// ---- corner radius and ball ------------------------------------------------------------------

TEST(ZeroOrder, AVanishingCornerRadiusTendsToTheSquareCorner) {
    DelaySystem system = case_m1(0.2);
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    const double square = *limit_at(system, receptance, 5200).limit;
    double before = 1;
    for (const double radius : {20e-6, 5e-6, 1e-6}) {
        system.cutter.corner_radius = radius;
        const double change = std::abs(*limit_at(system, receptance, 5200).limit / square - 1);
        EXPECT_LT(change, before);
        before = change;
    }
    EXPECT_LT(before, 2e-3);
}

TEST(ZeroOrder, TheLimitOfABallIsItsOwnDepth) {
    // Held at the A0 of the reported depth, the averaged limit is that depth.
    DelaySystem system = case_m1(1);
    system.cutter.corner_radius = system.cutter.diameter / 2;
    const SampledReceptance receptance = sampled(system.receptance, 8000);
    for (const double rpm : {2400.0, 5200.0, 8200.0}) {
        const SpeedLimit limit = limit_at(system, receptance, rpm);
        ASSERT_TRUE(limit.limit);
        AveragedCut cut{mean_directional_matrix(system, *limit.limit), {}};
        cut.pitch.assign(4, std::numbers::pi / 2);
        const auto own = averaged_limits(cut, receptance, {SpindleSpeed::from_rpm(rpm)}, searched);
        EXPECT_NEAR(*own.speeds[0].limit, *limit.limit, 1e-4 * *limit.limit) << rpm;
    }
}

// ---- the samples ------------------------------------------------------------------------------

TEST(SampleReceptance, StepsAreAQuarterOfTheHalfPowerWidthAtPeaksAndFiveHertzElsewhere) {
    const ModalReceptance receptance = receptance_of(reference::case_m1_modes());
    const SampledReceptance samples = sampled(receptance, 5000);
    ASSERT_GE(samples.frequency.back().hertz(), 5000 * (1 - 1e-12));
    EXPECT_GT(samples.frequency.front().hertz(), 0);
    for (std::size_t i = 1; i < samples.frequency.size(); ++i) {
        const double from = samples.frequency[i - 1].hertz(), to = samples.frequency[i].hertz();
        EXPECT_GT(to, from);
        EXPECT_LE(to - from, 5 * (1 + 1e-9));
        for (const ModalTerm& mode : receptance.terms) {
            const double peak = mode.frequency.hertz();
            const double width = 2 * mode.damping_ratio * peak;
            if (std::abs(from - peak) < width) {
                EXPECT_LE(to - from, width / 4 * (1 + 1e-9)) << from << " Hz";
            }
        }
    }
}

TEST(ReceptanceInterpolation, IsWithinATenThousandthBetweenSamples) {
    const ModalReceptance receptance = receptance_of(reference::case_m1_modes());
    const SampledReceptance samples = sampled(receptance, 5000);
    double worst = 0;
    for (std::size_t i = 0; i + 1 < samples.frequency.size(); ++i) {
        const ReceptanceInterpolation local = interpolation(samples, i);
        for (const double share : {0.25, 0.5, 0.75}) {
            const double w = samples.frequency[i].radians_per_second * (1 - share) +
                             samples.frequency[i + 1].radians_per_second * share;
            const Eigen::Matrix3cd exact = receptance_at(receptance, {w});
            worst = std::max(worst, (value_at(local, w) - exact).norm() / exact.norm());
        }
    }
    RecordProperty("worst_relative_error", std::to_string(worst));
    EXPECT_LT(worst, 1e-4);
}

TEST(ZeroOrder, RefusesWhatCannotBeAnswered) {
    const DelaySystem system = case_m1(0.2);
    const SampledReceptance receptance = sampled(system.receptance, 3000);
    EXPECT_THROW(zero_order_limits(system, receptance, {SpindleSpeed{0}}, searched),
                 std::domain_error);
    EXPECT_THROW(zero_order_limits(system, receptance, {SpindleSpeed{100}}, 0), std::domain_error);
    EXPECT_THROW(zero_order_limits(system, SampledReceptance{}, {SpindleSpeed{100}}, searched),
                 std::domain_error);
    EXPECT_TRUE(zero_order_limits(system, receptance, {}, searched).speeds.empty());
}

}  // namespace
}  // namespace standfast
