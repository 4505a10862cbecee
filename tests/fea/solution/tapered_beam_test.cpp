#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

constexpr double kNu = 0.29;

SectionAlong rectangle_along(double b_root, double b_tip, double h_root, double h_tip, bool shear) {
    return [=](double s) {
        const Section section =
            rectangle(h_root + s * (h_tip - h_root), b_root + s * (b_tip - b_root), kNu);
        return shear ? section : without_shear(section);
    };
}

TestBeam tapered(SectionAlong along, double length, int elements, double youngs_modulus = 205e9) {
    return {.section = {},
            .material = isotropic(youngs_modulus, kNu, 7850),
            .length = length,
            .elements = elements,
            .rotary_inertia = false,
            .taper = std::move(along)};
}

// J. M. Gere, Mechanics of Materials: 64 P L^3 / (3 pi E d_tip d_root^3), from memory, confirmed by
// quadrature; the share of shear is P L / (kappa G) times the mean of 1/A.
TEST(TaperedBeam, RoundCantileverBendsAsGereSays) {
    const double found = [] {
        const TestBeam cone =
            tapered([](double s) { return solid_round(0.05 - 0.03 * s, kNu); }, 0.8, 1);
        return 500 * point_compliance(assemble(cantilever(cone)), {.node = 0})(0, 0);
    }();
    EXPECT_TRUE(within(found, 0.003399230757, 1e-6));
}

TEST(TaperedBeam, DepthTaperBendsAsItsQuadratureSays) {
    // 12 P L^3 / (E b (hB - hA)^3) [ln(hB/hA) - (hB - hA)(3 hB - hA)/(2 hB^2)], bending only.
    const TestBeam beam = tapered(rectangle_along(0.04, 0.04, 0.05, 0.02, false), 0.8, 1);
    const double found = 500 * point_compliance(assemble(cantilever(beam)), {.node = 0})(0, 0);
    EXPECT_TRUE(within(found, 0.001891080074, 1e-6));
}

TEST(TaperedBeam, StaticsDoNotDependOnTheNumberOfElements) {
    for (const int elements : {6, 24}) {
        TestBeam tube =
            tapered([](double s) { return round_tube(0.1 - 0.04 * s, 0.06 - 0.02 * s, kNu); }, 0.2,
                    elements);
        const Eigen::Matrix3d found = point_compliance(assemble(cantilever(tube)), {.node = 0});
        tube.elements = 60;
        const Eigen::Matrix3d fine = point_compliance(assemble(cantilever(tube)), {.node = 0});
        EXPECT_LT((found - fine).norm(), 1e-8 * fine.norm());
    }
}

TEST(TaperedBeam, StaircaseOfUniformPiecesTendsToIt) {
    const SectionAlong along = rectangle_along(0.06, 0.03, 0.05, 0.02, true);
    const Eigen::Matrix3d taper =
        point_compliance(assemble(cantilever(tapered(along, 0.3, 6))), {.node = 0});
    StructureModel stairs;
    constexpr int kPieces = 80;
    for (int piece = 0; piece < kPieces; ++piece) {
        stairs.nodes.emplace_back(0, 0, 0.3 * (piece + 1) / kPieces);
        TestBeam step = tapered({}, 0, 1);
        step.section = along((piece + 0.5) / kPieces);
        add_beam(stairs, "step", step, piece == 0 ? Attachment{} : Attachment{.node = piece - 1},
                 {.node = piece});
    }
    const Eigen::Matrix3d steps = point_compliance(assemble(stairs), {.node = kPieces - 1});
    EXPECT_LT((taper - steps).norm(), 1e-3 * taper.norm());  // 1 / kPieces^2
}

struct Family {
    double ratio;
    std::vector<double> wedge, both;
};

// lambda = omega L^2 sqrt(rho A_root / (E I_root)), clamped at the large end, Euler-Bernoulli
// without rotary inertia: families of H. H. Mabie and C. B. Rogers (1964, 1972), H. D. Conway and
// J. F. Dubil (1965); worked out by shooting the differential equation.
const std::vector<Family> kFamilies{
    {0.2, {4.292494539, 15.74270017, 36.88455326}, {6.196391007, 18.38546739, 39.83362986}},
    {0.3, {4.081712378, 16.62524993, 40.58787757}, {5.5092608, 18.64116192, 42.81040412}},
    {0.5, {3.823784847, 18.3172609, 47.26482701}, {4.625150252, 19.54761318, 48.57889933}},
    {0.8, {3.608274873, 20.62101759, 56.19227837}, {3.855116795, 21.05674543, 56.63034506}}};

