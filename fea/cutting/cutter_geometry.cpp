#include "fea/cutting/cutter_geometry.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double full_turn = 2 * std::numbers::pi;

std::vector<double> even_pitch(int teeth) {
    std::vector<double> pitch(static_cast<std::size_t>(teeth), full_turn / teeth);
    return pitch;
}

std::vector<double> checked_pitch(const Cutter& cutter) {
    if (cutter.pitch.empty()) return even_pitch(cutter.teeth);
    require_between(static_cast<double>(cutter.pitch.size()), cutter.teeth, cutter.teeth,
                    "cutter_geometry", "number of pitch angles");
    for (const double angle : cutter.pitch) {
        require_positive(angle, "cutter_geometry", "pitch angle");
    }
    const double sum = std::accumulate(cutter.pitch.begin(), cutter.pitch.end(), 0.0);
    require_between(sum, full_turn - 1e-3, full_turn + 1e-3, "cutter_geometry",
                    "sum of the pitch angles (rad)");
    std::vector<double> pitch = cutter.pitch;
    for (double& angle : pitch) angle *= full_turn / sum;
    return pitch;
}

}  // namespace

bool CutterGeometry::evenly_spaced() const {
    const double pitch = full_turn / teeth();
    double expected = 0;
    return std::all_of(tooth_angle.begin(), tooth_angle.end(), [&](double angle) {
        const bool at_place = std::abs(angle - expected) < 1e-9;
        expected += pitch;
        return at_place;
    });
}

bool CutterGeometry::runs_out() const {
    return std::any_of(runout.begin(), runout.end(), [](double offset) { return offset != 0; });
}

CutterGeometry cutter_geometry(const Cutter& cutter) {
    const double most_helix = 80 * std::numbers::pi / 180;
    require_positive(cutter.diameter, "cutter_geometry", "diameter");
    require_positive(cutter.teeth, "cutter_geometry", "number of teeth");
    require_between(cutter.helix, -most_helix, most_helix, "cutter_geometry", "helix (rad)");
    require_between(cutter.corner_radius, 0, cutter.diameter / 2 * (1 + 1e-9), "cutter_geometry",
                    "corner radius");
    require_not_negative(cutter.runout, "cutter_geometry", "runout");

    const double helix = cutter.right_hand ? cutter.helix : -cutter.helix;
    CutterGeometry geometry{.diameter = cutter.diameter,
                            .helix = helix,
                            .corner_radius = std::min(cutter.corner_radius, cutter.diameter / 2),
                            .pulled_to_tip = helix >= 0,
                            .tooth_angle = {},
                            .runout = {}};
    double angle = 0;
    for (const double pitch : checked_pitch(cutter)) {
        geometry.tooth_angle.push_back(angle);
        if (cutter.runout > 0) geometry.runout.push_back(cutter.runout / 2 * std::cos(angle));
        angle += pitch;
    }
    return geometry;
}

}  // namespace standfast
