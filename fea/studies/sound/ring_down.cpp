#include "fea/studies/sound/ring_down.hpp"

#include <Eigen/Cholesky>
#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <optional>
#include <unsupported/Eigen/FFT>

#include "fea/studies/regression/least_squares.hpp"
#include "fea/studies/sound/knocks.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

constexpr double kLowest = 30, kHighest = 8000, kOfRate = 0.45;  // Hz, Hz, -
constexpr double kStep = 1e-5;                                   // of a logarithm
constexpr double kMostDamping = 0.12, kLeastDamping = 1e-5;
constexpr double kWeakest = 0.02;  // of the loudest mode's amplitude
constexpr std::size_t kMostPoles = 24;
constexpr std::size_t kBeside = 40;  // bins to either side that tell the noise, at least
constexpr double kBroad = 0.15;      // of the frequency, likewise
constexpr double kStandsOut = 5;     // deviations of the power in a peak's bins
constexpr double kGain = 30;         // chi-square that a pole must be worth
constexpr double kFaint = 1e-6;      // of the loudest bin's power
constexpr double kSteady = 0.5;      // decay times the stretch, below which nothing decays
constexpr double kTogether = 0.3;    // of the logarithm: poles that are refined together
constexpr int kHumMultiples = 40, kFewKnocks = 3;
constexpr double kHumWithin = 0.5;  // Hz
constexpr double kTwoPi = 2 * std::numbers::pi;

/// A damped sine: exp(-decay t) sin(rate t).
struct Pole {
    double hertz = 0;  ///< of the damped motion
    double decay = 0;  ///< 1/s
};

/// Transforms of all stretches, bin by bin.
struct Bins {
    double rate = 0, step = 0;  ///< Hz
    std::size_t length = 0;     ///< samples
    Eigen::MatrixXcd value;     ///< bins x knocks
    Eigen::VectorXd noise;      ///< mean square a bin
    Eigen::Index first = 0, last = 0;

    double hertz(Eigen::Index bin) const { return step * static_cast<double>(bin); }
    double seconds() const { return static_cast<double>(length) / rate; }
};

/// Transform of exp(s t), cut off after the stretch, at a bin.
Complex transform_of(const Bins& bins, Complex s, Eigen::Index bin) {
    const Complex apart = (s - Complex(0, kTwoPi * bins.hertz(bin))) / bins.rate;
    const Complex below = 1.0 - std::exp(apart);
    if (std::abs(below) < 1e-12) return static_cast<double>(bins.length);
    return (1.0 - std::exp(apart * static_cast<double>(bins.length))) / below;
}

/// Columns of cosine and sine of the poles over a range of bins: real parts, then imaginary ones,
/// over the noise.
Eigen::MatrixXd columns_of(const Bins& bins, const std::vector<Pole>& poles, Eigen::Index from,
                           Eigen::Index to) {
    const Eigen::Index count = to - from;
    Eigen::MatrixXd columns(2 * count, 2 * static_cast<Eigen::Index>(poles.size()));
    for (std::size_t pole = 0; pole < poles.size(); ++pole) {
        const Complex s(-poles[pole].decay, kTwoPi * poles[pole].hertz);
        const auto column = 2 * static_cast<Eigen::Index>(pole);
        for (Eigen::Index i = 0; i < count; ++i) {
            const Complex there = transform_of(bins, s, from + i);
            const Complex mirrored = transform_of(bins, std::conj(s), from + i);
            const double weight = 1 / std::sqrt(bins.noise[from + i] / 2);
            const Complex cosine = weight * (there + mirrored) / 2.0;
            const Complex sine = weight * Complex(0, -0.5) * (there - mirrored);
            columns(i, column) = cosine.real();
            columns(count + i, column) = cosine.imag();
            columns(i, column + 1) = sine.real();
            columns(count + i, column + 1) = sine.imag();
        }
    }
    return columns;
}

Eigen::MatrixXd weighted(const Bins& bins, const Eigen::MatrixXcd& value, Eigen::Index from,
                         Eigen::Index to) {
    const Eigen::Index count = to - from;
    Eigen::MatrixXd rows(2 * count, value.cols());
    for (Eigen::Index i = 0; i < count; ++i) {
        const double weight = 1 / std::sqrt(bins.noise[from + i] / 2);
        rows.row(i) = weight * value.row(from + i).real();
        rows.row(count + i) = weight * value.row(from + i).imag();
    }
    return rows;
}

