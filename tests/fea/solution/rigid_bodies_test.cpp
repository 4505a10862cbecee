#include <gtest/gtest.h>

#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

namespace standfast::test {
namespace {

constexpr double kStiff = 1e13;

// 25 kg, 0.4 m, 0.33333 kg m2 about its centre: closed form sqrt(k / (J + m h^2)).
TEST(RigidBodies, BarOnATiltingSpring) {
    StructureModel model;
    model.nodes = {{0, 0, 0}};
    add_springs(model, "pivot", 0, {kStiff, kStiff, kStiff}, {kStiff, 2e5, kStiff});
    add_lump(model, "bar", 0, 25, {1.0 / 3, 1.0 / 3, 1.0 / 3}, {0, 0, 0.2});
    const AssembledSystem system = assemble(model);
    EXPECT_TRUE(within(modes(system, 1)[0].frequency.hertz(), 61.64044441, 1e-6));
    const MaterialPoint top{.node = 0, .arm = {0, 0, 0.4}};
    EXPECT_TRUE(within(point_compliance(system, top)(0, 0), 8e-7, 1e-6));
}

// The same block sliding and rocking: 2 x 2 eigenvalue problem.
TEST(RigidBodies, BlockThatSlidesAndRocks) {
    StructureModel model;
    model.nodes = {{0, 0, 0}};
    add_springs(model, "foot", 0, {4e7, kStiff, kStiff}, {kStiff, 2e5, kStiff});
    add_lump(model, "block", 0, 25, {1.0 / 3, 1.0 / 3, 1.0 / 3}, {0, 0, 0.2});
    const AssembledSystem system = assemble(model);
    const auto found = modes(system, 2);
    EXPECT_TRUE(within(found[0].frequency.hertz(), 59.5376661, 1e-6));
    EXPECT_TRUE(within(found[1].frequency.hertz(), 416.8540964, 1e-6));
    const MaterialPoint top{.node = 0, .arm = {0, 0, 0.4}};
    EXPECT_TRUE(within(point_compliance(system, top)(0, 0), 8.25e-7, 1e-6));
}

// Table spring, base plate 30 kg and 40 mm thick, riser 100 x 120 mm of ductile iron 300 mm high,
// clamp and workpiece 9 kg 50 mm above it; exact transfer matrix in the plane of the 120 mm side.
TEST(RigidBodies, StackOfTablePlateRiserAndPartMatchesTheTransferMatrix) {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.34}};
    add_springs(model, "table", 0, {2.5e8, kStiff, kStiff}, {kStiff, 9e6, kStiff});
    add_lump(model, "plate", 0, 30, {0.25, 0.25, 0.25}, {0, 0, 0.02});
    const TestBeam riser{.section = rectangle(0.12, 0.10, 0.275),
                         .material = isotropic(169e9, 0.275, 7100),
                         .elements = 40};
    add_beam(model, "riser", riser, {.node = 0, .arm = {0, 0, 0.04}}, {.node = 1});
    add_lump(model, "part", 1, 9, {0.03, 0.03, 0.03}, {0, 0, 0.05});
    const AssembledSystem system = assemble(model);
    const auto hertz = frequencies_along(modes(system, 14), kBendingX);
    expect_list(hertz, {216.4260296, 486.6683282, 1605.715012, 3242.667485}, 2e-4, "stack");
    EXPECT_TRUE(within(point_compliance(system, {.node = 1})(0, 0), 2.098719592e-08, 1e-6));
    // Four elements, as a job gets them.
    model.beams[0].least_elements = 4;
    const auto coarse = frequencies_along(modes(assemble(model), 12), kBendingX);
    expect_list(coarse, {216.4260296, 486.6683282, 1605.715012}, 1e-2, "four elements");
}

}  // namespace
}  // namespace standfast::test
