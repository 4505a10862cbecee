#include "fea/chatter/equation/delay_system.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/cutting/edge_law.hpp"
#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

constexpr double pi = std::numbers::pi;

DelaySystem plain_system(Milling milling, double immersion, double helix_degrees) {
    DelaySystem system;
    system.cutter = reference::even_cutter(3, 0.016, helix_degrees);
    system.engagement = engagement(milling, immersion * 0.016, 0.016);
    system.law.tangential = 900e6;
    system.law.radial = 320e6;
    system.law.axial = 210e6;
    system.law.tangential_edge = 20e3;
    return system;
}

/// The cutting force with the tool displaced by d since the tooth before: the chip of every edge
/// point grows by the displacement along the outward normal of the envelope.
Eigen::Vector3d displaced_force(const DelaySystem& system, double phi, double depth,
                                const Eigen::Vector3d& d) {
    // The width per height of an arc grows without bound toward the tip: many points there.
    const int points = system.cutter.corner_radius > 0 ? 400000 : 4000;
    const double feed = 0.1e-3;
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth)
        for (int i = 0; i < points; ++i) {
            const double height = depth * (i + 0.5) / points;
            const double corner = system.cutter.corner_radius;
            const double cosine = height < corner ? 1 - height / corner : 0;
            const double sine = std::sqrt(1 - cosine * cosine);
            double angle = phi - system.cutter.tooth_angle[std::size_t(tooth)] -
                           lag_per_height(system.cutter) * height;
            angle -= 2 * pi * std::floor(angle / (2 * pi));
            if (angle < system.engagement.entry || angle > system.engagement.exit) continue;
            const double c = std::cos(angle), s = std::sin(angle);
            const Eigen::Vector3d outward(s * sine, c * sine, -cosine);
            const double chip = feed * s * sine + outward.dot(d);
            const double width = depth / points / sine;
            const Eigen::Vector3d along(-c, s, 0), up(s * cosine, c * cosine, sine);
            sum += width * ((system.law.tangential * chip + system.law.tangential_edge) * along -
                            system.law.radial * chip * outward - system.law.axial * chip * up);
        }
    return sum;
}

void expect_derivative(const DelaySystem& system, double phi, double depth, double tolerance) {
    const Eigen::Matrix3d matrix = directional_matrix(system, phi, depth);
    const double step = 1e-6;
    for (int axis = 0; axis < 3; ++axis) {
        const Eigen::Vector3d d = step * Eigen::Vector3d::Unit(axis);
        const Eigen::Vector3d slope =
            (displaced_force(system, phi, depth, d) - displaced_force(system, phi, depth, -d)) /
            (2 * step);
        EXPECT_LT((matrix.col(axis) - slope).norm(), tolerance * matrix.norm())
            << "axis " << axis << " at phi " << phi;
    }
}

TEST(DirectionalMatrix, IsTheDerivativeOfTheCuttingForceByTheVibration) {
    for (const Milling milling : {Milling::down, Milling::up})
        for (const double helix : {0.0, 40.0}) {
            const DelaySystem system = plain_system(milling, 0.35, helix);
            for (const double phi : {0.5, 1.0, 1.9, 2.4}) {
                if (directional_matrix(system, phi, 0.009).norm() == 0) continue;
                expect_derivative(system, phi, 0.009, 2e-3);
            }
        }
}

TEST(DirectionalMatrix, OfABallFeelsMotionAlongItsAxis) {
    DelaySystem system = plain_system(Milling::slot, 1, 30);
    system.cutter.corner_radius = 0.008;
    expect_derivative(system, 1.0, 0.004, 2e-3);
    EXPECT_GT(directional_matrix(system, 1.0, 0.004).col(2).norm(), 0);
    // Plunging thickens the chip: the force answers upward.
    EXPECT_LT(mean_directional_matrix(system, 0.0002)(2, 2), 0);
}

TEST(DirectionalMatrix, IsPeriodicAndZeroOutsideTheCut) {
    const DelaySystem system = plain_system(Milling::down, 0.1, 0);
    const EdgeSum<Eigen::Matrix3d> sum = directional_sum(system, 0.004);
    const double inside = (system.engagement.entry + pi) / 2;
    EXPECT_GT(value_at(sum, inside).norm(), 0);
    EXPECT_LT((value_at(sum, inside) - value_at(sum, inside + 2 * pi / 3)).norm(),
              1e-9 * value_at(sum, inside).norm());
    EXPECT_EQ(value_at(sum, system.engagement.entry - 0.01).norm(), 0);
    EXPECT_EQ(value_at(sum, 0.01).norm(), 0);
}

