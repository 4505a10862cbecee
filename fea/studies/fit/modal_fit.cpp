#include "fea/studies/fit/modal_fit.hpp"

#include <Eigen/QR>
#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/studies/regression/least_squares.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

constexpr std::size_t kMostModes = 16;
constexpr std::size_t kMostValues = 8000;
constexpr double kStandsOut = 5;       // noise deviations
constexpr double kLeastShare = 0.25;   // of the value there: less is a matter of the model
constexpr double kLeastImproved = 20;  // log likelihood that a further mode must bring

struct Data {
    Eigen::VectorXd omega;
    Eigen::VectorXcd value;
    double scale = 0;        ///< m/N, largest magnitude
    Eigen::VectorXd weight;  ///< of each value, root mean square 1
};

/// Columns of the model that is linear in residues, compliance and inertia; values over scale.
Eigen::MatrixXcd columns_of(const Data& data, const Eigen::VectorXd& poles) {
    const Eigen::Index modes = poles.size() / 2;
    Eigen::MatrixXcd columns(data.omega.size(), modes + 2);
    const double middle = data.omega.mean();
    for (Eigen::Index i = 0; i < data.omega.size(); ++i) {
        const double omega = data.omega[i];
        for (Eigen::Index mode = 0; mode < modes; ++mode) {
            const double natural = std::exp(poles[2 * mode]);
            const double zeta = std::exp(poles[2 * mode + 1]);
            // Over its own peak, so that all columns are of one size.
            columns(i, mode) =
                2 * zeta * natural * natural /
                Complex(natural * natural - omega * omega, 2 * zeta * natural * omega);
        }
        columns(i, modes) = 1;
        columns(i, modes + 1) = -middle * middle / (omega * omega);
    }
    return columns;
}

Eigen::MatrixXd stacked(const Eigen::MatrixXcd& values) {
    Eigen::MatrixXd both(2 * values.rows(), values.cols());
    both << values.real(), values.imag();
    return both;
}

struct Projection {
    Eigen::VectorXd coefficients, left_over;
};

Projection project(const Data& data, const Eigen::VectorXd& poles) {
    const Eigen::MatrixXd columns = stacked(columns_of(data, poles));
    const Eigen::VectorXd values = stacked(data.value / data.scale);
    Eigen::VectorXd weight(values.size());
    weight << data.weight, data.weight;
    const Eigen::VectorXd coefficients =
        (weight.asDiagonal() * columns).colPivHouseholderQr().solve(weight.cwiseProduct(values));
    return {.coefficients = coefficients, .left_over = columns * coefficients - values};
}

double weighted_sum(const Data& data, const Projection& projection) {
    const Eigen::Index count = data.weight.size();
    return projection.left_over.head(count).cwiseProduct(data.weight).squaredNorm() +
           projection.left_over.tail(count).cwiseProduct(data.weight).squaredNorm();
}

Eigen::VectorXd refined(const Data& data, const Eigen::VectorXd& poles) {
    Eigen::VectorXd weight(2 * data.weight.size());
    weight << data.weight, data.weight;
    const Residuals residuals = [&](const Eigen::VectorXd& at) {
        return Eigen::VectorXd(weight.cwiseProduct(project(data, at).left_over));
    };
    return least_squares(residuals, poles, 1e-6, 40).solution;
}

