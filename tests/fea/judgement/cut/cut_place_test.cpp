#include "fea/judgement/cut/cut_place.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

using Eigen::Vector3d;

/// Farthest that a solid reaches along a direction, m.
double reach_along(const ConvexSolid& solid, const Vector3d& direction) {
    double farthest = -std::numeric_limits<double>::infinity();
    for (const Vector3d& corner : corners_around(solid))
        farthest = std::max(farthest, corner.dot(direction));
    return farthest;
}

bool keeps(const CutPlace& place, const Vector3d& point) {
    return std::any_of(place.kept.begin(), place.kept.end(), [&](const HalfSpace& kept) {
        return kept.normal.dot(point) <= kept.offset;
    });
}

TEST(CutPlace, ToolStandsHalfADiameterOutsideTheFinishedWall) {
    // Wall +x of the sample pass at x = 35 mm, plate and riser 180 mm high under the part.
    for (const Milling milling : {Milling::down, Milling::up}) {
        Job job = test_job();
        job.passes[0].milling = milling;
        const std::vector<CutPlace> places = cut_places(job, job.passes[0]);
        ASSERT_EQ(places.size(), 1U);
        EXPECT_NEAR(places[0].tip.x(), 0.040, 1e-12);
        EXPECT_NEAR(places[0].tip.z(), 0.180 + 0.075, 1e-12);
        EXPECT_NEAR(places[0].along.y(), -0.040, 1e-12);
    }
}

TEST(CutPlace, KeepsWhatLiesBehindTheWallAndUnderTheTip) {
    const Job job = test_job();
    const CutPlace place = cut_places(job, job.passes[0]).at(0);
    const double tip = 0.255;
    EXPECT_TRUE(keeps(place, {0.030, 0, tip + 0.010}));     // behind the wall
    EXPECT_TRUE(keeps(place, {0.040, 0, tip - 0.001}));     // under the tip
    EXPECT_FALSE(keeps(place, {0.036, 0, tip + 0.001}));    // where the cutter is
    EXPECT_FALSE(keeps(place, {0.200, 0.3, tip + 0.050}));  // anywhere before the wall
}

TEST(CutPlace, SlotHasTwoWallsAndAFloor) {
    Job job = test_job();
    Pass& pass = job.passes[0];
    pass.milling = Milling::slot;
    pass.wall.reset();
    pass.feed_heading = 0;
    pass.path = {{0, 0, 0.075}, {0.02, 0, 0.075}};
    const CutPlace place = cut_places(job, pass).at(0);
    EXPECT_NEAR(place.tip.y(), 0, 1e-12);
    EXPECT_TRUE(keeps(place, {0, 0.0052, 0.260}));
    EXPECT_TRUE(keeps(place, {0, -0.0052, 0.260}));
    EXPECT_FALSE(keeps(place, {0, 0, 0.260}));
    EXPECT_TRUE(keeps(place, {0, 0, 0.254}));
}

TEST(CutPlace, UnknownHeadingIsTriedAllRound) {
    Job job = test_job();
    job.passes[0].wall.reset();
    EXPECT_EQ(cut_places(job, job.passes[0]).size(), 12U);
    job.passes[0].path = {{0, 0, 0.08}, {0.01, 0, 0.08}, {0.01, 0.01, 0.08}};
    EXPECT_EQ(cut_places(job, job.passes[0]).size(), 24U) << "two stretches each";
}

TEST(CutPlace, SlopingPathHasASlopingFloor) {
    Job job = test_job();
    job.passes[0].path = {{0.035, 0.010, 0.075}, {0.035, -0.010, 0.065}};
    const CutPlace place = cut_places(job, job.passes[0]).at(0);
    // 1 mm under the path at either end is kept, 1 mm over it is not.
    for (const Vector3d& on_path : {place.tip, Vector3d(place.tip + place.along)}) {
        EXPECT_TRUE(keeps(place, on_path - Vector3d(0, 0, 1e-3)));
        EXPECT_FALSE(keeps(place, on_path + Vector3d(0, 0, 1e-3)));
    }
}

TEST(Clipped, BoxEndsAtThePlane) {
    const ConvexSolid box{"box", BoxSolid{{0.2, 0.1, 0.4}}, {.origin = {0, 0, 0.2}}};
    const auto half = clipped(box, {.normal = Vector3d::UnitX(), .offset = 0.03});
    ASSERT_TRUE(half);
    EXPECT_NEAR(reach_along(*half, Vector3d::UnitX()), 0.03, 1e-12);
    EXPECT_NEAR(reach_along(*half, -Vector3d::UnitX()), 0.1, 1e-12);
    EXPECT_NEAR(reach_along(*half, Vector3d::UnitZ()), 0.4, 1e-12);
    EXPECT_FALSE(clipped(box, {.normal = Vector3d::UnitX(), .offset = -0.11}));
}

TEST(Clipped, FrustumKeepsItsOutlineBehindASlantedPlane) {
    // Every point of the whole solid behind the plane stays: support along many directions is that
    // of the corners and of the cut edges, found here by sampling the solid itself.
    const ConvexSolid frustum{"frustum", RoundSolid{0.10, 0.04, 0.12}, {}};
    const HalfSpace kept{.normal = Vector3d(1, 0, 1).normalized(), .offset = 0.04};
    const auto part = clipped(frustum, kept);
    ASSERT_TRUE(part);
    for (int i = 0; i < 24; ++i) {
        const double angle = 2 * 3.14159265358979 * i / 24;
        const Vector3d direction(std::cos(angle), 0.3, std::sin(angle));
        double farthest = -1;
        for (int height = 0; height <= 240; ++height) {
            for (int turn = 0; turn < 720; ++turn) {
                const double z = 0.12 * height / 240, phi = 2 * 3.14159265358979 * turn / 720;
                const double radius = 0.05 - 0.03 * z / 0.12;
                const Vector3d point(radius * std::cos(phi), radius * std::sin(phi), z);
                if (kept.normal.dot(point) <= kept.offset)
                    farthest = std::max(farthest, point.dot(direction));
            }
        }
        // Polygons stand out 0.2 % of 50 mm; sampling misses up to half a millimetre of an edge.
        EXPECT_NEAR(reach_along(*part, direction), farthest, 0.7e-3) << i;
        EXPECT_GE(reach_along(*part, direction), farthest - 1e-6) << i;
    }
}

}  // namespace
}  // namespace standfast