Bins transformed(const Knocks& knocks) {
    Bins bins{.rate = knocks.rate,
              .step = 0,
              .length = knocks.ringing.front().size(),
              .value = {},
              .noise = {}};
    bins.step = knocks.rate / static_cast<double>(bins.length);
    const auto half = static_cast<Eigen::Index>(bins.length / 2);
    bins.value.resize(half, static_cast<Eigen::Index>(knocks.ringing.size()));
    Eigen::FFT<double> transform;
    std::vector<Complex> spectrum;
    for (std::size_t knock = 0; knock < knocks.ringing.size(); ++knock) {
        transform.fwd(spectrum, knocks.ringing[knock]);
        for (Eigen::Index bin = 0; bin < half; ++bin) {
            bins.value(bin, static_cast<Eigen::Index>(knock)) =
                spectrum[static_cast<std::size_t>(bin)];
        }
    }
    bins.first = static_cast<Eigen::Index>(std::ceil(kLowest / bins.step));
    bins.last = std::min(
        half, static_cast<Eigen::Index>(std::min(kHighest, kOfRate * knocks.rate) / bins.step));
    return bins;
}

/// Mean square over the knocks of what is left over, bin by bin.
Eigen::VectorXd power_of(const Eigen::MatrixXcd& value) {
    return value.cwiseAbs2().rowwise().mean();
}

/// Noise between the lines: the median of the neighbours, over what a median is of the mean.
/// @param least  no less than this
Eigen::VectorXd noise_of(const Eigen::MatrixXcd& left_over, double least) {
    const Eigen::VectorXd power = power_of(left_over);
    const double knocks = static_cast<double>(left_over.cols());
    const double median = std::pow(1 - 1 / (9 * knocks), 3);  // of chi-square, Wilson and Hilferty
    Eigen::VectorXd noise(power.size());
    std::vector<double> near;
    for (Eigen::Index bin = 0; bin < power.size(); ++bin) {
        // A damped mode is broad in proportion to its frequency.
        const auto beside = std::max(static_cast<Eigen::Index>(kBeside),
                                     static_cast<Eigen::Index>(kBroad * static_cast<double>(bin)));
        const Eigen::Index from = std::max<Eigen::Index>(1, bin - beside);
        const Eigen::Index to = std::min(power.size(), bin + beside + 1);
        near.assign(power.data() + from, power.data() + to);
        const auto middle = near.begin() + static_cast<std::ptrdiff_t>(near.size() / 2);
        std::nth_element(near.begin(), middle, near.end());
        noise[bin] = std::max(least, *middle / median);
    }
    return noise;
}

/// The poles so far, with what the knocks leave over.
class Fit {
public:
    explicit Fit(Bins bins) : bins_(std::move(bins)), left_over_(bins_.value) {
        loudest_ = std::max(1e-300, power_of(bins_.value).maxCoeff());
        bins_.noise = noise_of(left_over_, 1e-11 * loudest_);
    }

    void search() {
        while (poles_.size() < kMostPoles && add_one()) {
        }
    }

    const Bins& bins() const { return bins_; }
    const std::vector<Pole>& poles() const { return poles_; }

    /// Neighbours of a pole, itself first.
    std::vector<std::size_t> group_of(std::size_t pole) const {
        std::vector<std::size_t> group{pole};
        for (std::size_t i = 0; i < poles_.size(); ++i) {
            const bool near = std::abs(std::log(poles_[i].hertz / poles_[pole].hertz)) < kTogether;
            if (i != pole && near) group.push_back(i);
        }
        return group;
    }

    /// Amplitude of a pole at the start, root mean square over the knocks.
    double amplitude(std::size_t pole) const {
        return std::sqrt(amplitudes_.middleRows(2 * static_cast<Eigen::Index>(pole), 2)
                             .colwise()
                             .squaredNorm()
                             .mean());
    }

    /// Chi-square that a pole is worth beside all others.
    double worth(std::size_t pole) const {
        const auto [from, to] = range_of_group({pole});
        std::vector<Pole> rest;
        for (const std::size_t i : group_of(pole)) {
            if (i != pole) rest.push_back(poles_[i]);
        }
        std::vector<Pole> all = rest;
        all.push_back(poles_[pole]);
        const Eigen::MatrixXd rows = weighted(bins_, without_others(group_of(pole)), from, to);
        return chi_square(rest, rows, from, to) - chi_square(all, rows, from, to);
    }

