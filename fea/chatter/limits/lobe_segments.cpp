#include "fea/chatter/limits/lobe_segments.hpp"

#include <Eigen/Eigenvalues>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>

#include "fea/chatter/limits/receptance_interpolation.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

struct Node {
    double w = 0;
    LoopEigenvalues lambda;
};

/// Roots of x^2 - trace x + determinant, the larger one first, without cancellation.
LoopEigenvalues planar_eigenvalues(const Eigen::Matrix2cd& loop) {
    const Complex half = loop.trace() / 2.0;
    const Complex determinant = loop.determinant();
    const Complex root = std::sqrt(half * half - determinant);
    const Complex larger =
        std::norm(half + root) > std::norm(half - root) ? half + root : half - root;
    const Complex smaller = larger == 0.0 ? Complex(0) : determinant / larger;
    return {larger, smaller, 0.0};
}

/// Roots of x^3 - trace x^2 + minors x - determinant: Cardano's, then two Newton steps each.
LoopEigenvalues spatial_eigenvalues(const Eigen::Matrix3cd& loop) {
    const Complex trace = loop.trace(), determinant = loop.determinant();
    const Complex minors = (trace * trace - (loop * loop).trace()) / 2.0;
    const Complex third = trace / 3.0;
    const Complex p = minors - trace * third;
    const Complex q = third * (minors - 2.0 * third * third) - determinant;
    const Complex root = std::sqrt(q * q / 4.0 + p * p * p / 27.0);
    const Complex cube =
        std::norm(root - q / 2.0) > std::norm(root + q / 2.0) ? root - q / 2.0 : -root - q / 2.0;
    if (cube == 0.0) return {third, third, third};
    const Complex third_turn(-0.5, std::numbers::sqrt3 / 2);
    LoopEigenvalues values;
    Complex u = std::polar(std::cbrt(std::abs(cube)), std::arg(cube) / 3);
    for (std::size_t i = 0; i < 3; ++i, u *= third_turn) {
        Complex x = third + u - p / (3.0 * u);
        for (int step = 0; step < 2; ++step) {
            const Complex value = ((x - trace) * x + minors) * x - determinant;
            const Complex slope = (3.0 * x - 2.0 * trace) * x + minors;
            if (slope != 0.0) x -= value / slope;
        }
        values[i] = x;
    }
    return values;
}

/// The three largest; columns of A0 that are zero, since nothing is felt there, are left out.
LoopEigenvalues largest_eigenvalues(const Eigen::MatrixXd& mean_matrix,
                                    const Eigen::MatrixXcd& receptance) {
    std::vector<Eigen::Index> felt;
    for (Eigen::Index column = 0; column < mean_matrix.cols(); ++column) {
        if (!mean_matrix.col(column).isZero(0)) felt.push_back(column);
    }
    const Eigen::MatrixXcd loop = receptance(felt, Eigen::all) * mean_matrix(Eigen::all, felt);
    const Eigen::ComplexEigenSolver<Eigen::MatrixXcd> solver(loop, false);
    std::vector<Complex> values(solver.eigenvalues().begin(), solver.eigenvalues().end());
    std::sort(values.begin(), values.end(),
              [](Complex a, Complex b) { return std::norm(a) > std::norm(b); });
    values.resize(3, 0.0);
    return {values[0], values[1], values[2]};
}

/// Orders the eigenvalues of `next` so that each continues that of `before`.
LoopEigenvalues continued(const LoopEigenvalues& before, const LoopEigenvalues& next) {
    std::array<std::size_t, 3> order = {0, 1, 2}, best = order;
    std::array<std::array<double, 3>, 3> away{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) away[i][j] = std::abs(next[j] - before[i]);
    }
    double least = std::numeric_limits<double>::infinity();
    do {
        double distance = 0;
        for (std::size_t i = 0; i < 3; ++i) distance += away[i][order[i]];
        if (distance < least) {
            least = distance;
            best = order;
        }
    } while (std::next_permutation(order.begin(), order.end()));
    return {next[best[0]], next[best[1]], next[best[2]]};
}

/// Paths of the eigenvalues over all samples, split where a phase turns too far.
class PathTracer {
public:
    PathTracer(const Eigen::MatrixXd& mean_matrix, const SampledReceptance& receptance,
               double searched_to)
        : mean_matrix_(mean_matrix), receptance_(receptance), searched_to_(searched_to) {}

