#include "fea/reach_fcl/fcl_distance.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kMicrometre = 1e-6;

using Eigen::Vector3d;

double between(const ConvexSolid& a, const ConvexSolid& b) { return fcl_distance()->between(a, b); }

Eigen::Matrix3d about_y(double angle) {
    return Eigen::AngleAxisd(angle, Vector3d::UnitY()).toRotationMatrix();
}

ConvexSolid round_solid(double foot, double top, double length, const Vector3d& at = {0, 0, 0},
                        const Eigen::Matrix3d& axes = Eigen::Matrix3d::Identity()) {
    return {"round", RoundSolid{foot, top, length}, {.origin = at, .axes = axes}};
}

ConvexSolid box(const Vector3d& size, const Vector3d& at = {0, 0, 0},
                const Eigen::Matrix3d& axes = Eigen::Matrix3d::Identity()) {
    return {"box", BoxSolid{size}, {.origin = at, .axes = axes}};
}

TEST(FclDistance, ConeAboveDiscStandsItsTipAway) {
    const ConvexSolid disc = round_solid(0.320, 0.320, 0.050, {0, 0, -0.050});
    EXPECT_NEAR(between(round_solid(0, 0.060, 0.080, {0.1, 0.02, 0.037}), disc), 0.037,
                kMicrometre);
}

TEST(FclDistance, ConeBesideDiscStandsOffByItsFlank) {
    // In the plane of both axes: the disc's upper rim to the line along the cone's flank, which
    // makes the half angle 30 deg with its axis. Rim (0.160, 0), tip (0.200, -0.010), upright cone.
    const double half = 30 * kDegree;
    const double length = 0.100;
    const ConvexSolid cone =
        round_solid(0, 2 * length * std::tan(half), length, {0.200, 0, -0.010});
    const ConvexSolid disc = round_solid(0.320, 0.320, 0.050, {0, 0, -0.050});
    const double expected = 0.040 * std::cos(half) - 0.010 * std::sin(half);
    EXPECT_NEAR(between(cone, disc), expected, kMicrometre);
}

TEST(FclDistance, CylinderStandsOffABoxAsItsLean) {
    // A cylinder that turns about y with its foot's middle at a place beside and above the edge
    // x = 0, z = 0 of a box: the edge to a face, corner or flank of it, in the plane y = 0.
    const ConvexSolid block = box({0.2, 0.2, 0.1}, {-0.1, 0, -0.05});
    const double radius = 0.015;
    const Vector3d foot(0.040, 0, 0.030);
    // Upright: its flank stands 0.025 beside the edge, its foot 0.030 above.
    EXPECT_NEAR(between(round_solid(2 * radius, 2 * radius, 0.1, foot), block),
                std::hypot(0.040 - radius, 0.030), kMicrometre);
    // Level: the face of its foot looks at the block, its lower flank is 0.015 up.
    EXPECT_NEAR(
        between(round_solid(2 * radius, 2 * radius, 0.1, foot, about_y(90 * kDegree)), block),
        std::hypot(0.040, 0.030 - radius), kMicrometre);
    // At 45 deg the face of its foot looks at the edge, (0.040 + 0.030) / sqrt 2 away.
    EXPECT_NEAR(
        between(round_solid(2 * radius, 2 * radius, 0.1, foot, about_y(45 * kDegree)), block),
        0.070 / std::numbers::sqrt2, kMicrometre);
}

TEST(FclDistance, TouchAndOverlapAreZero) {
    const ConvexSolid block = box({0.1, 0.1, 0.1});
    EXPECT_EQ(between(block, box({0.1, 0.1, 0.1}, {0.05, 0.02, 0.01})), 0);
    EXPECT_EQ(between(block, round_solid(0.02, 0.02, 0.5, {0, 0, -0.2})), 0);
    EXPECT_EQ(between(block, block), 0);
    EXPECT_LT(between(block, box({0.1, 0.1, 0.1}, {0.1, 0, 0})), kMicrometre);
}

