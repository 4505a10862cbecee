#include "fea/judgement/cut/corner.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <stdexcept>

#include "fea/judgement/pass/check.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

TEST(Corner, AWideCornerIsAStraightWall) {
    EXPECT_NEAR(corner_radial(0.5e-3, 1000, 10e-3), 0.5e-3, 1e-8);
}

TEST(Corner, ASquareTurnAddsAQuarterOfTheCutter) {
    // Along the wall acos(1 - 1/5) is engaged; 90 deg more makes R (1 + sin) of that angle.
    EXPECT_NEAR(corner_radial(1e-3, 5e-3, 10e-3), 5e-3 * (1 + std::sqrt(1 - 0.8 * 0.8)), 1e-12);
}

TEST(Corner, EngagementMatchesAPointCountOnTheCuttersRim) {
    const double radius = 5e-3, corner = 8e-3, radial = 0.7e-3;
    int inside = 0;
    const int count = 200000;
    for (int i = 0; i < count; ++i) {
        const double angle = std::numbers::pi * (i + 0.5) / count;  // from the wall
        const double from_centre =
            std::hypot(corner - radius + radius * std::cos(angle), radius * std::sin(angle));
        if (from_centre > corner - radial) ++inside;
    }
    const double engaged = std::numbers::pi * inside / count;
    EXPECT_NEAR(corner_radial(radial, corner, 2 * radius), radius * (1 - std::cos(engaged)), 1e-7);
}

TEST(Corner, TheTighterTheCornerTheMoreIsInTheCut) {
    double before = 10e-3;
    for (double corner = 5.05e-3; corner < 50e-3; corner *= 1.1) {
        const double now = corner_radial(0.5e-3, corner, 10e-3);
        EXPECT_LE(now, before);
        EXPECT_GE(now, 0.5e-3);
        before = now;
    }
}

TEST(Corner, RefusesWhatIsNoCut) {
    EXPECT_THROW(corner_radial(0, 5e-3, 10e-3), std::domain_error);
    EXPECT_THROW(corner_radial(1e-3, -1, 10e-3), std::domain_error);
}

TEST(Corner, ChattersSoonerThanTheStraightWall) {
    Job job = test_job();
    job.passes[0].axial = 1e-3;
    CheckOptions options;
    options.advise = false;
    EXPECT_FALSE(check_job(job, options).passes[0].in_corner);
    job.passes[0].corner_radius = 5.5e-3;
    const PassReport report = check_job(job, options).passes[0];
    ASSERT_TRUE(report.in_corner);
    EXPECT_LT(*report.in_corner->limit, *report.at_programmed.limit);
}

}  // namespace
}  // namespace standfast
