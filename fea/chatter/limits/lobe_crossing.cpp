#include "fea/chatter/limits/lobe_crossing.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include "fea/chatter/limits/receptance_interpolation.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;
constexpr double full_turn = 2 * std::numbers::pi;

/// lambda anywhere on a stretch, on the interpolated receptance.
class SegmentPath {
public:
    SegmentPath(const AveragedCut& cut, const SampledReceptance& receptance,
                const LobeSegment& segment)
        : mean_matrix_(cut.mean_matrix),
          segment_(segment),
          interpolation_(interpolation(receptance, segment.interval)) {}

    Complex at(double w) const {
        const double share = (w - segment_.from) / (segment_.to - segment_.from);
        const Complex guess = segment_.at_from + share * (segment_.at_to - segment_.at_from);
        return nearest(loop_eigenvalues(mean_matrix_, value_at(interpolation_, w)), guess);
    }

private:
    const Eigen::MatrixXd& mean_matrix_;
    const LobeSegment& segment_;
    ReceptanceInterpolation interpolation_;
};

struct Bracket {
    double a = 0, value_a = 0;
    double b = 0, value_b = 0;
};

/// Root of a continuous function by false position (Illinois), to 1e-12 of the frequency.
double root(const std::function<double(double)>& function, Bracket bracket) {
    double x = bracket.a;
    int last_side = 0;
    for (int step = 0; step < 60; ++step) {
        const double span = bracket.value_b - bracket.value_a;
        if (span == 0 || std::abs(bracket.b - bracket.a) < 1e-12 * std::abs(bracket.b)) break;
        x = (bracket.a * bracket.value_b - bracket.b * bracket.value_a) / span;
        const double value = function(x);
        if (std::abs(value) < 1e-10) break;
        const int side = (value > 0) == (bracket.value_b > 0) ? 1 : -1;
        (side > 0 ? bracket.b : bracket.a) = x;
        (side > 0 ? bracket.value_b : bracket.value_a) = value;
        if (side == last_side) (side > 0 ? bracket.value_a : bracket.value_b) /= 2;
        last_side = side;
    }
    return x;
}

/// Collects crossings, keeping the least.
class LeastCrossing {
public:
    explicit LeastCrossing(double searched_to) : bound_(searched_to) {}
    double bound() const { return bound_; }
    const std::optional<LobeCrossing>& result() const { return best_; }

    /// Depth on the edge is real there: the imaginary part is what the root left.
    void offer(double w, Complex lambda, const std::vector<double>& delays) {
        const double loop = (lambda * delay_factor(delays, w)).real();
        if (!(loop > 0) || 1 / loop > bound_) return;
        bound_ = 1 / loop;
        best_ = LobeCrossing{w, bound_};
    }

private:
    double bound_;
    std::optional<LobeCrossing> best_;
};

/// Even pitch: w tau / 2 pi - (1/2 + arg lambda / pi) is a whole number, and goes nearly evenly
/// from one end of the stretch to the other.
void even_crossings(const AveragedCut& cut, const SampledReceptance& receptance,
                    const LobeSegment& segment, const std::vector<double>& delays,
                    LeastCrossing& least) {
    const double waves_per_w = delays.front() / full_turn;
    const double phase = 0.5 + std::arg(segment.at_from) / std::numbers::pi;
    const double turned = std::arg(segment.at_to * std::conj(segment.at_from)) / std::numbers::pi;
    const double from = segment.from * waves_per_w - phase;
    const double to = segment.to * waves_per_w - phase - turned;
    const double first = std::ceil(std::min(from, to));
    const int count = static_cast<int>(std::floor(std::max(from, to) - first)) + 1;
    if (count < 1) return;

    const SegmentPath path(cut, receptance, segment);
    for (int i = 0; i < count; ++i) {
        const double whole = first + i;
        const auto mismatch = [&](double w) {
            const Complex turn = path.at(w) * std::conj(segment.at_from);
            return w * waves_per_w - phase - std::arg(turn) / std::numbers::pi - whole;
        };
        const double w = root(mismatch, {segment.from, from - whole, segment.to, to - whole});
        least.offer(w, path.at(w), delays);
    }
}

/// Uneven pitch: steps short against the longest delay, then the phase is solved for.
void uneven_crossings(const AveragedCut& cut, const SampledReceptance& receptance,
                      const LobeSegment& segment, const std::vector<double>& delays,
                      LeastCrossing& least) {
    const double longest = *std::max_element(delays.begin(), delays.end());
    const int steps = static_cast<int>(std::ceil((segment.to - segment.from) * longest / 0.25)) + 1;
    const auto frequency = [&](int i) {
        return segment.from + (segment.to - segment.from) * i / steps;
    };
    const auto coarse = [&](int i) {
        const Complex lambda =
            segment.at_from + (segment.at_to - segment.at_from) * (static_cast<double>(i) / steps);
        return std::arg(lambda * delay_factor(delays, frequency(i)));
    };
    double before = coarse(0);
    for (int i = 1; i <= steps; ++i) {
        const double after = coarse(i);
        const bool crosses = (before > 0) != (after > 0) && std::abs(after - before) < 2;
        if (crosses) {
            const SegmentPath path(cut, receptance, segment);
            const auto phase = [&](double w) {
                return std::arg(path.at(w) * delay_factor(delays, w));
            };
            const double w = root(phase, {frequency(i - 1), before, frequency(i), after});
            if (std::abs(phase(w)) < 1e-6) least.offer(w, path.at(w), delays);
        }
        before = after;
    }
}

bool all_equal(const std::vector<double>& delays) {
    return std::all_of(delays.begin(), delays.end(), [&](double delay) {
        return std::abs(delay - delays.front()) <= 1e-9 * delays.front();
    });
}

}  // namespace

std::complex<double> delay_factor(const std::vector<double>& delays, double w) {
    Complex sum = 0;
    for (const double delay : delays) {
        const double half_sine = std::sin(w * delay / 2);
        sum += Complex(2 * half_sine * half_sine, std::sin(w * delay));
    }
    return sum / static_cast<double>(delays.size());
}

std::optional<LobeCrossing> least_crossing(const AveragedCut& cut,
                                           const SampledReceptance& receptance,
                                           const std::vector<LobeSegment>& segments,
                                           const std::vector<double>& delays, double searched_to) {
    LeastCrossing least(searched_to);
    const bool even = all_equal(delays);
    for (const LobeSegment& segment : segments) {
        if (segment.least_depth >= least.bound()) break;
        if (even) {
            even_crossings(cut, receptance, segment, delays, least);
        } else {
            uneven_crossings(cut, receptance, segment, delays, least);
        }
    }
    return least.result();
}

}  // namespace standfast
