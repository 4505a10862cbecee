// The stable motion by two ways, harmonics and the period map's fixed point, over speeds and points
// in a piece; and the limits of unequal pitch against the semi-discretization of
// validation/peers/unequal_pitch.py. Run from the project's top folder.
#include "fea/chatter/motion/steady_motion.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <numbers>
#include <sstream>

#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/motion/surface_error.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

RigidCut finishing_cut(double helix_degrees) {
    RigidCut cut;
    cut.cutter = reference::even_cutter(4, 0.012, helix_degrees);
    cut.engagement = engagement(Milling::down, 0.00012, 0.012);
    cut.law.tangential = 1650e6;
    cut.law.radial = 742.5e6;
    cut.law.tangential_edge = 22e3;
    cut.law.radial_edge = 26e3;
    cut.feed_per_tooth = 0.05e-3;
    cut.depth = 1.2e-3;
    return cut;
}

/// Largest difference of the wall's error between the two, as a share of the largest error.
double worst_difference(double helix_degrees, double margin) {
    const ModalReceptance receptance = reference::receptance_of(reference::case_m1_modes());
    const RigidCut cut = finishing_cut(helix_degrees);
    const PreparedCut prepared = prepare_motion(receptance, cut);
    const std::vector<double> heights{0, 0.3e-3, 0.6e-3, 0.9e-3, 1.2e-3};
    double worst = 0;
    for (double rpm = 2000; rpm <= 15000; rpm += 250) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const SteadyMotion fixed(prepared, speed, margin);
        const StableMotion sum = stable_motion(receptance, cut, speed, heights);
        for (std::size_t k = 0; k < heights.size(); ++k) {
            const double phi = std::numbers::pi + std::tan(cut.cutter.helix) * heights[k] / 0.006;
            const double error = -fixed.displacement(phi, false).y();
            worst = std::max(worst, std::abs(error - sum.error[k]) / std::abs(sum.largest_error));
        }
    }
    return worst;
}

void report_unequal_pitch() {
    std::ifstream file("validation/cases/stability/unequal_pitch.csv");
    std::string line;
    while (std::getline(file, line)) {
        if (line.empty() || line[0] == '#' || line[0] == 'r') continue;
        std::istringstream fields(line);
        double rpm = 0, immersion = 0, rubbing = 0, expected = 0;
        char comma = 0;
        fields >> rpm >> comma >> immersion >> comma >> rubbing >> comma >> expected;
        const double degree = std::numbers::pi / 180;
        DelaySystem system = reference::benchmark_system(2, immersion, Milling::down);
        system.cutter = reference::even_cutter(4, 0.010);
        system.cutter.tooth_angle = {0, 100 * degree, 185 * degree, 280 * degree};
        system.law.process_damping = rubbing;
        const SpeedLimit limit = periodic_limit(system, SpindleSpeed::from_rpm(rpm), 0.02, 1.0);
        fmt::print("{:>6} rpm, immersion {}, rubbing {:>6}: {:.6g} m, peer {:.6g} m: {:+.1e}\n",
                   rpm, immersion, rubbing, limit.limit.value_or(0), expected,
                   limit.limit.value_or(0) / expected - 1);
    }
}

}  // namespace
}  // namespace standfast

int main() {
    try {
        fmt::print("wall error, fixed point against harmonics, 2000 to 15000 rpm by 250:\n");
        for (const double helix : {0.0, 38.0}) {
            for (const double margin : {3.0, 4.0, 5.0, 6.0, 8.0}) {
                fmt::print("  helix {:>2} deg, margin {}: worst {:.1e} of the largest error\n",
                           helix, margin, standfast::worst_difference(helix, margin));
            }
        }
        fmt::print("limits of unequal pitch:\n");
        standfast::report_unequal_pitch();
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}
