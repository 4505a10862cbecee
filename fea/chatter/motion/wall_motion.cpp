#include "fea/chatter/motion/wall_motion.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "fea/chatter/motion/settled_wall.hpp"
#include "fea/chatter/motion/wall_marks.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

constexpr double kTurn = 2 * std::numbers::pi;
// Harmonics go on to this multiple of the highest mode's frequency, then until they are this small
// a share of the largest.
constexpr double kPastModes = 1.2;
constexpr double kSettled = 2e-4;
constexpr std::size_t kLeastHarmonics = 32;
constexpr std::size_t kSamplesPerHarmonic = 4;
constexpr std::size_t kResidualSamples = ForceCourse::samples;

std::size_t power_of_two(std::size_t least) {
    std::size_t size = 1;
    while (size < least) size *= 2;
    return size;
}

/// In-place radix-2 transform: a_j -> sum of a_k exp(+2 pi i j k / n); n a power of two.
/// Source: Cooley and Tukey, Math. Comput. 19 (1965) 297-301 (from memory).
void fourier_sum(std::vector<Complex>& a) {
    const std::size_t n = a.size();
    for (std::size_t i = 1, j = 0; i < n; ++i) {
        std::size_t bit = n >> 1;
        for (; (j & bit) != 0u; bit >>= 1) j ^= bit;
        j ^= bit;
        if (i < j) std::swap(a[i], a[j]);
    }
    for (std::size_t length = 2; length <= n; length *= 2) {
        const Complex turn = std::polar(1.0, kTurn / static_cast<double>(length));
        for (std::size_t start = 0; start < n; start += length) {
            Complex power = 1;
            for (std::size_t k = start; k < start + length / 2; ++k) {
                const Complex odd = a[k + length / 2] * power;
                a[k + length / 2] = a[k] - odd;
                a[k] += odd;
                power *= turn;
            }
        }
    }
}

double highest_frequency(const std::vector<ModalTerm>& terms) {
    double highest = 0;
    for (const ModalTerm& term : terms) {
        highest = std::max(highest, term.frequency.radians_per_second);
    }
    return highest;
}

}  // namespace

std::size_t WallMotions::harmonics_needed(const ModalReceptance& receptance, const RigidCut& cut,
                                          SpindleSpeed slowest) {
    require_positive(slowest.radians_per_second, "WallMotions", "slowest speed");
    const double base = cut.cutter.teeth() * slowest.radians_per_second;
    return std::max<std::size_t>(2 * kLeastHarmonics,
                                 static_cast<std::size_t>(std::ceil(
                                     2 * kPastModes * highest_frequency(receptance.terms) / base)));
}

WallMotions::WallMotions(const ModalReceptance& receptance, const RigidCut& cut,
                         SpindleSpeed slowest, const std::vector<double>& heights)
    : WallMotions(receptance, cut, slowest, heights,
                  teeth_differ(cut)
                      ? ForceCourse{}
                      : force_course(cut, receptance.basis,
                                     harmonics_needed(receptance, cut, slowest), heights)) {}

WallMotions::WallMotions(const ModalReceptance& receptance, const RigidCut& cut,
                         SpindleSpeed slowest, const std::vector<double>& heights,
                         const ForceCourse& force)
    : slowest_(slowest.radians_per_second),
      highest_mode_(highest_frequency(receptance.terms)),
      most_harmonics_(harmonics_needed(receptance, cut, slowest)),
      receptance_(receptance),
      cut_(cut),
      heights_(heights) {
    for (const double height : heights) {
        require_between(height, 0, cut.depth, "WallMotions", "height above the tip");
    }
    if (teeth_differ(cut)) return;
    require_between(static_cast<double>(force.harmonic.size()),
                    static_cast<double>(most_harmonics_), std::numeric_limits<double>::max(),
                    "WallMotions", "harmonics of the force");
    base_per_revolution_ = cut.cutter.teeth();
    wall_at_plus_y_ = cut.engagement.milling == Milling::up;
    meet_modes(force);
    meet_residual(force);
}

void WallMotions::meet_modes(const ForceCourse& force) {
    const Complex two_i(0, 2);
    for (const ModalTerm& term : receptance_.terms) {
        const FirstOrderMode first = first_order(term);
        Mode mode{.pole = first.pole, .shape = {}, .ahead = {}, .behind = {}};
        for (int a = 0; a < receptance_.basis.heights(); ++a) {
            mode.shape.push_back(first.shape[3 * a + 1]);
        }
        for (std::size_t k = 0; k < most_harmonics_; ++k) {
            const ComplexEdgeVector& f = force.harmonic[k];
            mode.ahead.push_back((first.shape.transpose() * f).value() / two_i);
            mode.behind.push_back((first.shape.adjoint() * f).value() / two_i);
        }
        modes_.push_back(std::move(mode));
    }
}

