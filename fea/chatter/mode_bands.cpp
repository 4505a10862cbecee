#include "fea/chatter/mode_bands.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <limits>
#include <numeric>

#include "fea/chatter/lobe_segments.hpp"
#include "fea/chatter/zero_order.hpp"

namespace standfast {
namespace {

constexpr double kBandWidth = 1.3;    // ratio of frequencies
constexpr double kFarAbove = 2;       // times the centre
constexpr double kOfGroup = 0.1;      // of how much its leader varies
constexpr double kSmallCorner = 0.1;  // of the diameter
constexpr double kWeakest = 0.05;     // of the strongest mode
constexpr int kArcSlices = 8;
constexpr double kSampledBeyond = 1.3;
constexpr double kLookAround = 0.1;  // of the frequency

double felt(const DelaySystem& system, const ModalTerm& term) {
    const bool square = system.cutter.corner_radius <= 0;
    return term.shape.norm() * (square ? term.shape.head<2>().norm() : term.shape.norm());
}

std::complex<double> gain(const ModalTerm& term, double w) {
    const double own = term.frequency.radians_per_second;
    return 1.0 / std::complex<double>(own * own - w * w, 2 * term.damping_ratio * own * w);
}

double strength(const DelaySystem& system, const ModalTerm& term) {
    const double w = term.frequency.radians_per_second;
    return felt(system, term) / (2 * std::max(term.damping_ratio, 1e-6) * w * w);
}

// How much a constant would miss of a mode about w: its change within 10 %, or its imaginary part.
double variation(const DelaySystem& system, const ModalTerm& term, double w) {
    const std::complex<double> at = gain(term, w);
    return felt(system, term) *
           std::max({std::abs(gain(term, w * (1 - kLookAround)) - at),
                     std::abs(gain(term, w * (1 + kLookAround)) - at), std::abs(at.imag())});
}

std::vector<std::size_t> order_by(const std::vector<ModalTerm>& terms,
                                  const std::function<double(const ModalTerm&)>& value) {
    std::vector<double> values;
    for (const ModalTerm& term : terms) values.push_back(value(term));
    std::vector<std::size_t> order(terms.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](std::size_t a, std::size_t b) { return values[a] > values[b]; });
    return order;
}

std::vector<AngularFrequency> centres(const DelaySystem& system) {
    const std::vector<ModalTerm>& terms = system.receptance.terms;
    const auto value = [&](const ModalTerm& term) { return strength(system, term); };
    std::vector<AngularFrequency> found;
    const std::vector<std::size_t> order = order_by(terms, value);
    for (const std::size_t i : order) {
        if (value(terms[i]) < kWeakest * value(terms[order.front()])) break;
        const AngularFrequency here = terms[i].frequency;
        const bool covered =
            std::any_of(found.begin(), found.end(), [&](const AngularFrequency& there) {
                const double ratio = here.radians_per_second / there.radians_per_second;
                return ratio < kBandWidth && ratio > 1 / kBandWidth;
            });
        if (!covered) found.push_back(here);
    }
    return found;
}

// The modes that a band keeps, at most `count`: those that vary most about its centre. Modes far
// above it come in groups or not at all, since a part of a group chatters where the whole does not.
std::vector<bool> kept_modes(const DelaySystem& system, double w, std::size_t count) {
    const std::vector<ModalTerm>& terms = system.receptance.terms;
    const auto varies = [&](std::size_t i) { return variation(system, terms[i], w); };
    const auto pitch = [&](std::size_t i) { return terms[i].frequency.radians_per_second; };
    const std::vector<std::size_t> order =
        order_by(terms, [&](const ModalTerm& term) { return variation(system, term, w); });
    std::vector<bool> kept(terms.size(), false), decided(terms.size(), false);
    std::size_t room = std::min(count, terms.size());
    for (const std::size_t lead : order) {
        if (room == 0) break;
        if (decided[lead]) continue;
        std::vector<std::size_t> group{lead};
        if (pitch(lead) > kFarAbove * w) {
            for (const std::size_t other : order) {
                const double ratio = pitch(other) / pitch(lead);
                if (other == lead || decided[other] || ratio > kBandWidth ||
                    ratio < 1 / kBandWidth || varies(other) < kOfGroup * varies(lead)) {
                    continue;
                }
                group.push_back(other);
            }
        }
        for (const std::size_t member : group) {
            decided[member] = true;
            kept[member] = group.size() <= room;
        }
        if (group.size() <= room) room -= group.size();
    }
    return kept;
}

ModalReceptance receptance_near(const DelaySystem& system, AngularFrequency centre, int count) {
    const std::vector<ModalTerm>& terms = system.receptance.terms;
    const double w = centre.radians_per_second;
    const std::vector<bool> kept = kept_modes(system, w, static_cast<std::size_t>(count));
    ModalReceptance near{.terms = {}, .residual = system.receptance.residual};
    for (std::size_t i = 0; i < terms.size(); ++i) {
        if (kept[i]) {
            near.terms.push_back(terms[i]);
        } else {
            near.residual += terms[i].shape * terms[i].shape.transpose() * gain(terms[i], w).real();
        }
    }
    return near;
}

double least_limit(const Eigen::Matrix3d& mean, const SampledReceptance& of) {
    double largest = 0;
    for (const Eigen::Matrix3cd& receptance : of.value) {
        for (const std::complex<double> value : loop_eigenvalues(mean, receptance)) {
            largest = std::max(largest, value.real());
        }
    }
    return largest > 0 ? 1 / (2 * largest) : std::numeric_limits<double>::infinity();
}

}  // namespace

