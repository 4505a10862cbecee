#include "fea/studies/fit/receptance_average.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

constexpr double kSamePlace = 1e-6;  // m
constexpr double kSameLine = 1e-6;   // of a cosine
constexpr double kSameGrid = 1e-6;   // of a frequency
constexpr double kBestCoherence = 0.9999;

bool same_grid(const ReceptanceTest& a, const ReceptanceTest& b) {
    return std::ranges::equal(a.frequency, b.frequency, [](const auto& first, const auto& second) {
        return std::abs(first.radians_per_second - second.radians_per_second) <=
               kSameGrid * first.radians_per_second;
    });
}

/// A drive point hit and felt the other way round is the same receptance.
bool repeats(const ReceptanceTest& a, const ReceptanceTest& b) {
    const double cosine = a.direction.normalized().dot(b.direction.normalized());
    return a.place.tool == b.place.tool && a.place.tier == b.place.tier &&
           (a.place.at - b.place.at).norm() < kSamePlace && std::abs(cosine) > 1 - kSameLine &&
           same_grid(a, b);
}

double coherence_at(const ReceptanceTest& test, std::size_t i) {
    return i < test.coherence.size() ? std::clamp(test.coherence[i], 0.0, kBestCoherence)
                                     : kBestCoherence;
}

double weight_at(const ReceptanceTest& test, std::size_t i) {
    const double coherence = std::max(coherence_at(test, i), 1e-3);
    return coherence / (1 - coherence);
}

}  // namespace

std::optional<ReceptanceTest> average_with_repeats(const Job& job, std::size_t index) {
    const ReceptanceTest& first = *job.measured[index].receptance;
    std::vector<const ReceptanceTest*> all;
    for (std::size_t i = 0; i < job.measured.size(); ++i) {
        const std::optional<ReceptanceTest>& other = job.measured[i].receptance;
        if (!other || !repeats(first, *other)) continue;
        if (i < index) return std::nullopt;
        all.push_back(&*other);
    }
    if (all.size() == 1) return first;
    ReceptanceTest average = first;
    average.coherence.assign(first.frequency.size(), 0);
    for (std::size_t i = 0; i < first.frequency.size(); ++i) {
        double weights = 0;
        std::complex<double> sum = 0;
        for (const ReceptanceTest* const one : all) {
            const double weight = weight_at(*one, i);
            weights += weight;
            sum += weight * one->receptance[i];
        }
        average.receptance[i] = sum / weights;
        average.coherence[i] = weights / (1 + weights);
    }
    const bool any =
        std::ranges::any_of(all, [](const auto* one) { return !one->coherence.empty(); });
    if (!any) average.coherence.clear();
    return average;
}

bool sign_reversed(const ReceptanceTest& test) {
    constexpr double kMostly = 0.3;
    double lead = 0, size = 0;
    for (const std::complex<double>& value : test.receptance) {
        // Squared, so that peaks count and the noise between them does not.
        const double magnitude = std::abs(value);
        lead += value.imag() * magnitude;
        size += magnitude * magnitude;
    }
    return lead > kMostly * size;
}

}  // namespace standfast
