#include "fea/job/shape.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <stdexcept>

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;

TEST(Shape, WidthsOfARoundAreItsDiameter) {
    const SectionShape round = RoundShape{.diameter = 0.1};
    EXPECT_DOUBLE_EQ(width_x(round), 0.1);
    EXPECT_DOUBLE_EQ(width_y(round), 0.1);
    EXPECT_NEAR(material_area(round), kPi * 0.05 * 0.05, 1e-15);
}

TEST(Shape, ATubeOfNoBoreIsARound) {
    const SectionShape round = RoundShape{.diameter = 0.08};
    const SectionShape tube = TubeShape{.outer = 0.08, .inner = 0};
    EXPECT_DOUBLE_EQ(material_area(tube), material_area(round));
    EXPECT_DOUBLE_EQ(second_moment_about_x(tube), second_moment_about_x(round));
}

TEST(Shape, ABoxIsItsBlockLessTheHollow) {
    const SectionShape box = BoxShape{.x = 0.1, .y = 0.06, .wall = 0.01};
    const SectionShape block = BlockShape{.x = 0.1, .y = 0.06};
    const SectionShape hollow = BlockShape{.x = 0.08, .y = 0.04};
    EXPECT_NEAR(material_area(box), material_area(block) - material_area(hollow), 1e-15);
    EXPECT_NEAR(second_moment_about_x(box),
                second_moment_about_x(block) - second_moment_about_x(hollow), 1e-18);
    EXPECT_NEAR(second_moment_about_y(box),
                second_moment_about_y(block) - second_moment_about_y(hollow), 1e-18);
}

TEST(Shape, AboutXTheWidthAlongYCounts) {
    // A plank lying flat: wide along x, thin along y; it bends easily about x.
    const SectionShape plank = BlockShape{.x = 0.2, .y = 0.02};
    EXPECT_NEAR(second_moment_about_y(plank) / second_moment_about_x(plank), 100, 1e-9);
}

TEST(Shape, TheFiguresOfABlockGiveItsWidthsBack) {
    const SectionShape block = BlockShape{.x = 0.07, .y = 0.05};
    const SectionShape figures = GeneralShape{.area = material_area(block),
                                              .ix = second_moment_about_x(block),
                                              .iy = second_moment_about_y(block),
                                              .torsion = 1e-6};
    EXPECT_NEAR(width_x(figures), 0.07, 1e-12);
    EXPECT_NEAR(width_y(figures), 0.05, 1e-12);
}

TEST(Shape, FiguresWithoutAreaAreRefused) {
    EXPECT_THROW(width_x(GeneralShape{.area = 0, .ix = 1e-6, .iy = 1e-6, .torsion = 1e-6}),
                 std::domain_error);
}

}  // namespace
}  // namespace standfast