    /// Logarithms of hertz and decay of a pole by one knock, its neighbours refined with it; and
    /// the deviation that the noise leaves where all knocks count.
    Eigen::Vector2d by_knock(std::size_t pole, Eigen::Index knock) const {
        return refined(group_of(pole), knock).solution.head<2>();
    }
    Eigen::Vector2d deviation(std::size_t pole) const {
        const LeastSquares found = refined(group_of(pole), std::nullopt);
        const Eigen::MatrixXd normal = found.jacobian.transpose() * found.jacobian;
        const Eigen::MatrixXd ridge =
            1e-9 * Eigen::MatrixXd::Identity(normal.rows(), normal.cols());
        const Eigen::MatrixXd covariance =
            (normal + ridge).ldlt().solve(Eigen::MatrixXd::Identity(normal.rows(), normal.cols()));
        return covariance.diagonal().head<2>().cwiseMax(0).cwiseSqrt();
    }

private:
    struct Range {
        Eigen::Index from, to;
    };

    /// Bins that tell of some poles: well beyond the flanks of each.
    Range range_of(const std::vector<Pole>& poles) const {
        double low = 1e12, high = 0;
        for (const Pole& pole : poles) {
            const double beyond =
                30 * bins_.step + 4 * pole.decay / std::numbers::pi + 0.06 * pole.hertz;
            low = std::min(low, pole.hertz - beyond);
            high = std::max(high, pole.hertz + beyond);
        }
        return {
            std::clamp(static_cast<Eigen::Index>(low / bins_.step), bins_.first, bins_.last - 1),
            std::clamp(static_cast<Eigen::Index>(high / bins_.step) + 1, bins_.first + 1,
                       bins_.last)};
    }
    Range range_of_group(const std::vector<std::size_t>& group) const {
        std::vector<Pole> poles;
        for (const std::size_t i : group) poles.push_back(poles_[i]);
        return range_of(poles);
    }

    double chi_square(const std::vector<Pole>& poles, const Eigen::MatrixXd& rows,
                      Eigen::Index from, Eigen::Index to) const {
        if (poles.empty()) return rows.squaredNorm();
        const Eigen::MatrixXd columns = columns_of(bins_, poles, from, to);
        return (rows - columns * columns.householderQr().solve(rows)).squaredNorm();
    }

    /// The transforms less all poles but those of a group.
    Eigen::MatrixXcd without_others(const std::vector<std::size_t>& group) const {
        Eigen::MatrixXcd value = left_over_;
        for (const std::size_t pole : group) {
            if (static_cast<Eigen::Index>(2 * pole) < amplitudes_.rows()) add(value, pole, 1);
        }
        return value;
    }

    void add(Eigen::MatrixXcd& value, std::size_t pole, double times) const {
        const Complex s(-poles_[pole].decay, kTwoPi * poles_[pole].hertz);
        const auto row = 2 * static_cast<Eigen::Index>(pole);
        for (Eigen::Index bin = 0; bin < value.rows(); ++bin) {
            const Complex there = transform_of(bins_, s, bin);
            const Complex mirrored = transform_of(bins_, std::conj(s), bin);
            const Complex cosine = times * (there + mirrored) / 2.0;
            const Complex sine = times * Complex(0, -0.5) * (there - mirrored);
            value.row(bin) += cosine * amplitudes_.row(row) + sine * amplitudes_.row(row + 1);
        }
    }

    LeastSquares refined(const std::vector<std::size_t>& group,
                         std::optional<Eigen::Index> knock) const {
        const auto [from, to] = range_of_group(group);
        Eigen::MatrixXd rows = weighted(bins_, without_others(group), from, to);
        if (knock) rows = rows.col(*knock).eval();
        Eigen::VectorXd start(2 * static_cast<Eigen::Index>(group.size()));
        for (std::size_t i = 0; i < group.size(); ++i) {
            start[2 * static_cast<Eigen::Index>(i)] = std::log(poles_[group[i]].hertz);
            start[2 * static_cast<Eigen::Index>(i) + 1] = std::log(poles_[group[i]].decay);
        }
        const Residuals residuals = [&, from = from, to = to](const Eigen::VectorXd& at) {
            std::vector<Pole> poles;
            for (Eigen::Index i = 0; i < at.size(); i += 2) {
                poles.push_back({.hertz = std::exp(at[i]),
                                 .decay = std::exp(std::clamp(at[i + 1], -6.0, 12.0))});
            }
            const Eigen::MatrixXd columns = columns_of(bins_, poles, from, to);
            const Eigen::MatrixXd miss = rows - columns * columns.householderQr().solve(rows);
            return Eigen::VectorXd(Eigen::Map<const Eigen::VectorXd>(miss.data(), miss.size()));
        };
        return least_squares(residuals, std::move(start), kStep);
    }

