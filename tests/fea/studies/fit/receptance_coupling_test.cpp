#include "fea/studies/fit/receptance_coupling.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <numbers>

namespace standfast {
namespace {

/// Receptances of a free-free Euler-Bernoulli beam from its exact dynamic stiffness (textbook),
/// deflection and slope at the tip (z = 0) and at the root (z = length).
SegmentReceptance euler_beam(double length, double bending, double mass_per_length, double hertz) {
    const double omega = 2 * std::numbers::pi * hertz;
    const double b = std::pow(mass_per_length * omega * omega / bending, 0.25);
    const double c = std::cos(b * length), s = std::sin(b * length);
    const double ch = std::cosh(b * length), sh = std::sinh(b * length);
    // Shape a1 cos + a2 sin + a3 cosh + a4 sinh: motion and force at the ends by the a's.
    Eigen::Matrix4d motion, force;
    motion << 1, 0, 1, 0, 0, b, 0, b, c, s, ch, sh, -b * s, b * c, b * sh, b * ch;
    // Force on the beam in the sense of the deflection, moment in that of the slope. At z = 0
    // EI v''' and -EI v''; at the root the other way.
    const double b2 = b * b, b3 = b2 * b;
    force << 0, -b3, 0, b3, b2, 0, -b2, 0, -b3 * s, b3 * c, -b3 * sh, -b3 * ch, -b2 * c, -b2 * s,
        b2 * ch, b2 * sh;
    const Eigen::Matrix4d receptance = motion * (bending * force).inverse();
    return {.tip_tip = receptance.topLeftCorner<2, 2>(),
            .tip_root = receptance.topRightCorner<2, 2>(),
            .root_tip = receptance.bottomLeftCorner<2, 2>(),
            .root_root = receptance.bottomRightCorner<2, 2>()};
}

constexpr double kBending = 2.05e11 * 0.04 * 0.02 * 0.02 * 0.02 / 12;
constexpr double kMassPerLength = 7850 * 0.04 * 0.02;

/// The upper beam of 0.5 m as the base: its lower end is the joint.
EndReceptance upper_beam(double hertz) {
    return euler_beam(0.5, kBending, kMassPerLength, hertz).tip_tip;
}

// Two free-free beams of 0.5 and 0.3 m (E 205 GPa, density 7850 kg/m3, section 40 x 20 mm bending
// about the weak axis) coupled are one of 0.8 m: values computed from the closed form of the whole
// beam (Bishop & Johnson), at 25, 120, 310, 700 Hz: deflection per force and slope per moment at
// the tip.
TEST(ReceptanceCoupling, TwoFreeBeamsMakeOne) {
    struct Row {
        double hertz, deflection, slope;
    };
    for (const Row& row :
         {Row{25, -3.13578e-05, -9.62664e-05}, Row{120, 3.58467e-07, 7.76166e-05},
          Row{310, -2.66689e-07, 2.75601e-05}, Row{700, -6.46238e-08, 2.03274e-05}}) {
        const SegmentReceptance lower = euler_beam(0.3, kBending, kMassPerLength, row.hertz);
        const EndReceptance tip = couple(lower, upper_beam(row.hertz));
        // Six printed digits.
        EXPECT_NEAR(tip(0, 0).real() / row.deflection, 1, 4e-6) << row.hertz;
        EXPECT_NEAR(tip(1, 1).real() / row.slope, 1, 4e-6) << row.hertz;
    }
}

// The same beams through a joint of 5e7 N/m and 3e4 N m/rad (computed in another program).
TEST(ReceptanceCoupling, AJointBetweenThemGives) {
    struct Row {
        double hertz, deflection, slope_per_force;
    };
    EndReceptance joint = EndReceptance::Zero();
    joint(0, 0) = 1 / 5e7;
    joint(1, 1) = 1 / 3e4;
    for (const Row& row :
         {Row{25, -3.08751e-05, -5.14446e-05}, Row{120, 4.23034e-06, 3.12287e-05},
          Row{310, -2.55103e-07, 7.36463e-07}, Row{700, -1.06173e-08, 1.07671e-06}}) {
        const SegmentReceptance lower = euler_beam(0.3, kBending, kMassPerLength, row.hertz);
        const EndReceptance tip = couple(lower, upper_beam(row.hertz), joint);
        EXPECT_NEAR(tip(0, 0).real() / row.deflection, 1, 1e-5) << row.hertz;
        EXPECT_NEAR(std::abs(tip(1, 0).real() / row.slope_per_force), 1, 1e-5) << row.hertz;
    }
}

/// 0.6 m: slender; 0.06 m: as a cutter sticks out.
std::vector<CutterRun> rod(double length) {
    return {{.diameter = 0.010,
             .length = length,
             .material = {.name = "steel",
                          .youngs_modulus = 205e9,
                          .poissons_ratio = 0.3,
                          .density = 7850,
                          .loss_factor = 0}}};
}

TEST(ReceptanceCoupling, ASlenderRodOfElementsIsTheExactBeam) {
    const double bending = 205e9 * std::numbers::pi * std::pow(0.010, 4) / 64;
    const double mass = 7850 * std::numbers::pi * 0.010 * 0.010 / 4;
    // Away from its resonances (126, 348, 683 Hz) and antiresonances (87, 282, 589 Hz).
    for (const double hertz : {20.0, 55.0, 180.0, 440.0}) {
        const SegmentReceptance exact = euler_beam(0.6, bending, mass, hertz);
        const SegmentReceptance made = free_segment(rod(0.6), AngularFrequency::from_hertz(hertz));
        // Shear and rotary inertia, which the closed form leaves out, lower its resonances by
        // 0.02 to 0.3 % at length over diameter 60; between them that counts several times over.
        EXPECT_NEAR(made.tip_tip(0, 0).real() / exact.tip_tip(0, 0).real(), 1, 0.03) << hertz;
        EXPECT_NEAR(made.tip_root(0, 1).real() / exact.tip_root(0, 1).real(), 1, 0.03) << hertz;
        EXPECT_NEAR(made.root_root(1, 0).real() / exact.root_root(1, 0).real(), 1, 0.03) << hertz;
    }
}

TEST(ReceptanceCoupling, ALowFrequencyMovesAFreeRodAsARigidBody) {
    const SegmentReceptance made = free_segment(rod(0.6), AngularFrequency::from_hertz(1));
    const double mass = 7850 * std::numbers::pi * 0.010 * 0.010 / 4 * 0.6;
    const double omega = 2 * std::numbers::pi;
    // A force at the end of a free rod: 1/m for its middle and 3/m more by turning.
    EXPECT_NEAR(made.tip_tip(0, 0).real(), -4 / (mass * omega * omega),
                2e-3 * 4 / (mass * omega * omega));
}

EndReceptance some_base(double hertz) {
    const double omega = 2 * std::numbers::pi * hertz;
    const std::complex<double> sway = 1.0 / std::complex<double>(4e7 - 3.0 * omega * omega, 2e6);
    EndReceptance base;
    base << sway, 3.0 * sway, 3.0 * sway, 12.0 * sway + 2e-6;
    return base;
}

TEST(ReceptanceCoupling, UncouplingTurnsCouplingRound) {
    for (const double hertz : {60.0, 300.0, 900.0}) {
        const SegmentReceptance segment =
            free_segment(rod(0.06), AngularFrequency::from_hertz(hertz));
        const EndReceptance base = some_base(hertz);
        const EndReceptance back = uncouple(segment, couple(segment, base));
        EXPECT_LT((back - base).norm(), 1e-5 * base.norm()) << hertz;
    }
}

TEST(ReceptanceCoupling, AMeasuredTipComesBackAtItsOwnStickout) {
    for (const double hertz : {60.0, 300.0, 900.0}) {
        const SegmentReceptance segment =
            free_segment(rod(0.06), AngularFrequency::from_hertz(hertz));
        const EndReceptance modelled = some_base(hertz);
        const EndReceptance real = std::complex<double>(1.4, 0.1) * modelled;
        const std::complex<double> measured = couple(segment, real)(0, 0);
        const EndReceptance found = base_from_tip(segment, modelled, measured);
        EXPECT_LT(std::abs(couple(segment, found)(0, 0) - measured), 1e-9 * std::abs(measured));
        EXPECT_LT((found - real).norm(), 1e-5 * real.norm()) << hertz;
    }
}

}  // namespace
}  // namespace standfast