double median_of(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/// Standard deviation of one complex value over scale, from third differences, in which smooth
/// curves vanish (weights 1, 3, 3, 1: variance 20).
double noise_of(const Eigen::VectorXcd& value) {
    std::vector<double> sizes;
    for (Eigen::Index i = 3; i < value.size(); ++i) {
        sizes.push_back(
            std::abs(value[i] - 3.0 * value[i - 1] + 3.0 * value[i - 2] - value[i - 3]));
    }
    // Magnitude of a complex normal value of unit variance has median sqrt(ln 2).
    return median_of(std::move(sizes)) / std::sqrt(20 * std::numbers::ln2);
}

/// Start values for the strongest peak of what is left over.
Eigen::Vector2d start_of(const Data& data, const Eigen::VectorXcd& left, Eigen::Index peak) {
    const Eigen::Index last = data.omega.size() - 1;
    const double half = std::abs(left[peak]) / std::numbers::sqrt2;
    Eigen::Index low = peak, high = peak;
    while (low > 0 && std::abs(left[low]) > half) --low;
    while (high < last && std::abs(left[high]) > half) ++high;
    Eigen::Index real_max = low, real_min = high;
    for (Eigen::Index i = low; i <= high; ++i) {
        if (left[i].real() > left[real_max].real()) real_max = i;
        if (left[i].real() < left[real_min].real()) real_min = i;
    }
    double zeta = (data.omega[high] - data.omega[low]) / (2 * data.omega[peak]);
    if (real_max < peak && peak < real_min && left[peak].imag() < 0) {
        const auto hertz = [&](Eigen::Index i) { return data.omega[i] / (2 * std::numbers::pi); };
        zeta = mode_from_peak({.real_max_hz = hertz(real_max),
                               .imaginary_min_hz = hertz(peak),
                               .real_min_hz = hertz(real_min),
                               .imaginary_min = left[peak].imag()})
                   .damping_ratio;
    }
    return {std::log(data.omega[peak]), std::log(std::clamp(zeta, 1e-4, 0.2))};
}

Eigen::VectorXcd complex_of(const Eigen::VectorXd& both) {
    const Eigen::Index count = both.size() / 2;
    Eigen::VectorXcd values(count);
    values.real() = both.head(count);
    values.imag() = both.tail(count);
    return values;
}

/// Averages of neighbours, so that a peak is not a single value of noise.
Eigen::VectorXcd smoothed(const Eigen::VectorXcd& values) {
    Eigen::VectorXcd smooth = values;
    for (Eigen::Index i = 1; i + 1 < values.size(); ++i) {
        smooth[i] = (values[i - 1] + values[i] + values[i + 1]) / 3.0;
    }
    return smooth;
}

/// Where the most is left over, out of the noise and by a good share of what was measured there.
std::optional<Eigen::Index> strongest_peak(const Data& data, const Eigen::VectorXcd& left,
                                           double noise) {
    const Eigen::VectorXcd smooth = smoothed(left), value = smoothed(data.value / data.scale);
    // The average of three is steadier by the root of three.
    double highest = kStandsOut * noise / std::sqrt(3.0);
    std::optional<Eigen::Index> peak;
    for (Eigen::Index i = 0; i < smooth.size(); ++i) {
        const double height = std::abs(smooth[i]);
        if (height > highest && height > kLeastShare * std::abs(value[i])) {
            highest = height;
            peak = i;
        }
    }
    return peak;
}

bool sensible(const Data& data, const Eigen::VectorXd& poles, const Eigen::VectorXd& coefficients) {
    for (Eigen::Index mode = 0; mode < poles.size() / 2; ++mode) {
        const double natural = std::exp(poles[2 * mode]), zeta = std::exp(poles[2 * mode + 1]);
        if (!(coefficients[mode] > 0) || zeta > 0.5 || zeta < 1e-6) return false;
        if (natural < data.omega[0] || natural > data.omega[data.omega.size() - 1]) return false;
    }
    return true;
}

/// Square root of what a value's coherence lets it count, scaled to a mean square of 1.
Eigen::VectorXd weights_of(const std::vector<double>& coherence, Eigen::Index count) {
    constexpr double kCertain = 1.05;  // keeps a coherence of 1 from counting without end
    if (coherence.empty()) return Eigen::VectorXd::Ones(count);
    if (static_cast<Eigen::Index>(coherence.size()) != count) {
        throw std::domain_error("modal fit: " + std::to_string(coherence.size()) +
                                " coherences, must be one for each frequency");
    }
    Eigen::VectorXd weight(count);
    for (Eigen::Index i = 0; i < count; ++i) {
        const double gamma = coherence[static_cast<std::size_t>(i)];
        require_between(gamma, 0, 1, "modal fit", "coherence");
        weight[i] = std::sqrt(std::max(gamma, 1e-4) / (kCertain - gamma));
    }
    return weight / std::sqrt(weight.squaredNorm() / static_cast<double>(count));
}

Data checked(const std::vector<AngularFrequency>& frequency, const std::vector<Complex>& receptance,
             const std::vector<double>& coherence) {
    if (frequency.size() != receptance.size() || frequency.size() < 8) {
        throw std::domain_error("modal fit: " + std::to_string(receptance.size()) +
                                " values, must be at least 8, one for each frequency");
    }
    const auto count = static_cast<Eigen::Index>(frequency.size());
    Data data{.omega = Eigen::VectorXd(count),
              .value = Eigen::VectorXcd(count),
              .scale = 0,
              .weight = weights_of(coherence, count)};
    for (Eigen::Index i = 0; i < count; ++i) {
        const auto place = static_cast<std::size_t>(i);
        data.omega[i] = frequency[place].radians_per_second;
        data.value[i] = receptance[place];
        require_positive(data.omega[i], "modal fit", "frequency, rad/s,");
        if (i > 0 && !(data.omega[i] > data.omega[i - 1])) {
            throw std::domain_error("modal fit: frequencies must ascend");
        }
        require_between(std::abs(data.value[i]), 0, 1e3, "modal fit", "receptance, m/N,");
        data.scale = std::max(data.scale, std::abs(data.value[i]));
    }
    require_positive(data.scale, "modal fit", "largest receptance, m/N,");
    return data;
}

/// At most kMostValues of the values, evenly.
Data thinned(const Data& data) {
    const Eigen::Index stride =
        1 + (data.omega.size() - 1) / static_cast<Eigen::Index>(kMostValues);
    const auto every = Eigen::seq(0, Eigen::last, stride);
    return {.omega = data.omega(every),
            .value = data.value(every),
            .scale = data.scale,
            .weight = data.weight(every)};
}

ModalFit result_of(const Data& data, const Eigen::VectorXd& poles) {
    const Projection projection = project(data, poles);
    const Eigen::Index modes = poles.size() / 2;
    ModalFit fit;
    for (Eigen::Index mode = 0; mode < modes; ++mode) {
        const double natural = std::exp(poles[2 * mode]), zeta = std::exp(poles[2 * mode + 1]);
        fit.terms.push_back(
            {.frequency = AngularFrequency{natural},
             .damping_ratio = zeta,
             .residue = projection.coefficients[mode] * data.scale * 2 * zeta * natural * natural});
    }
    std::sort(fit.terms.begin(), fit.terms.end(), [](const FittedMode& a, const FittedMode& b) {
        return a.frequency.radians_per_second < b.frequency.radians_per_second;
    });
    const double middle = data.omega.mean();
    fit.compliance = projection.coefficients[modes] * data.scale;
    fit.inertia = projection.coefficients[modes + 1] * data.scale * middle * middle;
    fit.misfit = projection.left_over.norm() * data.scale / data.value.norm();
    return fit;
}

}  // namespace