    void take(const std::vector<std::size_t>& group, const Eigen::VectorXd& solution) {
        for (std::size_t i = 0; i < group.size(); ++i) {
            poles_[group[i]] = {.hertz = std::exp(solution[2 * static_cast<Eigen::Index>(i)]),
                                .decay = std::exp(std::clamp(
                                    solution[2 * static_cast<Eigen::Index>(i) + 1], -6.0, 12.0))};
        }
    }

    /// Amplitudes of a group anew, then what is left over, and the noise of that.
    void settle(const std::vector<std::size_t>& group, const Eigen::MatrixXcd& others_taken_off) {
        const auto [from, to] = range_of_group(group);
        std::vector<Pole> poles;
        for (const std::size_t i : group) poles.push_back(poles_[i]);
        const Eigen::MatrixXd columns = columns_of(bins_, poles, from, to);
        const Eigen::MatrixXd found =
            columns.householderQr().solve(weighted(bins_, others_taken_off, from, to));
        amplitudes_.conservativeResize(2 * static_cast<Eigen::Index>(poles_.size()),
                                       bins_.value.cols());
        left_over_ = others_taken_off;
        for (std::size_t i = 0; i < group.size(); ++i) {
            amplitudes_.middleRows(2 * static_cast<Eigen::Index>(group[i]), 2) =
                found.middleRows(2 * static_cast<Eigen::Index>(i), 2);
            add(left_over_, group[i], -1);
        }
        bins_.noise = noise_of(left_over_, 1e-11 * loudest_);
    }

    /// Where what is left over stands out most, over a few bins or many: a mode of much damping is
    /// broad and low. None where nothing does.
    std::optional<Eigen::Index> peak() const {
        const Eigen::VectorXd power = power_of(left_over_);
        const Eigen::VectorXd over = power.cwiseQuotient(bins_.noise).array() - 1;
        const auto knocks = static_cast<double>(left_over_.cols());
        Eigen::Index best = 0;
        double highest = kStandsOut;
        for (const Eigen::Index aside : {1, 4, 13, 30}) {
            const Eigen::Index width = 2 * aside + 1;
            const double deviation = std::sqrt(static_cast<double>(width) / knocks);
            for (Eigen::Index bin = bins_.first + aside; bin + aside < bins_.last; ++bin) {
                // So far under the loudest none is kept as a mode (kWeakest).
                if (refused(bin) || power[bin] < kFaint * loudest_) continue;
                const double stands_out = over.segment(bin - aside, width).sum() / deviation;
                if (stands_out > highest) {
                    highest = stands_out;
                    best = bin;
                }
            }
        }
        return highest > kStandsOut ? std::optional(best) : std::nullopt;
    }

    bool refused(Eigen::Index bin) const {
        return std::any_of(refused_.begin(), refused_.end(),
                           [&](Eigen::Index one) { return std::abs(one - bin) < 4; });
    }

    /// Tries a pole at the highest peak: broad and narrow, and keeps the better where it is worth
    /// its place. @returns whether there was a peak to try
    bool add_one() {
        const std::optional<Eigen::Index> at = peak();
        if (!at) return false;
        const std::vector<Pole> poles = poles_;
        const Eigen::MatrixXd amplitudes = amplitudes_;
        const Eigen::MatrixXcd left_over = left_over_;
        poles_.push_back({.hertz = bins_.hertz(*at), .decay = 1});
        const std::vector<std::size_t> group = group_of(poles_.size() - 1);
        const Eigen::MatrixXcd others = without_others(group);
        std::optional<LeastSquares> best;
        for (const double damping : {0.003, 0.02}) {
            poles_.back().decay = damping * kTwoPi * bins_.hertz(*at);
            LeastSquares found = refined(group, std::nullopt);
            if (!best || found.residuals.squaredNorm() < best->residuals.squaredNorm()) {
                best = std::move(found);
            }
        }
        take(group, best->solution);
        settle(group, others);
        if (worth(poles_.size() - 1) < kGain + 4 * static_cast<double>(bins_.value.cols())) {
            poles_ = poles;
            amplitudes_ = amplitudes;
            left_over_ = left_over;
            bins_.noise = noise_of(left_over_, 1e-11 * loudest_);
            refused_.push_back(*at);
        }
        return refused_.size() < kMostPoles;
    }