void WallMotions::meet_residual(const ForceCourse& force) {
    const bool none = receptance_.residual.isZero(0);
    const auto at = [&](const Passage& passage, const EdgeVector& pushed) {
        if (none) return 0.0;
        const EdgeVector answer = receptance_.residual * pushed;
        double y = 0;
        for (int a = 0; a < receptance_.basis.heights(); ++a) {
            y += passage.weights[static_cast<std::size_t>(a)] * answer[3 * a + 1];
        }
        return y;
    };
    for (std::size_t end = 0; end < 2; ++end) {
        ends_[end].weights = weights_at(receptance_.basis, end == 0 ? 0 : cut_.depth);
        for (const EdgeVector& pushed : force.course) {
            residual_[end].push_back(at(ends_[end], pushed));
        }
    }
    for (std::size_t i = 0; i < heights_.size(); ++i) {
        Passage passage{.phi = wall_passage(cut_, heights_[i]),
                        .weights = weights_at(receptance_.basis, heights_[i])};
        passage.residual = at(passage, force.passage[i]);
        passages_.push_back(passage);
    }
}

WallMotions::Harmonics WallMotions::harmonics(double base) const {
    Harmonics motion;
    double largest = 0, recent = 0;
    for (std::size_t k = 0; k < most_harmonics_; ++k) {
        const double w = static_cast<double>(k) * base;
        std::array<Complex, kMostHeights> sum{};
        for (const Mode& mode : modes_) {
            const Complex above = Complex(0, w) - mode.pole;
            const Complex below = Complex(0, w) - std::conj(mode.pole);
            require_positive(std::norm(above), "WallMotions",
                             "damping of a mode on a harmonic of the force");
            const Complex ahead = mode.ahead[k] * std::conj(above) / std::norm(above);
            const Complex behind = mode.behind[k] * std::conj(below) / std::norm(below);
            for (std::size_t a = 0; a < mode.shape.size(); ++a) {
                sum[a] += mode.shape[a] * ahead - std::conj(mode.shape[a]) * behind;
            }
        }
        double size = 0;
        for (const Complex& one : sum) size = std::max(size, std::abs(one));
        motion.push_back(sum);
        largest = std::max(largest, size);
        recent = std::max(0.8 * recent, size);
        const bool past = w > kPastModes * highest_mode_ && k >= kLeastHarmonics;
        if (past && recent * static_cast<double>(k) < kSettled * largest) break;
    }
    return motion;
}

WallMotion WallMotions::at(SpindleSpeed speed) const {
    require_between(speed.radians_per_second, slowest_ * (1 - 1e-9),
                    std::numeric_limits<double>::max(), "WallMotions", "spindle speed, rad/s,");
    if (teeth_differ(cut_)) return settled_wall(receptance_, cut_, speed, heights_);
    const Harmonics motion = harmonics(base_per_revolution_ * speed.radians_per_second);
    WallMotion result;
    for (const Passage& passage : passages_) {
        result.error.push_back(reach(motion, passage));
        if (std::abs(result.error.back()) > std::abs(result.largest_error)) {
            result.largest_error = result.error.back();
        }
    }
    result.peak_to_peak = peak_to_peak(motion, ends_[0], residual_[0]);
    if (!receptance_.basis.is_point()) {
        result.peak_to_peak =
            std::max(result.peak_to_peak, peak_to_peak(motion, ends_[1], residual_[1]));
    }
    const std::vector<double> alike(static_cast<std::size_t>(cut_.cutter.teeth()), 0);
    result.waviness = cut_.depth > 0 ? wall_waviness(alike, cut_.cutter, cut_.feed_per_tooth) : 0;
    return result;
}

namespace {

Complex at_height(const std::array<Complex, kMostHeights>& coordinates,
                  const EdgeWeights& weights) {
    Complex sum = 0;
    for (std::size_t a = 0; a < weights.size(); ++a) sum += weights[a] * coordinates[a];
    return sum;
}

}  // namespace

double WallMotions::reach(const Harmonics& motion, const Passage& passage) const {
    const Complex turn = std::polar(1.0, base_per_revolution_ * passage.phi);
    Complex power = turn;
    double y = at_height(motion[0], passage.weights).real() + passage.residual;
    for (std::size_t k = 1; k < motion.size(); ++k) {
        const Complex here = at_height(motion[k], passage.weights);
        y += 2 * (here.real() * power.real() - here.imag() * power.imag());
        power *= turn;
    }
    return wall_at_plus_y_ ? y : -y;
}

double WallMotions::peak_to_peak(const Harmonics& motion, const Passage& passage,
                                 const std::vector<double>& residual) const {
    const std::size_t samples =
        std::max(kResidualSamples, power_of_two(kSamplesPerHarmonic * motion.size()));
    std::vector<Complex> course(samples, 0);
    for (std::size_t k = 1; k < motion.size(); ++k) {
        course[k] = 2.0 * at_height(motion[k], passage.weights);
    }
    fourier_sum(course);
    double low = std::numeric_limits<double>::infinity(), high = -low;
    const std::size_t between = samples / kResidualSamples;
    for (std::size_t i = 0; i < samples; ++i) {
        const std::size_t before = i / between, after = (before + 1) % kResidualSamples;
        const double part = static_cast<double>(i % between) / static_cast<double>(between);
        const double y = course[i].real() + residual[before] * (1 - part) + residual[after] * part;
        low = std::min(low, y);
        high = std::max(high, y);
    }
    return high - low;
}

}  // namespace standfast
