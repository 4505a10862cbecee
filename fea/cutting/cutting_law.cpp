#include "fea/cutting/cutting_law.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double thin_chip = 0.03e-3;  // m
constexpr double millimetre = 1e-3;

CuttingLaw mechanistic_law(const MechanisticForces& forces, double spread) {
    require_positive(forces.tangential, "cutting_law", "tangential coefficient");
    return {.tangential = forces.tangential,
            .radial = forces.radial,
            .axial = forces.axial,
            .tangential_edge = forces.tangential_edge,
            .radial_edge = forces.radial_edge,
            .axial_edge = forces.axial_edge,
            .spread = spread,
            .chip = 0};
}

/// On a logarithmic scale, as a factor of spread is; no further than five times.
double widened(double spread, double chip) {
    if (chip >= thin_chip) return spread;
    return std::pow(spread, std::min(5.0, std::sqrt(thin_chip / chip)));
}

CuttingLaw kienzle_law(const KienzleForces& forces, double spread, double chip) {
    require_positive(forces.kc11, "cutting_law", "kc1.1");
    require_between(forces.exponent, 0, 0.99, "cutting_law", "Kienzle exponent mc");
    const double tangent_chip = std::max(chip, thin_chip);
    const double secant = forces.kc11 * std::pow(tangent_chip / millimetre, -forces.exponent);
    const double slope = (1 - forces.exponent) * secant;
    const double edge = forces.exponent * secant * tangent_chip;
    return {.tangential = slope,
            .radial = forces.radial_ratio * slope,
            .axial = forces.axial_ratio * slope,
            .tangential_edge = edge,
            .radial_edge = forces.radial_ratio * edge,
            .axial_edge = forces.axial_ratio * edge,
            .spread = widened(spread, chip),
            .chip = tangent_chip};
}

}  // namespace

CuttingLaw cutting_law(const CuttingData& data, const Engagement& engagement,
                       double feed_per_tooth) {
    if (!data.mechanistic && !data.kienzle) {
        throw std::domain_error("cutting_law: cutting data \"" + data.name +
                                "\" hold neither mechanistic nor Kienzle coefficients");
    }
    CuttingLaw law = data.mechanistic ? mechanistic_law(*data.mechanistic, data.spread)
                                      : kienzle_law(*data.kienzle, data.spread,
                                                    mean_chip(engagement, feed_per_tooth));
    law.process_damping = data.process_damping.value_or(0);
    law.rubbing = Rubbing::mean;
    law.fade = {.full = 0.5e-3, .none = 1e-3};
    require_not_negative(law.process_damping, "cutting_law", "process damping");
    return law;
}

}  // namespace standfast