std::vector<ModeBand> mode_bands(const DelaySystem& system, int modes_each) {
    const std::vector<AngularFrequency> found = centres(system);
    std::vector<ModeBand> bands;
    if (static_cast<int>(system.receptance.terms.size()) <= modes_each) {
        const AngularFrequency centre = found.empty() ? AngularFrequency{0} : found.front();
        return {{centre, system}};
    }
    for (const AngularFrequency& centre : found) {
        bands.push_back({centre, system});
        bands.back().system.receptance = receptance_near(system, centre, modes_each);
        bands.back().system.arc_slices = std::min(system.arc_slices, kArcSlices);
    }
    return bands;
}

std::size_t band_of(const std::vector<ModeBand>& bands, AngularFrequency frequency) {
    const auto far = [&](const ModeBand& band) {
        return std::abs(std::log(frequency.radians_per_second / band.centre.radians_per_second));
    };
    const auto nearest = std::min_element(
        bands.begin(), bands.end(), [&](const auto& a, const auto& b) { return far(a) < far(b); });
    return static_cast<std::size_t>(nearest - bands.begin());
}

double least_averaged_limit(const ModeBand& band, double depth) {
    const Eigen::Matrix3d mean = mean_directional_matrix(band.system, depth);
    double largest = 0;
    for (const ModalTerm& term : band.system.receptance.terms) {
        const double own = term.frequency.radians_per_second;
        const double ratio = own / band.centre.radians_per_second;
        if (ratio > kBandWidth || ratio < 1 / kBandWidth) continue;
        for (const double widths : {-4.0, -2.0, -1.0, 1.0, 2.0, 4.0}) {
            const double w = own * (1 + widths * term.damping_ratio);
            for (const std::complex<double> value :
                 loop_eigenvalues(mean, receptance_at(band.system.receptance, {w}))) {
                largest = std::max(largest, value.real());
            }
        }
    }
    return largest > 0 ? 1 / (2 * largest) : std::numeric_limits<double>::infinity();
}

BandSamples sample_bands(const DelaySystem& system, const std::vector<ModeBand>& bands,
                         double coarser) {
    const std::vector<ModalTerm>& terms = system.receptance.terms;
    AngularFrequency highest{0};
    for (const ModalTerm& term : terms) highest = std::max(highest, term.frequency);
    const SampledReceptance all =
        sample_receptance([&](AngularFrequency w) { return receptance_at(system.receptance, w); },
                          terms, {kSampledBeyond * highest.radians_per_second}, coarser);
    BandSamples samples;
    samples.cut.mean_matrix = mean_directional_matrix(system, 0.1 * system.cutter.diameter);
    // A small corner couples the axial direction in, which costs much and ranks nothing.
    if (system.cutter.corner_radius < kSmallCorner * system.cutter.diameter) {
        samples.cut.mean_matrix.col(2).setZero();
    }
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        samples.cut.pitch.push_back(tooth_pitch(system.cutter, tooth));
    }
    samples.of_band.resize(bands.size());
    for (std::size_t i = 0; i < all.frequency.size(); ++i) {
        SampledReceptance& of = samples.of_band[band_of(bands, all.frequency[i])];
        of.frequency.push_back(all.frequency[i]);
        of.value.push_back(all.value[i]);
    }
    for (const SampledReceptance& of : samples.of_band) {
        samples.least.push_back(least_limit(samples.cut.mean_matrix, of));
    }
    return samples;
}

std::vector<StabilityLimits> averaged_limits_of_bands(const BandSamples& samples,
                                                      const std::vector<SpindleSpeed>& speeds,
                                                      double searched_to) {
    std::vector<StabilityLimits> limits;
    for (const SampledReceptance& of : samples.of_band) {
        limits.push_back(averaged_limits(samples.cut, of, speeds, searched_to));
    }
    return limits;
}

}  // namespace standfast
