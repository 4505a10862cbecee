#include "fea/structure/beam.hpp"

#include <gtest/gtest.h>

#include <Eigen/Eigenvalues>
#include <Eigen/Geometry>
#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <stdexcept>

#include "fea/structure/tapered_beam.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

const Material kSteel = isotropic(205e9, 0.29, 7850);

/// Six rigid motions of two nodes at x = 0 and x = length.
Eigen::Matrix<double, 12, 6> rigid_motions(double length) {
    Eigen::Matrix<double, 12, 6> motions = Eigen::Matrix<double, 12, 6>::Zero();
    for (int axis = 0; axis < 3; ++axis) {
        motions(axis, axis) = motions(6 + axis, axis) = 1;
        const Eigen::Vector3d turn = Eigen::Vector3d::Unit(axis);
        motions.block<3, 1>(3, 3 + axis) = turn;
        motions.block<3, 1>(9, 3 + axis) = turn;
        motions.block<3, 1>(6, 3 + axis) = turn.cross(Eigen::Vector3d(length, 0, 0));
    }
    return motions;
}

const double kLengths[] = {0.001, 0.02, 0.1, 5};

TEST(Beam, SixRigidMotionsCostNothingAndNoOthersAreFree) {
    for (const double length : kLengths) {
        const Matrix12d k = beam_stiffness(rectangle(0.03, 0.05, 0.29), kSteel, length);
        const auto motions = rigid_motions(length);
        EXPECT_LT((k * motions).cwiseAbs().maxCoeff(), 1e-12 * k.cwiseAbs().maxCoeff());
        EXPECT_LT((k - k.transpose()).cwiseAbs().maxCoeff(), 1e-15 * k.cwiseAbs().maxCoeff());
        // An even diagonal, since rows have different units.
        const Eigen::VectorXd even = k.diagonal().cwiseSqrt().cwiseInverse();
        const Eigen::SelfAdjointEigenSolver<Eigen::MatrixXd> solver(even.asDiagonal() * k *
                                                                    even.asDiagonal());
        int zero = 0;
        for (const double value : solver.eigenvalues()) {
            EXPECT_GT(value, -1e-12);
            zero += value < 1e-9 ? 1 : 0;
        }
        EXPECT_EQ(zero, 6) << "length " << length;
    }
}

TEST(Beam, MassOfARigidMotionIsThatOfARod) {
    const Section section = rectangle(0.03, 0.05, 0.29);
    for (const double length : kLengths) {
        const Matrix12d m = beam_mass(section, kSteel, length);
        const Eigen::Matrix<double, 6, 6> rigid =
            rigid_motions(length).transpose() * m * rigid_motions(length);
        const double mass = 7850 * 0.03 * 0.05 * length;
        for (int axis = 0; axis < 3; ++axis) EXPECT_TRUE(within(rigid(axis, axis), mass, 1e-12));
        // Solid block about its end: m L^2 / 3 + m h^2 / 12, and about its own axis.
        EXPECT_TRUE(within(rigid(3, 3), mass * (0.03 * 0.03 + 0.05 * 0.05) / 12, 1e-12));
        EXPECT_TRUE(within(rigid(4, 4), mass * (length * length / 3 + 0.05 * 0.05 / 12), 1e-12));
        EXPECT_TRUE(within(rigid(5, 5), mass * (length * length / 3 + 0.03 * 0.03 / 12), 1e-12));
        EXPECT_TRUE(within(rigid(1, 5), mass * length / 2, 1e-12));
        EXPECT_TRUE(within(rigid(2, 4), -mass * length / 2, 1e-12));
    }
}

// Consistent mass of the Euler-Bernoulli beam, rho A L / 420 (156, 22 L, 54, -13 L; 4 L^2, -3 L^2):
// W. T. Thomson, Theory of Vibration with Applications, and any text on finite elements (from
// memory).
TEST(Beam, MassWithoutShearIsTheTextbookMatrix) {
    const double length = 0.7;
    const Section section = without_shear(rectangle(0.02, 0.04, 0.29));
    const Matrix12d m = beam_mass(section, kSteel, length, false);
    const double unit = 7850 * section.area * length / 420;
    EXPECT_TRUE(within(m(1, 1), 156 * unit, 1e-8));
    EXPECT_TRUE(within(m(1, 5), 22 * length * unit, 1e-8));
    EXPECT_TRUE(within(m(1, 7), 54 * unit, 1e-8));
    EXPECT_TRUE(within(m(1, 11), -13 * length * unit, 1e-8));
    EXPECT_TRUE(within(m(5, 5), 4 * length * length * unit, 1e-8));
    EXPECT_TRUE(within(m(5, 11), -3 * length * length * unit, 1e-8));
    EXPECT_TRUE(within(m(2, 4), -22 * length * unit, 1e-8));
    EXPECT_TRUE(within(m(2, 10), 13 * length * unit, 1e-8));
}

