#include "fea/cutting/edge_slices.hpp"

#include <algorithm>
#include <cmath>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

double arc_height(double radius, double lead) {
    const double half_sine = std::sin(lead / 2);
    return 2 * radius * half_sine * half_sine;  // r (1 - cos k) without cancellation
}

}  // namespace

std::vector<EdgeSlice> edge_slices(const CutterGeometry& cutter, double depth, int arc_slices) {
    require_not_negative(depth, "edge_slices", "axial depth");
    require_positive(cutter.diameter, "edge_slices", "cutter diameter");
    const double radius = cutter.corner_radius;
    require_between(radius, 0, cutter.diameter / 2 * (1 + 1e-12), "edge_slices", "corner radius");
    require_positive(arc_slices, "edge_slices", "number of slices");

    std::vector<EdgeSlice> slices;
    const double arc_top = std::min(depth, radius);
    if (arc_top > 0) {
        const double last = 2 * std::asin(std::sqrt(std::min(1.0, arc_top / radius) / 2));
        const double step = last / arc_slices;
        for (int i = 0; i < arc_slices; ++i) {
            const double from = arc_height(radius, i * step);
            const double to = arc_height(radius, (i + 1) * step);
            const double middle = (i + 0.5) * step;
            slices.push_back(
                {from, to, std::sin(middle), std::cos(middle), radius * step / (to - from)});
        }
    }
    if (depth > radius) slices.push_back({.from = radius, .to = depth});
    return slices;
}

double lag_per_height(const CutterGeometry& cutter) {
    require_positive(cutter.diameter, "lag_per_height", "cutter diameter");
    return std::tan(cutter.helix) / (cutter.diameter / 2);
}

}  // namespace standfast