std::vector<double> lambdas(double width_ratio, double depth_ratio, int elements) {
    const double h = 0.04;
    const TestBeam beam =
        tapered(rectangle_along(0.2, 0.2 * width_ratio, h, h * depth_ratio, false), 1, elements);
    const Section root = beam.taper(0);
    const double scale = std::sqrt(7850 * root.area / (205e9 * root.second_moment_z));
    std::vector<double> list = frequencies_along(modes(assemble(cantilever(beam)), 14), kBendingX);
    for (double& hertz : list) hertz *= 2 * std::numbers::pi * scale;
    return list;
}

TEST(TaperedBeam, WedgesAndDoubleTapersMatchTheFamiliesOfMabieAndRogers) {
    for (const Family& family : kFamilies) {
        const std::string what = "ratio " + std::to_string(family.ratio);
        expect_list(lambdas(1, family.ratio, 16), family.wedge, 1e-3, "wedge, " + what);
        expect_list(lambdas(family.ratio, family.ratio, 16), family.both, 1e-3, "both, " + what);
    }
}

TEST(TaperedBeam, TheElementsThatAssemblyChoosesConvergeTheFirstTwoToAThousandth) {
    for (const Family& family : kFamilies) {
        const std::string what = "ratio " + std::to_string(family.ratio);
        const std::vector<double> wedge(family.wedge.begin(), family.wedge.begin() + 2);
        const std::vector<double> both(family.both.begin(), family.both.begin() + 2);
        expect_list(lambdas(1, family.ratio, 1), wedge, 1e-3, "wedge, " + what);
        expect_list(lambdas(family.ratio, family.ratio, 1), both, 1e-3, "both, " + what);
    }
}

// G. Kirchhoff (1882), complete wedge; H. D. Conway and J. F. Dubil (1965), complete cone; as in
// Blevins (from memory). The tip here is 1/1000 of the root, which lowers them by 0.2 %;
// towards the point the section changes many times over within an element, hence so many.
TEST(TaperedBeam, NearlyCompleteWedgeAndConeMatchKirchhoffAndConway) {
    expect_list(lambdas(1, 0.001, 240), {5.315, 15.207, 30.02}, 3e-3, "wedge");
    expect_list(lambdas(0.001, 0.001, 240), {8.719, 21.146, 38.453}, 3e-3, "cone");
}

// AFNOR/SFM VPCS guide, SDLL09/89, after Mabie and Rogers, J. Acoust. Soc. Am. 51 (1972) 1771-1774;
// code_aster V2.02.009. E 200 GPa, 7800 kg/m3, L 1 m, h 40 to 10 mm, b 40 (50) to 10 mm.
TEST(TaperedBeam, DoubleTaperMatchesSdll09) {
    const auto frequencies = [](double b_root) {
        TestBeam beam = tapered(rectangle_along(b_root, 0.01, 0.04, 0.01, false), 1, 24, 200e9);
        beam.material.density = 7800;
        // Where b = h the two planes are alike; a wider section parts them.
        const auto found = modes(assemble(cantilever(beam)), 20);
        return b_root == 0.04 ? bending_pairs(found) : frequencies_along(found, kBendingX);
    };
    const std::vector<double> printed4{54.18112845, 171.9260334, 384.4024155, 697.2426552,
                                       1112.284663};
    const std::vector<double> printed5{56.55180001, 175.7879714, 389.0088234, 702.3608862,
                                       1117.635541};
    // Printed lambdas have four digits: 3e-4; the mesh 1e-3 at the fifth.
    expect_list(frequencies(0.04), printed4, 1e-3, "width ratio 4");
    expect_list(frequencies(0.05), printed5, 1e-3, "width ratio 5");
}

}  // namespace
}  // namespace standfast::test
