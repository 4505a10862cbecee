// The strongest line of a period map's critical motion.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/equation/gauss_rule.hpp"
#include "fea/chatter/map/period_map.hpp"

namespace standfast {
namespace {

using Eigen::Index;

// Response of the relative displacement at angular frequency w.
Eigen::VectorXcd displacement_line(const ModalState& modes, double w,
                                   const Eigen::VectorXcd& force) {
    const std::complex<double> iw(0, w), two_i(0, 2);
    Eigen::VectorXcd response = modes.residual * force;
    const Eigen::VectorXcd driven = modes.shape.transpose() * force;
    const Eigen::VectorXcd against = modes.shape.adjoint() * force;
    for (Index m = 0; m < modes.modes(); ++m) {
        const std::complex<double> lambda = modes.lambda[m];
        response += modes.shape.col(m) * (driven[m] / (two_i * (iw - lambda)));
        response -=
            modes.shape.col(m).conjugate() * (against[m] / (two_i * (iw - std::conj(lambda))));
    }
    return response;
}

// Lines next to the modes that move, on either side, and the slowest ones: k of shift + k base.
std::vector<int> lines_to_look_at(const ModalState& modes, const Eigen::VectorXcd& state,
                                  double base, double shift) {
    constexpr int kBeside = 2, kSlowest = 3;
    constexpr double kMoves = 0.05;  // share of what the mode that moves most does
    Eigen::VectorXd moves(modes.modes());
    for (Index m = 0; m < moves.size(); ++m) {
        moves[m] = std::hypot(std::abs(state[2 * m]), std::abs(state[2 * m + 1])) *
                   modes.shape.col(m).norm();
    }
    std::vector<int> lines;
    const auto add_about = [&](double w, int beside) {
        const int middle = static_cast<int>(std::lround((w - shift) / base));
        for (int k = middle - beside; k <= middle + beside; ++k) lines.push_back(k);
    };
    add_about(0, kSlowest);
    for (Index m = 0; m < modes.modes(); ++m) {
        if (moves[m] < kMoves * moves.maxCoeff()) continue;
        add_about(modes.lambda[m].imag(), kBeside);
        add_about(-modes.lambda[m].imag(), kBeside);
    }
    std::sort(lines.begin(), lines.end());
    lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
    return lines;
}

}  // namespace

double PeriodMap::strongest_line(std::complex<double> multiplier,
                                 const Eigen::VectorXcd& state) const {
    const double base = 2 * std::numbers::pi / period_;
    const double shift = std::arg(multiplier) / period_;
    const Impulses impulses = impulses_of(chips(multiplier, state));
    const double decay = std::log(std::abs(multiplier)) / period_;
    double strongest = 0;
    double frequency = 0;
    for (const int k : lines_to_look_at(modes_, state, base, shift)) {
        const double w = shift + k * base;
        Eigen::VectorXcd force = Eigen::VectorXcd::Zero(impulses.force.rows());
        for (Index q = 0; q < impulses.time.size(); ++q) {
            force += impulses.force.col(q) *
                     exponential(-std::complex<double>(decay, w) * impulses.time[q]);
        }
        const double size = displacement_line(modes_, w, force).norm();
        if (size > strongest * (1 + 1e-9)) {
            strongest = size;
            frequency = std::abs(w) / (2 * std::numbers::pi);
        }
    }
    return frequency;
}

// Over a period the eigenvector's y grows by the multiplier; where each place is passed once and
// nothing rubs, z is (multiplier - 1) y. Otherwise the motion is followed.
std::vector<Eigen::VectorXcd> PeriodMap::chips(std::complex<double> multiplier,
                                               const Eigen::VectorXcd& state) const {
    std::vector<Eigen::VectorXcd> result;
    if (plain_ && passes_ == 1) {
        for (const Step& step : steps_) {
            result.emplace_back((multiplier - 1.0) * state.segment(step.first, step.cut.rows()));
        }
        return result;
    }
    Eigen::VectorXd real = state.real(), imaginary = state.imag();
    Eigen::VectorXd modal_real = real.head(modal_size());
    Eigen::VectorXd modal_imaginary = imaginary.head(modal_size());
    for (const Step& step : steps_) {
        const Eigen::VectorXd along = take_step(step, false, real, modal_real);
        const Eigen::VectorXd across = take_step(step, false, imaginary, modal_imaginary);
        Eigen::VectorXcd both(along.size());
        both.real() = along;
        both.imag() = across;
        result.push_back(std::move(both));
    }
    return result;
}

PeriodMap::Impulses PeriodMap::impulses_of(const std::vector<Eigen::VectorXcd>& chip) const {
    std::vector<double> time;
    std::vector<Eigen::VectorXcd> force;
    for (std::size_t k = 0; k < steps_.size(); ++k) {
        const Step& step = steps_[k];
        if (!step.cutting) continue;
        const GaussRule& rule = gauss_rule(step.cut.points);
        const Index fine = rule.fine_node.size();
        for (Index row = 0; row < step.cut.force.cols() / fine; ++row) {
            const Eigen::VectorXcd z =
                rule.interpolation * chip[k].segment(row * step.cut.points, step.cut.points);
            for (Index q = 0; q < fine; ++q) {
                time.push_back(step.start + step.cut.duration * rule.fine_node[q]);
                force.push_back(step.cut.force.col(row * fine + q) *
                                (step.cut.duration * rule.fine_weight[q] * z[q]));
            }
        }
    }
    Impulses impulses{Eigen::VectorXd(time.size()),
                      Eigen::MatrixXcd(modes_.coordinates(), force.size())};
    for (std::size_t q = 0; q < time.size(); ++q) {
        impulses.time[static_cast<Index>(q)] = time[q];
        impulses.force.col(static_cast<Index>(q)) = force[q];
    }
    return impulses;
}

}  // namespace standfast