// Nearest point of a solid, told by its shape alone.
Vector3d nearest_of_box(const BoxSolid& solid, const Vector3d& point) {
    return point.cwiseMax(-solid.size / 2).cwiseMin(solid.size / 2);
}
Vector3d nearest_of_round(const RoundSolid& solid, const Vector3d& point) {
    const double out = std::hypot(point.x(), point.y());
    const Vector3d away =
        out > 0 ? Vector3d(point.x() / out, point.y() / out, 0) : Vector3d(Vector3d::UnitX());
    const std::array<Eigen::Vector2d, 4> corner{
        Eigen::Vector2d(0, 0), Eigen::Vector2d(solid.foot_diameter / 2, 0),
        Eigen::Vector2d(solid.top_diameter / 2, solid.length), Eigen::Vector2d(0, solid.length)};
    const Eigen::Vector2d flat(out, point.z());
    bool inside = true;
    Eigen::Vector2d nearest = corner[0];
    for (std::size_t i = 0; i < 3; ++i) {
        const Eigen::Vector2d side = corner[i + 1] - corner[i];
        const Eigen::Vector2d from = flat - corner[i];
        if (side.x() * from.y() - side.y() * from.x() < 0) inside = false;
        const double share =
            side.squaredNorm() > 0 ? std::clamp(from.dot(side) / side.squaredNorm(), 0.0, 1.0) : 0;
        const Eigen::Vector2d candidate = corner[i] + share * side;
        if ((candidate - flat).norm() < (nearest - flat).norm()) nearest = candidate;
    }
    return inside ? point : Vector3d(nearest.x() * away + nearest.y() * Vector3d::UnitZ());
}
Vector3d nearest_of(const ConvexSolid& solid, const Vector3d& point) {
    const Vector3d local = solid.pose.axes.transpose() * (point - solid.pose.origin);
    const auto* const as_box = std::get_if<BoxSolid>(&solid.shape);
    const Vector3d nearest = as_box != nullptr
                                 ? nearest_of_box(*as_box, local)
                                 : nearest_of_round(std::get<RoundSolid>(solid.shape), local);
    return solid.pose.origin + solid.pose.axes * nearest;
}

/// Alternating projections: from one solid to the nearest point of the other and back (W. Cheney
/// and A. A. Goldstein, Proceedings of the AMS 10 (1959) 448-450). Never below the true distance.
double by_projections(const ConvexSolid& a, const ConvexSolid& b) {
    Vector3d of_a = a.pose.origin, of_b = b.pose.origin;
    for (int i = 0; i < 4000; ++i) {
        of_b = nearest_of(b, of_a);
        of_a = nearest_of(a, of_b);
    }
    return (of_a - of_b).norm();
}

class AnyPose {
public:
    ConvexSolid solid(int kind) {
        const Pose pose{.origin = 0.4 * Vector3d(half(), half(), half()), .axes = axes()};
        if (kind == 0) return {"box", BoxSolid{size() * Vector3d(1, 0.3, 2)}, pose};
        const double foot = size();
        const double top = kind == 1 ? foot : kind == 2 ? 0 : size();
        return {"round", RoundSolid{foot, top, size()}, pose};
    }
    double half() { return unit_(random_) - 0.5; }

private:
    double size() { return 0.01 + 0.08 * unit_(random_); }
    Eigen::Matrix3d axes() {
        return (Eigen::AngleAxisd(6.3 * half(), Vector3d::UnitZ()) *
                Eigen::AngleAxisd(6.3 * half(), Vector3d::UnitX()) *
                Eigen::AngleAxisd(6.3 * half(), Vector3d::UnitY()))
            .toRotationMatrix();
    }
    std::mt19937 random_{11};
    std::uniform_real_distribution<double> unit_{0, 1};
};

