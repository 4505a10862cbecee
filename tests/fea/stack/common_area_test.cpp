#include "fea/stack/common_area.hpp"

#include <gtest/gtest.h>

#include <numbers>
#include <stdexcept>

namespace standfast {
namespace {

constexpr double kPi = std::numbers::pi;

TEST(CommonArea, OfOneShapeIsItsOwn) {
    for (const SectionShape& shape :
         {SectionShape(RoundShape{0.1}), SectionShape(TubeShape{0.11, 0.07}),
          SectionShape(BlockShape{0.08, 0.05}), SectionShape(BoxShape{0.08, 0.06, 0.01})}) {
        const AreaMoments own = common_area({{.shape = shape}});
        EXPECT_NEAR(own.area / material_area(shape), 1, 2e-3);
        EXPECT_NEAR(own.second.y() / second_moment_about_x(shape), 1, 2e-3);
        EXPECT_NEAR(own.second.x() / second_moment_about_y(shape), 1, 2e-3);
        EXPECT_NEAR(own.first.norm(), 0, 1e-12);
    }
}

TEST(CommonArea, OfTwoCirclesIsTheLens) {
    // Two equal circles of radius r, a distance r apart: r^2 (2 pi/3 - sqrt(3)/2), textbook.
    const double r = 0.05;
    const AreaMoments lens =
        common_area({{.shape = RoundShape{2 * r}}, {.shape = RoundShape{2 * r}, .centre = {0, r}}});
    EXPECT_NEAR(lens.area / (r * r * (2 * kPi / 3 - std::sqrt(3.0) / 2)), 1, 2e-3);
    EXPECT_NEAR(lens.first.y() / lens.area, r / 2, 1e-4 * r);
}

TEST(CommonArea, OfWhatDoesNotMeetIsNothing) {
    const AreaMoments none =
        common_area({{.shape = RoundShape{0.05}}, {.shape = TubeShape{0.1, 0.06}}});
    EXPECT_EQ(none.area, 0);
    EXPECT_THROW(common_area({}), std::domain_error);
}

}  // namespace
}  // namespace standfast