ModalFit fit_modes(const std::vector<AngularFrequency>& frequency,
                   const std::vector<Complex>& receptance, const std::vector<double>& coherence) {
    const Data data = thinned(checked(frequency, receptance, coherence));
    const double noise = noise_of(data.value / data.scale);
    Eigen::VectorXd poles;
    double sum = weighted_sum(data, project(data, poles));
    while (static_cast<std::size_t>(poles.size()) / 2 < kMostModes) {
        const Eigen::VectorXcd left =
            poles.size() == 0 ? Eigen::VectorXcd(data.value / data.scale)
                              : Eigen::VectorXcd(-complex_of(project(data, poles).left_over));
        const std::optional<Eigen::Index> peak = strongest_peak(data, left, noise);
        if (!peak) break;
        Eigen::VectorXd more(poles.size() + 2);
        more << poles, start_of(data, left, *peak);
        more = refined(data, more);
        const Projection projection = project(data, more);
        const double rest = weighted_sum(data, projection);
        const double likelihood =
            static_cast<double>(data.omega.size()) * std::log(sum / std::max(rest, 1e-300));
        if (!sensible(data, more, projection.coefficients) || likelihood < kLeastImproved) break;
        poles = more;
        sum = rest;
    }
    ModalFit fit = result_of(data, poles);
    fit.noise = noise * data.scale;
    if (!fit.terms.empty() && fit.misfit > 0.3) {
        fit.warnings.emplace_back(
            "the modes leave much of the receptance over: look at the measurement before trusting "
            "them");
    }
    return fit;
}

FittedMode mode_from_peak(const PickedPeak& peak) {
    require_positive(peak.real_max_hz, "peak", "frequency of the largest real part, Hz,");
    if (!(peak.real_max_hz < peak.imaginary_min_hz && peak.imaginary_min_hz < peak.real_min_hz)) {
        throw std::domain_error("peak: its three frequencies must ascend");
    }
    require_positive(-peak.imaginary_min, "peak", "depth of the imaginary part, m/N,");
    const AngularFrequency natural = AngularFrequency::from_hertz(peak.imaginary_min_hz);
    const double zeta = (peak.real_min_hz - peak.real_max_hz) / (2 * peak.imaginary_min_hz);
    const double stiffness = 1 / (2 * zeta * -peak.imaginary_min);
    return {.frequency = natural,
            .damping_ratio = zeta,
            .residue = natural.radians_per_second * natural.radians_per_second / stiffness};
}

}  // namespace standfast
