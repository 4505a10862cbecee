#include <gtest/gtest.h>

#include "fea/solution/modes.hpp"
#include "fea/structure/assembly.hpp"
#include "tests/support/beams.hpp"
#include "tests/support/published.hpp"

// VPCS SDLL15/89 (AFNOR/SFM guide; code_aster V2.02.015, numbers from memory, confirmed by
// recomputation): tube D 350, d 320 mm, 10 m, with 1000 kg at its tip, centred and 1 m off axis.
namespace standfast::test {
namespace {

std::vector<double> frequencies(bool thin_beam_theory, const Eigen::Vector3d& arm, int count) {
    const Section tube = round_tube(0.35, 0.32, 0.3);
    const TestBeam beam{.section = thin_beam_theory ? without_shear(tube) : tube,
                        .material = isotropic(210e9, 0.3, 7800),
                        .length = 10,
                        .elements = 40};
    StructureModel model = cantilever(beam);
    add_lump(model, "tip", 0, 1000, {0, 0, 0}, arm);
    std::vector<double> hertz;
    for (const Mode& mode : modes(assemble(model), count)) hertz.push_back(mode.frequency.hertz());
    return hertz;
}

TEST(EccentricTipMass, CentredMassMatchesSdll15) {
    const std::vector<double> printed{1.65,  1.65,  16.07, 16.07, 50.02,
                                      50.02, 76.47, 80.47, 103.2, 103.2};
    const std::vector<double> timoshenko{1.653452694, 1.653452694, 15.90609932, 15.90609932,
                                         48.70271742, 48.70271742, 76.47079471, 80.45037692,
                                         98.17171058, 98.17171058};
    // Printed: Euler-Bernoulli without rotary inertia, three or four digits.
    expect_list(frequencies(true, {0, 0, 0}, 10), printed, 1e-2, "printed");
    expect_list(frequencies(false, {0, 0, 0}, 10), timoshenko, 1e-3, "with shear");
}

TEST(EccentricTipMass, MassOffTheAxisCouplesBendingWithTwistAndStretch) {
    const std::vector<double> printed{1.636, 1.642, 13.46, 13.59, 28.9, 31.96, 61.61, 63.93};
    const std::vector<double> timoshenko{1.634420488, 1.639744076, 13.36753008, 13.50522723,
                                         28.61391265, 31.53567644, 59.86114931, 61.74184567};
    expect_list(frequencies(true, {0, 1, 0}, 8), printed, 1e-2, "printed");
    expect_list(frequencies(false, {0, 1, 0}, 8), timoshenko, 1e-3, "with shear");
    // Which way the mass hangs is all one to a round tube.
    expect_list(frequencies(false, {0.6, -0.8, 0}, 8), timoshenko, 1e-3, "elsewhere");
}

}  // namespace
}  // namespace standfast::test