TEST(DirectionalMatrix, IsConstantInASlotWithFourStraightTeeth) {
    DelaySystem system = plain_system(Milling::slot, 1, 0);
    system.cutter = reference::even_cutter(4, 0.016);
    const Eigen::Matrix3d mean = mean_directional_matrix(system, 0.005) * 0.005;
    for (const double phi : {0.1, 0.7, 1.2, 2.9})
        EXPECT_LT((directional_matrix(system, phi, 0.005).leftCols<2>() - mean.leftCols<2>())
                      .topRows<2>()
                      .norm(),
                  1e-12 * mean.norm());
}

TEST(DirectionalMatrix, IsConstantOverAWholeAxialPitch) {
    // Depth 2 pi R/(N tan beta): Zatarain, Munoa, Peigne and Insperger, CIRP Annals 55/1 (2006)
    // (from memory).
    const DelaySystem system = plain_system(Milling::down, 0.2, 35);
    const double pitch = pi * 0.016 / (3 * std::tan(system.cutter.helix));
    const Eigen::Matrix3d mean = mean_directional_matrix(system, pitch) * pitch;
    for (const double phi : {0.0, 0.6, 1.4, 2.0})
        EXPECT_LT((directional_matrix(system, phi, pitch) - mean).norm(), 1e-10 * mean.norm());
}

TEST(MeanDirectionalMatrix, IsTheMeanOverARevolutionWhateverTheHelix) {
    for (const double helix : {0.0, 38.0}) {
        DelaySystem system = plain_system(Milling::down, 0.35, helix);
        const double depth = 0.007;
        const EdgeSum<Eigen::Matrix3d> sum = directional_sum(system, depth);
        Eigen::Matrix3d mean = Eigen::Matrix3d::Zero();
        const int samples = 30000;
        for (int i = 0; i < samples; ++i)
            mean += value_at(sum, 2 * pi * (i + 0.5) / samples) / samples;
        const Eigen::Matrix3d expected = mean_directional_matrix(system, depth) * depth;
        EXPECT_LT((mean - expected).norm(), 2e-4 * expected.norm()) << helix;
        EXPECT_LT((harmonic(sum, 0).real() - expected).norm(), 1e-12 * expected.norm());
    }
}

TEST(MeanDirectionalMatrix, HasTheClosedFormOfAltintasAndBudak) {
    // alpha coefficients, CIRP Annals 44/1 (1995) 357-362 (from memory): A0 = N Kt/(4 pi) alpha.
    for (const Milling milling : {Milling::down, Milling::up, Milling::slot}) {
        const DelaySystem system = plain_system(milling, 0.35, 38);
        const double ratio = system.law.radial / system.law.tangential;
        const auto at = [&](double phi) -> Eigen::Matrix2d {
            const double c = std::cos(2 * phi), s = std::sin(2 * phi);
            return Eigen::Matrix2d{{c - 2 * ratio * phi + ratio * s, -s - 2 * phi + ratio * c},
                                   {-s + 2 * phi + ratio * c, -c - 2 * ratio * phi - ratio * s}} /
                   2;
        };
        const Eigen::Matrix2d expected = 3 * system.law.tangential / (4 * pi) *
                                         (at(system.engagement.exit) - at(system.engagement.entry));
        const Eigen::Matrix2d got = mean_directional_matrix(system, 0.004).topLeftCorner<2, 2>();
        EXPECT_LT((got - expected).norm(), 1e-13 * expected.norm());
    }
}

TEST(DirectionalSum, OfTheTeethAddsUpToTheWhole) {
    DelaySystem system = plain_system(Milling::down, 0.6, 40);
    system.cutter.tooth_angle = {0, 1.9, 4.3};
    Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
    for (int tooth = 0; tooth < 3; ++tooth)
        sum += value_at(directional_sum(system, 0.01, tooth), 2.0);
    EXPECT_LT((sum - directional_matrix(system, 2.0, 0.01)).norm(), 1e-12 * sum.norm());
}

TEST(ToothDelay, PitchesAddUpToOneRevolution) {
    CutterGeometry cutter = reference::even_cutter(3, 0.01);
    cutter.tooth_angle = {0, 1.9, 4.3};
    EXPECT_NEAR(tooth_pitch(cutter, 1), 1.9, 1e-15);
    EXPECT_NEAR(tooth_pitch(cutter, 2), 2.4, 1e-15);
    double sum = 0;
    for (int tooth = 0; tooth < 3; ++tooth)
        sum += tooth_delay(cutter, tooth, SpindleSpeed::from_rpm(6000));
    EXPECT_NEAR(sum, 0.01, 1e-15);
    EXPECT_THROW(tooth_pitch(cutter, 3), std::domain_error);
    EXPECT_THROW(tooth_delay(cutter, 0, SpindleSpeed{0}), std::domain_error);
}

TEST(DirectionalMatrix, RefusesANegativeDepth) {
    const DelaySystem system = plain_system(Milling::down, 0.2, 30);
    EXPECT_THROW(directional_matrix(system, 0, -1e-3), std::domain_error);
    EXPECT_EQ(directional_matrix(system, 2.9, 0).norm(), 0);
}

}  // namespace
}  // namespace standfast
