#include "fea/studies/fit/receptance_average.hpp"

#include <gtest/gtest.h>

#include <complex>

namespace standfast {
namespace {

ReceptanceTest measured(double value, double coherence) {
    ReceptanceTest test;
    for (int i = 1; i <= 8; ++i) {
        test.frequency.push_back(AngularFrequency::from_hertz(100.0 * i));
        test.receptance.emplace_back(value, -value);
        test.coherence.push_back(coherence);
    }
    return test;
}

Job job_of(const std::vector<ReceptanceTest>& tests) {
    Job job;
    for (const ReceptanceTest& test : tests) {
        Measured one;
        one.receptance = test;
        job.measured.push_back(one);
    }
    return job;
}

TEST(ReceptanceAverage, RepeatsCountOnceByTheirCoherence) {
    // 0.9 / 0.1 = 9 to 0.5 / 0.5 = 1.
    const Job job = job_of({measured(1e-6, 0.9), measured(2e-6, 0.5)});
    const auto average = average_with_repeats(job, 0);
    ASSERT_TRUE(average);
    EXPECT_NEAR(average->receptance[3].real(), 1.1e-6, 1e-15);
    EXPECT_NEAR(average->coherence[3], 10.0 / 11, 1e-12);
    EXPECT_FALSE(average_with_repeats(job, 1)) << "it went into the first";
}

TEST(ReceptanceAverage, OtherPlacesAndLinesStandByThemselves) {
    ReceptanceTest across = measured(2e-6, 0.5);
    across.direction = Eigen::Vector3d::UnitY();
    const Job job = job_of({measured(1e-6, 0.9), across});
    EXPECT_EQ(average_with_repeats(job, 0)->receptance[0].real(), 1e-6);
    EXPECT_EQ(average_with_repeats(job, 1)->receptance[0].real(), 2e-6);
}

TEST(ReceptanceAverage, MotionThatLeadsTheForceIsASensorTheOtherWayRound) {
    EXPECT_FALSE(sign_reversed(measured(1e-6, 1)));
    EXPECT_TRUE(sign_reversed(measured(-1e-6, 1)));
}

}  // namespace
}  // namespace standfast