TEST(FclDistance, AgreesWithProjectionsOntoTheShapesThemselves) {
    AnyPose any;
    for (int i = 0; i < 200; ++i) {
        const int kind = i % 4, other = i / 4 % 4;
        const ConvexSolid a = any.solid(kind), b = any.solid(other);
        const double found = between(a, b), expected = by_projections(a, b);
        // A frustum is a hull of polygons around its circles: 0.2 % of at most 45 mm too near.
        const double tolerance = kind == 3 || other == 3 ? 0.22e-3 : 10 * kMicrometre;
        EXPECT_NEAR(found, expected, tolerance) << "case " << i;
        EXPECT_LE(found, expected + 2 * kMicrometre) << "errs to the near side, case " << i;
    }
}

TEST(FclDistance, SolidsSquareToEachOtherAreNoTrap) {
    // Sizes and places in whole steps, quarter turns: faces, edges and rims all lie parallel.
    std::mt19937 random(5);
    const auto whole = [&](int least, int most) {
        return least + static_cast<int>(random() % static_cast<unsigned>(most - least + 1));
    };
    const auto solid = [&](bool round) {
        const Eigen::Matrix3d axes =
            (Eigen::AngleAxisd(whole(0, 3) * 90 * kDegree, Vector3d::UnitZ()) *
             Eigen::AngleAxisd(whole(0, 3) * 90 * kDegree, Vector3d::UnitY()))
                .toRotationMatrix();
        const Vector3d at = 0.02 * Vector3d(whole(-4, 4), whole(-4, 4), whole(-4, 4));
        if (!round) return box(0.02 * Vector3d(whole(1, 5), whole(1, 5), whole(1, 5)), at, axes);
        const double across = 0.02 * whole(1, 4);
        return round_solid(across, across, 0.02 * whole(1, 5), at, axes);
    };
    for (int i = 0; i < 400; ++i) {
        const ConvexSolid a = solid(i % 2 == 0), b = solid(i % 3 == 0);
        const double found = between(a, b), expected = by_projections(a, b);
        EXPECT_LE(found, expected + 2 * kMicrometre) << "never too far, case " << i;
        EXPECT_NEAR(found, expected, 50 * kMicrometre) << "case " << i;
    }
}

TEST(FclDistance, IsTheSameFromEitherSideAndInAnyAxes) {
    AnyPose any;
    for (int i = 0; i < 100; ++i) {
        ConvexSolid a = any.solid(i % 4), b = any.solid(i / 4 % 4);
        const double distance = between(a, b);
        EXPECT_NEAR(between(b, a), distance, 10 * kMicrometre);
        const Eigen::Matrix3d turn = about_y(any.half());
        for (ConvexSolid* const solid : {&a, &b}) {
            solid->pose.origin = turn * solid->pose.origin + Vector3d(0.3, -0.1, 0.2);
            solid->pose.axes = turn * solid->pose.axes;
        }
        EXPECT_NEAR(between(a, b), distance, 10 * kMicrometre);
    }
}

TEST(FclDistance, ASweepIsAsNearAsItsNearestMoment) {
    AnyPose any;
    for (int i = 0; i < 30; ++i) {
        const ConvexSolid a = any.solid(1), b = any.solid(0);
        const Vector3d along = 0.2 * Vector3d(any.half(), any.half(), any.half());
        double nearest = 1;
        for (int step = 0; step <= 100; ++step) {
            ConvexSolid moved = a;
            moved.pose.origin += step / 100.0 * along;
            nearest = std::min(nearest, between(moved, b));
        }
        // The polygons around its circles, and 1 % of the way between two moments.
        EXPECT_NEAR(between(swept(a, along), b), nearest, 0.1e-3 + 0.005 * along.norm());
        EXPECT_LE(between(swept(a, along), b), nearest + 2 * kMicrometre);
    }
}

TEST(FclDistance, SizesThatAreNoSizesAreRefused) {
    EXPECT_THROW(between(round_solid(-0.01, 0.01, 0.1), box({0.1, 0.1, 0.1})), std::domain_error);
    EXPECT_THROW(between(box({0.1, std::nan(""), 0.1}), box({0.1, 0.1, 0.1})), std::domain_error);
    EXPECT_THROW(between({"hull", HullSolid{}, {}}, box({0.1, 0.1, 0.1})), std::domain_error);
}

}  // namespace
}  // namespace standfast
