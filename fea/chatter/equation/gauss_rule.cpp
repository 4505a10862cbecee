#include "fea/chatter/equation/gauss_rule.hpp"

#include <array>
#include <cmath>
#include <mutex>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Eigen::MatrixXd;
using Eigen::VectorXd;

// Legendre polynomials P_0 .. P_n at x in [-1, 1].
VectorXd legendre(int n, double x) {
    VectorXd value(n + 1);
    value[0] = 1;
    if (n > 0) value[1] = x;
    for (int k = 1; k < n; ++k) {
        value[k + 1] = ((2 * k + 1) * x * value[k] - k * value[k - 1]) / (k + 1);
    }
    return value;
}

double legendre_root(int n, int index) {
    double x = -std::cos(std::numbers::pi * (index + 0.75) / (n + 0.5));
    for (int step = 0; step < 100; ++step) {
        const VectorXd value = legendre(n, x);
        const double slope = n * (x * value[n] - value[n - 1]) / (x * x - 1);
        const double change = value[n] / slope;
        x -= change;
        if (std::abs(change) < 1e-16) break;
    }
    return x;
}

struct Points {
    VectorXd node, weight;  // on [0, 1]
    MatrixXd at_node;       // P_k(node j) in row k, column j; k = 0 .. n
};

Points gauss_points(int n) {
    Points points{VectorXd(n), VectorXd(n), MatrixXd(n + 1, n)};
    for (int j = 0; j < n; ++j) {
        const double x = legendre_root(n, j);
        points.at_node.col(j) = legendre(n, x);
        const double slope_times = n * points.at_node(n - 1, j);  // (1 - x^2) times P_n'
        points.node[j] = 0.5 * (1 + x);
        points.weight[j] = (1 - x * x) / (slope_times * slope_times);
    }
    return points;
}

// The polynomial that is 1 at node j is the sum over k < n of w_j (2 k + 1) P_k(x_j) P_k(x).
MatrixXd interpolation_between(const Points& from, const Points& to) {
    const auto n = from.node.size();
    MatrixXd result(to.node.size(), n);
    for (Eigen::Index q = 0; q < to.node.size(); ++q) {
        const VectorXd value = legendre(static_cast<int>(n), 2 * to.node[q] - 1);
        for (Eigen::Index j = 0; j < n; ++j) {
            double total = 0;
            for (Eigen::Index k = 0; k < n; ++k) {
                total += static_cast<double>(2 * k + 1) * from.at_node(k, j) * value[k];
            }
            result(q, j) = from.weight[j] * total;
        }
    }
    return result;
}

// As above with the integral of P_k from -1, (P_{k+1} - P_{k-1})/(2 k + 1), on half the length.
MatrixXd integral_up_to(const Points& of, const Points& to) {
    const auto n = of.node.size();
    MatrixXd result(to.node.size(), n);
    for (Eigen::Index i = 0; i < to.node.size(); ++i) {
        const double x = 2 * to.node[i] - 1;
        const VectorXd value = legendre(static_cast<int>(n), x);
        for (Eigen::Index j = 0; j < n; ++j) {
            double total = 0.5 * (x + 1);
            for (Eigen::Index k = 1; k < n; ++k) {
                total += 0.5 * of.at_node(k, j) * (value[k + 1] - value[k - 1]);
            }
            result(i, j) = of.weight[j] * total;
        }
    }
    return result;
}

VectorXd barycentric_weights(const VectorXd& node) {
    VectorXd weights = VectorXd::Ones(node.size());
    for (Eigen::Index i = 0; i < node.size(); ++i) {
        for (Eigen::Index j = 0; j < node.size(); ++j) {
            if (j != i) weights[i] /= node[i] - node[j];
        }
    }
    return weights;
}

GaussRule make_rule(int n) {
    const Points points = gauss_points(n);
    const Points fine = gauss_points(2 * n);
    return {points.node, barycentric_weights(points.node),    fine.node,
            fine.weight, interpolation_between(points, fine), integral_up_to(fine, points)};
}

}  // namespace

const GaussRule& gauss_rule(int points) {
    require_between(points, 1, kMostGaussPoints, "gauss_rule", "number of points");
    static std::array<GaussRule, kMostGaussPoints> rules;
    static std::array<std::once_flag, kMostGaussPoints> made;
    const auto place = static_cast<std::size_t>(points - 1);
    std::call_once(made[place], [&] { rules[place] = make_rule(points); });
    return rules[place];
}

Eigen::VectorXd lagrange_weights(const GaussRule& rule, double x) {
    Eigen::VectorXd weights = rule.barycentric;
    for (Eigen::Index i = 0; i < weights.size(); ++i) {
        const double away = x - rule.node[i];
        if (away == 0) return Eigen::VectorXd::Unit(weights.size(), i);
        weights[i] /= away;
    }
    return weights / weights.sum();
}

Eigen::VectorXd lagrange_weights(const Eigen::VectorXd& node, double x) {
    Eigen::VectorXd weights = Eigen::VectorXd::Ones(node.size());
    for (Eigen::Index i = 0; i < node.size(); ++i) {
        for (Eigen::Index j = 0; j < node.size(); ++j) {
            if (j != i) weights[i] *= (x - node[j]) / (node[i] - node[j]);
        }
    }
    return weights;
}

}  // namespace standfast