    Bins bins_;
    double loudest_ = 0;  // power of a bin
    Eigen::MatrixXcd left_over_;
    std::vector<Pole> poles_;
    Eigen::MatrixXd amplitudes_;  ///< cosine and sine of each pole x knocks
    std::vector<Eigen::Index> refused_;
};

/// Mean of what the knocks say each by itself goes into nothing but the spread.
RingingMode mode_of(const Fit& fit, std::size_t pole, double loudest) {
    const Pole& one = fit.poles()[pole];
    const double damped = kTwoPi * one.hertz;
    const double natural = std::hypot(damped, one.decay);
    RingingMode mode{.frequency = natural / kTwoPi,
                     .damping = one.decay / natural,
                     .level = fit.amplitude(pole) / loudest};
    Eigen::Vector2d spread = fit.deviation(pole);
    const Eigen::Index knocks = fit.bins().value.cols();
    if (knocks > 2) {
        Eigen::MatrixXd each(2, knocks);
        for (Eigen::Index knock = 0; knock < knocks; ++knock) {
            each.col(knock) = fit.by_knock(pole, knock);
        }
        const Eigen::Vector2d mean = each.rowwise().mean();
        const Eigen::Vector2d scatter = ((each.colwise() - mean).rowwise().squaredNorm() /
                                         static_cast<double>((knocks - 1) * knocks))
                                            .cwiseSqrt();
        spread = spread.cwiseMax(scatter);
    }
    mode.frequency_deviation = spread[0];
    mode.damping_deviation = spread[1];
    return mode;
}

}  // namespace

bool is_mains_hum(double hertz, int multiples, double within) {
    for (const double mains : {50.0, 60.0}) {
        const double times = std::round(hertz / mains);
        if (times >= 1 && times <= multiples && std::abs(hertz - times * mains) <= within) {
            return true;
        }
    }
    return false;
}

std::vector<std::string> ring_down_remarks(const RingDown& found) {
    std::vector<std::string> remarks = found.remarks;
    if (found.knocks > 0 && found.knocks < kFewKnocks) {
        remarks.push_back("only " + std::to_string(found.knocks) +
                          (found.knocks == 1 ? " knock" : " knocks") +
                          ": five or more tell how well it is known");
    }
    std::string tones;
    for (const double hertz : found.steady) {
        tones += (tones.empty() ? "" : ", ") + std::to_string(std::lround(hertz)) + " Hz" +
                 (is_mains_hum(hertz, kHumMultiples, kHumWithin) ? " (mains hum)" : "");
    }
    if (!tones.empty()) remarks.push_back("sounds without a knock, left out: " + tones);
    return remarks;
}

RingDown ring_down(const Recording& recording) {
    const Knocks knocks = find_knocks(recording);
    RingDown result{.knocks = static_cast<int>(knocks.ringing.size()),
                    .seconds = knocks.seconds(),
                    .modes = {},
                    .steady = {},
                    .remarks = knocks.remarks};
    if (knocks.ringing.empty()) return result;
    Fit fit(transformed(knocks));
    fit.search();
    std::vector<std::size_t> kept;
    double loudest = 0;
    for (std::size_t pole = 0; pole < fit.poles().size(); ++pole) {
        const Pole& one = fit.poles()[pole];
        const double damping = one.decay / (kTwoPi * one.hertz);
        const bool hum = is_mains_hum(one.hertz, kHumMultiples, kHumWithin) &&
                         one.decay * knocks.seconds() < 1.5;
        if (one.decay * knocks.seconds() < kSteady || hum) {
            result.steady.push_back(one.hertz);
        } else if (damping < kMostDamping && damping > kLeastDamping) {
            kept.push_back(pole);
            loudest = std::max(loudest, fit.amplitude(pole));
        }
    }
    for (const std::size_t pole : kept) {
        if (fit.amplitude(pole) < kWeakest * loudest) continue;
        result.modes.push_back(mode_of(fit, pole, loudest));
    }
    std::sort(result.modes.begin(), result.modes.end(),
              [](const auto& a, const auto& b) { return a.frequency < b.frequency; });
    // One tone that wavers takes two poles.
    std::sort(result.steady.begin(), result.steady.end());
    const auto same = [](double a, double b) { return b - a < kHumWithin; };
    result.steady.erase(std::unique(result.steady.begin(), result.steady.end(), same),
                        result.steady.end());
    return result;
}

}  // namespace standfast