// The rotary part for Phi = 0: rho I / (30 L) (36, 3 L, -36, 3 L; 4 L^2, -L^2), from memory of
// J. S. Przemieniecki, Theory of Matrix Structural Analysis (1968).
TEST(Beam, RotaryPartWithoutShearIsTheTextbookMatrix) {
    const double length = 0.7;
    const Section section = without_shear(rectangle(0.02, 0.04, 0.29));
    const Matrix12d rotary =
        beam_mass(section, kSteel, length, true) - beam_mass(section, kSteel, length, false);
    const double unit = 7850 * section.second_moment_z / (30 * length);
    EXPECT_TRUE(within(rotary(1, 1), 36 * unit, 1e-8));
    EXPECT_TRUE(within(rotary(1, 5), 3 * length * unit, 1e-8));
    EXPECT_TRUE(within(rotary(1, 7), -36 * unit, 1e-8));
    EXPECT_TRUE(within(rotary(5, 5), 4 * length * length * unit, 1e-8));
    EXPECT_TRUE(within(rotary(5, 11), -length * length * unit, 1e-8));
}

TEST(Beam, DoesNotLockAsShearVanishes) {
    // P L^3 / 3 E I for one element, however slender.
    for (const double length : {0.1, 1.0, 10.0, 100.0}) {
        const Section section = rectangle(0.01, 0.01, 0.29);
        const Matrix12d k = beam_stiffness(section, kSteel, length);
        Eigen::VectorXd load = Eigen::VectorXd::Zero(6);
        load[1] = 1;
        const Eigen::VectorXd motion = k.bottomRightCorner<6, 6>().fullPivLu().solve(load);
        const double bending = std::pow(length, 3) / (3 * 205e9 * section.second_moment_z);
        const double shear =
            length / (section.shear_coefficient_y * shear_modulus(kSteel) * section.area);
        EXPECT_TRUE(within(motion[1], bending + shear, 1e-8)) << "length " << length;
    }
}

TEST(Beam, AConstantTaperIsTheUniformBeam) {
    const Section section = rectangle(0.03, 0.05, 0.29);
    for (const double length : kLengths) {
        const Matrix12d closed = beam_stiffness(section, kSteel, length);
        const Matrix12d integrated =
            tapered_beam<2>([&](double) { return section; }, kSteel, length).stiffness;
        const double worst = (closed - integrated).cwiseAbs().maxCoeff();
        EXPECT_LT(worst, 1e-9 * closed.cwiseAbs().maxCoeff());
    }
}

// J. M. Gere, Mechanics of Materials (from memory): 64 P L^3 / (3 pi E d_tip d_root^3), here with
// one element whose diameter halves, held at node 1; shear is off.
TEST(Beam, OneElementOfATaperBendsAsGereSays) {
    const double length = 0.4;
    const Matrix12d k =
        tapered_beam<2>([](double s) { return without_shear(solid_round(0.05 - 0.025 * s, 0.29)); },
                        kSteel, length)
            .stiffness;
    Eigen::VectorXd load = Eigen::VectorXd::Zero(6);
    load[1] = 1;
    const Eigen::VectorXd motion = k.bottomRightCorner<6, 6>().fullPivLu().solve(load);
    const double gere =
        64 * std::pow(length, 3) / (3 * std::numbers::pi * 205e9 * 0.025 * std::pow(0.05, 3));
    EXPECT_TRUE(within(motion[1], gere, 1e-5));
}

TEST(Beam, SwappingTheAxesOfASectionSwapsThePlanes) {
    const Matrix12d a = beam_stiffness(rectangle(0.03, 0.05, 0.29), kSteel, 0.1);
    const Matrix12d b = beam_stiffness(rectangle(0.05, 0.03, 0.29), kSteel, 0.1);
    EXPECT_EQ(a(1, 1), b(2, 2));
    EXPECT_EQ(a(1, 5), -b(2, 4));
    EXPECT_EQ(a(5, 11), b(4, 10));
    EXPECT_LT(a(1, 1), a(2, 2));  // 0.03 along y bends more easily along y than 0.05 along z
}

TEST(Beam, RefusesPropertiesThatAreNotPhysical) {
    Section section = rectangle(0.03, 0.05, 0.29);
    EXPECT_THROW(beam_stiffness(section, kSteel, 0), std::domain_error);
    EXPECT_THROW(beam_mass(section, kSteel, -1), std::domain_error);
    section.torsion_constant = 0;
    EXPECT_THROW(beam_stiffness(section, kSteel, 1), std::domain_error);
    EXPECT_THROW(beam_stiffness(rectangle(0.03, 0.05, 0.29), isotropic(0, 0.3, 7850), 1),
                 std::domain_error);
}

}  // namespace
}  // namespace standfast::test
