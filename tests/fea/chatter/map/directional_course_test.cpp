#include "fea/chatter/map/directional_course.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <utility>

#include "tests/fea/chatter/milling_cases.hpp"

namespace standfast {
namespace {

DelaySystem cut_with(double corner_radius, double helix_degrees, double immersion) {
    DelaySystem system{
        reference::receptance_of(reference::case_m1_modes()),
        reference::even_cutter(3, 0.012, helix_degrees),
        engagement(immersion >= 1 ? Milling::slot : Milling::down, immersion * 0.012, 0.012),
        {.tangential = 8e8, .radial = 3e8, .axial = 1e8}};
    system.cutter.corner_radius = corner_radius;
    return system;
}

/// Largest difference from the sum itself over the period, of the largest value.
double largest_difference(const DelaySystem& system, const EdgeBasis& basis, double depth) {
    const DirectionalCourse course = directional_course(system, basis, depth);
    EdgeSum<Eigen::Matrix3d> sum = directional_sum(system, depth);
    sum.basis = basis;
    double largest = 0, difference = 0;
    for (std::size_t k = 0; k < course.pieces.size(); ++k) {
        const CutPiece& piece = course.pieces[k];
        if (!piece.cutting) continue;
        for (int i = 1; i < 40; ++i) {
            const double angle = piece.start + i * piece.length / 40;
            const EdgeMatrix exact = value_at(sum, angle);
            largest = std::max(largest, exact.norm());
            difference = std::max(difference, (course.at(k, angle, 1) - exact).norm());
        }
    }
    EXPECT_GT(largest, 0);
    return difference / largest;
}

TEST(DirectionalCourse, IsTheSumItselfOnAStraightEdge) {
    for (const double immersion : {0.03, 0.3, 1.0}) {
        for (const double helix : {0.0, 38.0}) {
            for (const int heights : {1, 2, 4}) {
                const EdgeBasis basis{.height = gauss_heights(heights, 0.009), .lever = 0.004};
                EXPECT_LT(largest_difference(cut_with(0, helix, immersion), basis, 0.009), 5e-6)
                    << immersion << " " << helix << " " << heights;
            }
        }
    }
}

/// Largest differences from the same cut with an arc in 600 slices, of the largest value: those of
/// the course and those of the sum of the slices that it was made of.
std::pair<double, double> differences_from_the_arc(const DelaySystem& system,
                                                   const EdgeBasis& basis, double depth) {
    const DirectionalCourse course = directional_course(system, basis, depth);
    DelaySystem fine = system;
    fine.arc_slices = 600;
    EdgeSum<Eigen::Matrix3d> arc = directional_sum(fine, depth);
    EdgeSum<Eigen::Matrix3d> slices = directional_sum(system, depth);
    arc.basis = slices.basis = basis;
    double largest = 0, of_course = 0, of_slices = 0;
    for (std::size_t k = 0; k < course.pieces.size(); ++k) {
        const CutPiece& piece = course.pieces[k];
        if (!piece.cutting) continue;
        for (int i = 1; i < 40; ++i) {
            const double angle = piece.start + i * piece.length / 40;
            const EdgeMatrix exact = value_at(arc, angle);
            largest = std::max(largest, exact.norm());
            of_course = std::max(of_course, (course.at(k, angle, 1) - exact).norm());
            of_slices = std::max(of_slices, (value_at(slices, angle) - exact).norm());
        }
    }
    return {of_course / largest, of_slices / largest};
}

TEST(DirectionalCourse, FollowsACornerRadiusAsWellAsItsSlicesDo) {
    for (const double immersion : {0.05, 0.5}) {
        for (const auto& [corner, depth] : {std::pair(0.002, 0.006), {0.006, 0.004}}) {
            const auto [course, slices] = differences_from_the_arc(
                cut_with(corner, 35, immersion), {.height = gauss_heights(2, depth)}, depth);
            EXPECT_LT(course, 2 * slices) << immersion << " " << corner;
        }
    }
}

TEST(CourseShelf, SharesACourseBetweenLawsThatDifferByAFactorAlone) {
    CourseShelf shelf;
    DelaySystem system = cut_with(0, 35, 0.3);
    const EdgeBasis basis{.height = gauss_heights(2, 0.006)};
    const CourseShelf::Course first = shelf.at(system, basis, 0.006);
    DelaySystem stronger = system;
    for (double* part : {&stronger.law.tangential, &stronger.law.radial, &stronger.law.axial}) {
        *part *= 1.7;
    }
    const CourseShelf::Course shared = shelf.at(stronger, basis, 0.006);
    EXPECT_EQ(shared.course, first.course);
    EXPECT_NEAR(shared.scale, 1.7, 1e-12);
    DelaySystem other = system;
    other.law.radial *= 1.2;
    EXPECT_NE(shelf.at(other, basis, 0.006).course, first.course);
    EXPECT_NE(shelf.at(system, {.height = gauss_heights(3, 0.006)}, 0.006).course, first.course);
    EXPECT_NE(shelf.at(system, basis, 0.005).course, first.course);
    other = system;
    other.cutter.corner_radius = 0.001;
    EXPECT_NE(shelf.at(other, basis, 0.006).course, first.course);
}

}  // namespace
}  // namespace standfast
