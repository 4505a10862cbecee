#include "fea/chatter/motion/fed_back_error.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numeric>

#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

RigidCut wall_cut(double radial) {
    RigidCut cut;
    cut.cutter = reference::even_cutter(2, 0.012, 30);
    cut.engagement = engagement(Milling::down, radial, 0.012);
    cut.law.tangential = 800e6;
    cut.law.radial = 240e6;
    cut.law.tangential_edge = 12e3;
    cut.law.radial_edge = 10e3;
    cut.feed_per_tooth = 0.08e-3;
    cut.depth = 6e-3;
    return cut;
}

const std::vector<double> heights = {0, 1.5e-3, 3e-3, 4.5e-3, 6e-3};

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

TEST(FedBackMotion, IsTheMotionOfTheRadialDepthThatItLeaves) {
    const ModalReceptance soft = reference::receptance_of({{900, 0.02, 5e6, 0, 1}});
    const double radial = 0.3e-3;
    for (const double rpm : {5000.0, 8000.0, 11500.0, 20000.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const StableMotion fed_back =
            fed_back_motion(soft, wall_cut(radial), radial, speed, heights);
        const double actual = radial + mean(fed_back.error);
        const StableMotion again = stable_motion(soft, wall_cut(actual), speed, heights);
        EXPECT_NEAR(mean(again.error), mean(fed_back.error),
                    3e-9 + 2e-3 * std::abs(mean(fed_back.error)))
            << rpm;
    }
}

TEST(FedBackMotion, PushOffIsLessThanAtNominalEngagement) {
    // Common practice, no source: the deflected cutter sees a thinner wall and is pushed less.
    const ModalReceptance soft = reference::receptance_of({{900, 0.02, 1e6, 0, 1}});
    const SpindleSpeed speed = SpindleSpeed::from_rpm(8000);
    const double nominal = mean(stable_motion(soft, wall_cut(0.3e-3), speed, heights).error);
    const double fed_back =
        mean(fed_back_motion(soft, wall_cut(0.3e-3), 0.3e-3, speed, heights).error);
    EXPECT_LT(nominal, 0);
    EXPECT_LT(fed_back, 0);
    EXPECT_LT(std::abs(fed_back), std::abs(nominal));
    EXPECT_GT(fed_back, -0.3e-3);  // it cannot be pushed further than the wall is thick
}

TEST(FedBackMotion, OfAStiffMachineChangesNothing) {
    const ModalReceptance stiff = reference::receptance_of({{900, 0.02, 5e10, 0, 1}});
    const SpindleSpeed speed = SpindleSpeed::from_rpm(8000);
    const StableMotion fed_back = fed_back_motion(stiff, wall_cut(0.3e-3), 0.3e-3, speed, heights);
    const StableMotion nominal = stable_motion(stiff, wall_cut(0.3e-3), speed, heights);
    for (std::size_t i = 0; i < heights.size(); ++i)
        EXPECT_NEAR(fed_back.error[i], nominal.error[i], 1e-12);
}

TEST(FedBackMotion, ASlotHasNothingToFeedBack) {
    RigidCut slot = wall_cut(0.3e-3);
    slot.engagement = engagement(Milling::slot, 0.012, 0.012);
    const ModalReceptance soft = reference::receptance_of({{900, 0.02, 5e6, 0, 1}});
    const SpindleSpeed speed = SpindleSpeed::from_rpm(5000);
    EXPECT_EQ(fed_back_motion(soft, slot, 0.012, speed, heights).error,
              stable_motion(soft, slot, speed, heights).error);
    EXPECT_THROW(fed_back_motion(soft, slot, 0.012, speed, {}), std::domain_error);
}

}  // namespace
}  // namespace standfast