    std::vector<LobeSegment> trace() {
        Node from = sample(0);
        for (std::size_t i = 0; i + 1 < receptance_.frequency.size(); ++i) {
            Node to = sample(i + 1);
            to.lambda = continued(from.lambda, to.lambda);
            interval_ = i;
            interpolation_.reset();
            from = add(from, to, 5);
        }
        std::sort(segments_.begin(), segments_.end(),
                  [](const LobeSegment& a, const LobeSegment& b) {
                      return a.least_depth < b.least_depth;
                  });
        return std::move(segments_);
    }

private:
    Node sample(std::size_t i) const {
        return {receptance_.frequency[i].radians_per_second,
                loop_eigenvalues(mean_matrix_, receptance_.value[i])};
    }

    /// Adds the stretches between two nodes; returns the far one, its values in their order.
    Node add(const Node& from, const Node& to, int splits_left) {
        if (splits_left > 0 && turns_far(from, to)) {
            if (!interpolation_) interpolation_ = interpolation(receptance_, interval_);
            Node middle{(from.w + to.w) / 2, {}};
            middle.lambda = continued(
                from.lambda, loop_eigenvalues(mean_matrix_, value_at(*interpolation_, middle.w)));
            middle = add(from, middle, splits_left - 1);
            const Node end{to.w, continued(middle.lambda, to.lambda)};
            return add(middle, end, splits_left - 1);
        }
        for (std::size_t branch = 0; branch < 3; ++branch) {
            if (matters(from.lambda[branch], to.lambda[branch])) {
                segments_.push_back(segment(from, to, branch));
            }
        }
        return to;
    }

    bool turns_far(const Node& from, const Node& to) const {
        const double far = std::tan(0.1);  // rad
        for (std::size_t branch = 0; branch < 3; ++branch) {
            const Complex a = from.lambda[branch], b = to.lambda[branch];
            if (!matters(a, b)) continue;
            const Complex turn = b * std::conj(a);
            if (std::abs(turn.imag()) > far * turn.real()) return true;
        }
        return false;
    }

    bool matters(Complex a, Complex b) const {
        const double largest = std::max(a.real(), b.real());
        return largest > 0 && least_depth(a, b) < searched_to_;
    }

    /// |lambda| bounds Re(lambda (1 - exp(-i w tau)))/2; a tenth is left for what lies between.
    static double least_depth(Complex a, Complex b) {
        return 0.9 / (2 * std::sqrt(std::max(std::norm(a), std::norm(b))));
    }

    LobeSegment segment(const Node& from, const Node& to, std::size_t branch) const {
        const Complex a = from.lambda[branch], b = to.lambda[branch];
        return {from.w, to.w, a, b, interval_, least_depth(a, b)};
    }

    const Eigen::MatrixXd& mean_matrix_;
    const SampledReceptance& receptance_;
    double searched_to_;
    std::size_t interval_ = 0;
    std::optional<ReceptanceInterpolation> interpolation_;
    std::vector<LobeSegment> segments_;
};

}  // namespace

LoopEigenvalues loop_eigenvalues(const Eigen::MatrixXd& mean_matrix,
                                 const Eigen::MatrixXcd& receptance) {
    if (mean_matrix.rows() > 3) return largest_eigenvalues(mean_matrix, receptance);
    if (mean_matrix.col(2).isZero(0)) {
        // G A0 has the eigenvalues of A0 G; its third column is zero, so two of them remain.
        const Eigen::Matrix<Complex, 3, 2> in_plane = mean_matrix.leftCols<2>().cast<Complex>();
        return planar_eigenvalues(receptance.topRows<2>() * in_plane);
    }
    return spatial_eigenvalues(mean_matrix.cast<Complex>() * receptance);
}

std::complex<double> nearest(const LoopEigenvalues& values, std::complex<double> guess) {
    return *std::min_element(values.begin(), values.end(), [&](Complex a, Complex b) {
        return std::norm(a - guess) < std::norm(b - guess);
    });
}

std::vector<LobeSegment> lobe_segments(const Eigen::MatrixXd& mean_matrix,
                                       const SampledReceptance& receptance, double searched_to) {
    if (receptance.frequency.size() < 2) return {};
    return PathTracer(mean_matrix, receptance, searched_to).trace();
}

}  // namespace standfast
