#include "fea/structure/tapered_beam.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/structure/line_matrices.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

const Material kSteel = isotropic(205e9, 0.29, 7850);

SectionAlong cone(double from, double to) {
    return [=](double s) { return solid_round(from + (to - from) * s, 0.29); };
}

/// Rigid motions of nodes at x = 0, length and length / 2.
Eigen::Matrix<double, 18, 6> rigid_motions(double length) {
    Eigen::Matrix<double, 18, 6> motions = Eigen::Matrix<double, 18, 6>::Zero();
    const Eigen::Vector3d places(0, length, length / 2);
    for (int node = 0; node < 3; ++node) {
        for (int axis = 0; axis < 3; ++axis) {
            const Eigen::Vector3d turn = Eigen::Vector3d::Unit(axis);
            motions(6 * node + axis, axis) = 1;
            motions.block<3, 1>(6 * node + 3, 3 + axis) = turn;
            motions.block<3, 1>(6 * node, 3 + axis) =
                turn.cross(Eigen::Vector3d(places[node], 0, 0));
        }
    }
    return motions;
}

TEST(TaperedBeam, PointsAndWeightsIntegratePowersUpToFifteen) {
    for (int power = 0; power <= 15; ++power) {
        const double sum = line_weights().dot(line_points().array().pow(power).matrix());
        EXPECT_NEAR(sum, 1.0 / (power + 1), 1e-14) << power;
    }
}

TEST(TaperedBeam, WithAMiddleNodeSixRigidMotionsCostNothingAndNoOthersAreFree) {
    for (const double length : {0.001, 0.02, 0.1, 5.0}) {
        const auto k = tapered_beam<3>(cone(0.05, 0.03), kSteel, length).stiffness;
        const auto motions = rigid_motions(length);
        EXPECT_LT((k * motions).cwiseAbs().maxCoeff(), 1e-11 * k.cwiseAbs().maxCoeff());
        const Eigen::VectorXd even = k.diagonal().cwiseSqrt().cwiseInverse();
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(even.asDiagonal() * k *
                                                                    even.asDiagonal());
        int zero = 0;
        for (const double value : solver.eigenvalues()) zero += value < 1e-8 ? 1 : 0;
        EXPECT_EQ(zero, 6) << "length " << length;
    }
}

TEST(TaperedBeam, WithAMiddleNodeMassOfARigidMotionIsThatOfACone) {
    const double length = 0.2;
    const Eigen::Matrix<double, 6, 6> rigid =
        rigid_motions(length).transpose() * tapered_beam<3>(cone(0.05, 0.03), kSteel, length).mass *
        rigid_motions(length);
    // Frustum: pi h (R^2 + R r + r^2) / 3, centre h (R^2 + 2 R r + 3 r^2) / 4 (R^2 + R r + r^2)
    // from its large end, textbook.
    const double sum = 0.025 * 0.025 + 0.025 * 0.015 + 0.015 * 0.015;
    const double mass = 7850 * std::numbers::pi * length * sum / 3;
    const double centre =
        length * (0.025 * 0.025 + 2 * 0.025 * 0.015 + 3 * 0.015 * 0.015) / (4 * sum);
    for (int axis = 0; axis < 3; ++axis) EXPECT_TRUE(within(rigid(axis, axis), mass, 1e-12));
    EXPECT_TRUE(within(rigid(1, 5), mass * centre, 1e-12));
    // About its axis: 3/10 m (R^5 - r^5) / (R^3 - r^3), textbook.
    const double about_axis = 0.3 * mass * (std::pow(0.025, 5) - std::pow(0.015, 5)) /
                              (std::pow(0.025, 3) - std::pow(0.015, 3));
    EXPECT_TRUE(within(rigid(3, 3), about_axis, 1e-12));
}

TEST(TaperedBeam, AMiddleNodeThatNothingPushesLeavesTheTwoNodeBeam) {
    for (const double length : {0.02, 0.2, 2.0}) {
        const auto two = tapered_beam<2>(cone(0.05, 0.03), kSteel, length).stiffness;
        const auto k = tapered_beam<3>(cone(0.05, 0.03), kSteel, length).stiffness;
        const Matrix12d left = k.topLeftCorner<12, 12>() -
                               k.topRightCorner<12, 6>() * k.bottomRightCorner<6, 6>().inverse() *
                                   k.bottomLeftCorner<6, 12>();
        EXPECT_LT((left - two).cwiseAbs().maxCoeff(), 1e-9 * two.cwiseAbs().maxCoeff());
    }
}

// Euler-Bernoulli cantilever, 1.875104, 4.694091, 7.854757 (textbook).
TEST(TaperedBeam, TwoElementsWithMiddleNodesGiveASlenderCantileversFirstThreeFrequencies) {
    TestBeam beam{.section = without_shear(rectangle(0.02, 0.04, 0.29)),
                  .material = kSteel,
                  .length = 1,
                  .elements = 2,
                  .rotary_inertia = false};
    StructureModel model = cantilever(beam);
    model.beams[0].mid_nodes = true;
    const auto hertz = frequencies_along(modes(assemble(model), 12), kBendingX);
    const double unit = std::sqrt(205e9 * 0.02 * 0.02 / 12 / 7850) / (2 * std::numbers::pi);
    EXPECT_TRUE(within(hertz.at(0), unit * 1.875104069 * 1.875104069, 1e-7));
    EXPECT_TRUE(within(hertz.at(1), unit * 4.694091133 * 4.694091133, 1e-5));
    EXPECT_TRUE(within(hertz.at(2), unit * 7.854757438 * 7.854757438, 2e-3));
}

TEST(TaperedBeam, RefusesASectionThatIsNotPhysicalSomewhereAlongIt) {
    EXPECT_THROW(tapered_beam<3>(cone(0.05, -0.03), kSteel, 0.1), std::domain_error);
}

}  // namespace
}  // namespace standfast::test
