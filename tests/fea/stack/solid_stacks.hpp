#pragma once

#include <array>
#include <vector>

#include "tests/fea/stack/sample_stack.hpp"

namespace standfast::solid {

/// A stack in one piece as a solid model: CalculiX 2.20, C3D10, meshes by gmsh 4.8.4, computed for
/// this project, 2026-11. Foot fixed, all joints solid.
struct SolidStack {
    const char* name;
    Stack stack;
    double compliance_x, compliance_y;   ///< um/kN at the part's top
    std::array<double, 2> frequency_hz;  ///< first two
};

inline Material ductile_iron() {
    Material iron;
    iron.name = "ductile iron";
    iron.youngs_modulus = 169e9;
    iron.poissons_ratio = 0.275;
    iron.density = 7100;
    return iron;
}

inline Stack stack_of(bool plate, const SectionShape& riser) {
    Stack stack;
    const Material steel = sample::steel_4140();
    if (plate) {
        sample::put_on_top(stack, sample::tier("plate", steel, BlockShape{0.18, 0.18}, 0.03,
                                               sample::solid_joint()));
    }
    sample::put_on_top(stack,
                       sample::tier("riser", ductile_iron(), riser, 0.15, sample::solid_joint()));
    sample::put_on_top(
        stack, sample::tier("block", steel, BlockShape{0.076, 0.06}, 0.038, sample::solid_joint()));
    sample::put_on_top(stack, sample::tier("part", sample::aluminium_6061(), BlockShape{0.07, 0.05},
                                           0.095, sample::solid_joint()));
    return stack;
}

/// Those that the share of the half-space in seat_give.cpp is fitted to.
inline std::vector<SolidStack> fitted_stacks() {
    const SectionShape tube = TubeShape{0.11, 0.07};
    return {{"plate, tube, block, part", stack_of(true, tube), 14.47, 20.36, {1337, 1386}},
            {"tube, block, part", stack_of(false, tube), 13.46, 19.15, {1431, 1492}},
            {"plate, solid riser, block, part",
             stack_of(true, RoundShape{0.11}),
             12.32,
             15.99,
             {1470, 1493}}};
}

}  // namespace standfast::solid
