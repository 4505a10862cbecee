#include "fea/judgement/cut/corner.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {

double corner_radial(double radial, double corner, double diameter) {
    require_positive(corner, "corner_radial", "corner radius");
    require_positive(radial, "corner_radial", "radial depth");
    require_between(radial, 0, diameter, "corner_radial", "radial depth");
    const double radius = diameter / 2;
    const double straight = std::acos(std::clamp(1 - radial / radius, -1.0, 1.0));
    const double square_turn = std::min(straight + std::numbers::pi / 2, std::numbers::pi);
    const double path = corner - radius;
    double engaged = square_turn;
    if (path > 0) {
        const double inner = std::max(corner - radial, 0.0);
        const double cosine = (inner * inner - path * path - radius * radius) / (2 * path * radius);
        engaged = std::min(square_turn, std::acos(std::clamp(cosine, -1.0, 1.0)));
    }
    return radius * (1 - std::cos(engaged));
}

std::optional<SpeedLimit> corner_limit(const CutProblem& problem, double heading,
                                       SpindleSpeed speed) {
    const Pass& pass = problem.pass();
    if (!pass.corner_radius) return std::nullopt;
    Pass in_corner = pass;
    in_corner.radial = corner_radial(pass.radial, *pass.corner_radius, problem.cut.cutter.diameter);
    CutProblem cornering = problem;
    cornering.cut = rigid_cut(*problem.job, in_corner, 0);
    std::optional<SpeedLimit> smallest;
    for (const double turn : {-90.0, -45.0, 0.0, 45.0, 90.0}) {
        const double turned = heading + turn * std::numbers::pi / 180;
        const SpeedLimit at = limits_at_heading(cornering, turned, {speed}).speeds[0];
        const bool smaller =
            !smallest || (at.limit && (!smallest->limit || *at.limit < *smallest->limit));
        if (smaller) smallest = at;
    }
    return smallest;
}

}  // namespace standfast
