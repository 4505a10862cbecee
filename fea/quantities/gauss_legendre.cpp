#include "fea/quantities/gauss_legendre.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

struct Legendre {
    double value = 0, slope = 0;
};

Legendre legendre(int degree, double x) {
    double before = 1, value = x;
    for (int k = 2; k <= degree; ++k) {
        const double next = ((2 * k - 1) * x * value - (k - 1) * before) / k;
        before = value;
        value = next;
    }
    return {value, degree * (x * value - before) / (x * x - 1)};
}

GaussLegendre computed(int points) {
    GaussLegendre rule;
    for (int i = 0; i < points; ++i) {
        double x = -std::cos(std::numbers::pi * (i + 0.75) / (points + 0.5));
        Legendre at = points == 1 ? Legendre{0, 1} : legendre(points, x);
        if (points == 1) x = 0;
        for (int step = 0; step < 100 && std::abs(at.value) > 1e-16; ++step) {
            const double change = at.value / at.slope;
            x -= change;
            at = legendre(points, x);
            if (std::abs(change) < 1e-16) break;
        }
        rule.node.push_back((1 + x) / 2);
        rule.weight.push_back(points == 1 ? 1 : 1 / ((1 - x * x) * at.slope * at.slope));
    }
    return rule;
}

std::array<GaussLegendre, kMostLegendrePoints> all_rules() {
    std::array<GaussLegendre, kMostLegendrePoints> rules;
    for (int n = 1; n <= kMostLegendrePoints; ++n) {
        rules[static_cast<std::size_t>(n - 1)] = computed(n);
    }
    return rules;
}

}  // namespace

const GaussLegendre& gauss_legendre(int points) {
    static const std::array<GaussLegendre, kMostLegendrePoints> rules = all_rules();
    require_between(points, 1, kMostLegendrePoints, "gauss_legendre", "number of points");
    return rules[static_cast<std::size_t>(points - 1)];
}

}  // namespace standfast
