#include "fea/cutting/engagement.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace standfast {
namespace {

constexpr double pi = std::numbers::pi;

TEST(Engagement, AnglesOfTheTabledCuts) {
    // Geometry; the angles are those of an independent table of mean forces (D arbitrary).
    const double diameter = 0.016;
    const Engagement slot = engagement(Milling::slot, diameter, diameter);
    EXPECT_EQ(slot.entry, 0);
    EXPECT_EQ(slot.exit, pi);
    const Engagement up_half = engagement(Milling::up, diameter / 2, diameter);
    EXPECT_EQ(up_half.entry, 0);
    EXPECT_NEAR(up_half.exit, 1.57080, 5e-6);
    const Engagement down_half = engagement(Milling::down, diameter / 2, diameter);
    EXPECT_NEAR(down_half.entry, 1.57080, 5e-6);
    EXPECT_EQ(down_half.exit, pi);
    EXPECT_NEAR(engagement(Milling::down, 0.1 * diameter, diameter).entry, 2.49809, 5e-6);
    EXPECT_NEAR(engagement(Milling::up, 0.05 * diameter, diameter).exit, 0.45103, 5e-6);
}

TEST(Engagement, UpAndDownMillingAreMirrorImages) {
    for (const double share : {1e-6, 0.03, 0.4, 0.9, 1.0}) {
        const Engagement up = engagement(Milling::up, share * 0.01, 0.01);
        const Engagement down = engagement(Milling::down, share * 0.01, 0.01);
        EXPECT_NEAR(up.exit, pi - down.entry, 1e-15);
    }
}

TEST(Engagement, TheToothEntersAtTheRadialDepth) {
    // The edge stands at y = R cos phi; the stock begins ae from the wall at y = +-R.
    const double radius = 0.006, radial = 0.0013;
    const Engagement down = engagement(Milling::down, radial, 2 * radius);
    EXPECT_NEAR(radius * std::cos(down.entry), -radius + radial, 1e-15);
    const Engagement up = engagement(Milling::up, radial, 2 * radius);
    EXPECT_NEAR(radius * std::cos(up.exit), radius - radial, 1e-15);
}

TEST(Engagement, FullRadialDepthIsASlot) {
    EXPECT_NEAR(engagement(Milling::down, 0.01, 0.01).entry, 0, 1e-15);
    EXPECT_NEAR(engagement(Milling::up, 0.01, 0.01).exit, pi, 1e-15);
}

TEST(Engagement, RefusesACutOutsideTheCutter) {
    EXPECT_THROW(engagement(Milling::down, 0, 0.01), std::domain_error);
    EXPECT_THROW(engagement(Milling::up, 0.0101, 0.01), std::domain_error);
    EXPECT_THROW(engagement(Milling::up, std::nan(""), 0.01), std::domain_error);
    EXPECT_THROW(engagement(Milling::slot, 0.01, 0), std::domain_error);
}

TEST(MeanChip, IsTheRemovedAreaOverTheArc) {
    // A tooth removes feed x radial depth per height, along an arc of R times the angle.
    const double diameter = 0.01, radial = 0.0007, feed = 0.05e-3;
    for (const Milling milling : {Milling::up, Milling::down}) {
        const Engagement cut = engagement(milling, radial, diameter);
        const double arc = diameter / 2 * (cut.exit - cut.entry);
        EXPECT_NEAR(mean_chip(cut, feed), feed * radial / arc, 1e-12 * feed);
    }
    EXPECT_NEAR(mean_chip(engagement(Milling::slot, 0, diameter), feed), feed * 2 / pi, 1e-18);
}

}  // namespace
}  // namespace standfast
