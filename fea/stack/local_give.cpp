#include "fea/stack/local_give.hpp"

#include <cmath>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kSteelModulus = 205e9;

/// Stiffness per area of steel bodies beside a zone whose patches have this size.
struct BodyFigures {
    Eigen::Vector3d lower, upper;  ///< N/m^3 along x, y, z
    double size = 0;               ///< m, root of a patch's area
};

/// Both bodies together, and the share of the give that is the lower one's.
BodyFigures split(const Eigen::Vector3d& both, double lower_share, double size) {
    return {.lower = both / lower_share, .upper = both / (1 - lower_share), .size = size};
}

BodyFigures figures_of(ZoneForm form) {
    switch (form) {
        case ZoneForm::face:
            return split({8.5e12, 8.5e12, 17e12}, 0.78, 88.6e-3);
        case ZoneForm::cones:
            return split({9e12, 9e12, 14.5e12}, 0.78, 29.1e-3);
        case ZoneForm::flanks:
            return split({7.3e12, 11.7e12, 5.2e12}, 0.5, 16.6e-3);
        case ZoneForm::flanks_and_seat:
            return split({11e12, 21e12, 14.5e12}, 0.2, 30.3e-3);
        case ZoneForm::jaws:
            break;
    }
    return {
        .lower = {2.5e12, 1.92e12, 6.4e12}, .upper = {8.87e12, 5.77e12, 7.85e12}, .size = 28.3e-3};
}

ZoneStiffness give_of(const Footprint& zone, const Eigen::Vector3d& per_area) {
    const ZoneStiffness stiffness{
        .translation = zone.area * per_area,
        .rotation = {per_area.z() * zone.second_moment_x, per_area.z() * zone.second_moment_y,
                     per_area.x() * zone.second_moment_x + per_area.y() * zone.second_moment_y}};
    return {.translation = stiffness.translation.cwiseInverse(),
            .rotation = stiffness.rotation.cwiseInverse()};
}

}  // namespace

ZoneStiffness local_give(const ClampedZone& zone, const Material& lower, const Material& upper) {
    const Footprint footprint = zone_footprint(zone);
    require_positive(footprint.area, "local give", "area of the zone");
    require_positive(lower.youngs_modulus, "local give", "Young's modulus of the lower body");
    require_positive(upper.youngs_modulus, "local give", "Young's modulus of the upper body");
    const BodyFigures figures = figures_of(zone.form);
    const double patches = static_cast<double>(zone.patches.size());
    const double similar = figures.size / std::sqrt(footprint.area / patches) / kSteelModulus;
    const ZoneStiffness below = give_of(footprint, similar * lower.youngs_modulus * figures.lower);
    const ZoneStiffness above = give_of(footprint, similar * upper.youngs_modulus * figures.upper);
    return {.translation = below.translation + above.translation,
            .rotation = below.rotation + above.rotation};
}

ZoneStiffness in_series(const ZoneStiffness& stiffness, const ZoneStiffness& give) {
    const auto series = [](const Eigen::Vector3d& spring, const Eigen::Vector3d& more) {
        return (spring.cwiseInverse() + more).cwiseInverse().eval();
    };
    return {.translation = series(stiffness.translation, give.translation),
            .rotation = series(stiffness.rotation, give.rotation)};
}

}  // namespace standfast
