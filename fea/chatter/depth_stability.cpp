#include "fea/chatter/depth_stability.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/krylov.hpp"
#include "fea/chatter/mode_bands.hpp"

namespace standfast {
namespace {

constexpr int kModesEach = 8;
constexpr int kDirections = 24;
constexpr double kSmallCorner = 0.125;  // of the depth
constexpr double kNearOne = 0.05;
constexpr double kCoarseMargin = 2, kMostMargin = 15;
constexpr double kCoarseTolerance = 1e-2, kFineTolerance = 1e-5;
constexpr double kSettled = 1e-4;

/// Largest norm of A over a revolution, N/m.
double largest_gain(const EdgeSum<Eigen::Matrix3d>& directional) {
    double largest = 0;
    for (int step = 0; step < kDirections; ++step) {
        const double phi = 2 * std::numbers::pi * step / kDirections;
        largest = std::max(largest, value_at(directional, phi).norm());
    }
    return largest;
}

/// Largest norm of G over frequency, m/N: at rest or at a peak.
double largest_compliance(const ModalReceptance& receptance) {
    double largest = static_compliance(receptance).norm();
    for (const ModalTerm& term : receptance.terms)
        largest = std::max(largest, receptance_at(receptance, term.frequency).norm());
    return largest;
}

double radius(const PreparedCut& cut, SpindleSpeed speed, double margin, double tolerance) {
    return std::abs(dominant_eigenpair(PeriodMap(cut, speed, margin), tolerance).value);
}

double growth_of(const PreparedCut& cut, SpindleSpeed speed) {
    double known = radius(cut, speed, kCoarseMargin, kCoarseTolerance);
    if (std::abs(known - 1) > kNearOne) return known;
    for (double margin = kCoarseMargin + 1; margin <= kMostMargin; margin += 1) {
        const double finer = radius(cut, speed, margin, kFineTolerance);
        if (std::abs(finer - known) < std::max(kSettled, 0.1 * std::abs(finer - 1))) return finer;
        known = finer;
    }
    return known;
}

}  // namespace

PreparedDepth prepare_depth(const DelaySystem& system, double depth) {
    DelaySystem cut = system;
    if (cut.cutter.corner_radius < kSmallCorner * depth) cut.cutter.corner_radius = 0;
    PreparedDepth prepared;
    double gain = 0;
    for (const ModeBand& band : mode_bands(cut, kModesEach)) {
        PreparedCut part = prepare_cut(band.system, depth);
        // The directional matrix is the same for all bands.
        if (gain == 0) gain = 2 * largest_gain(part.directional);
        if (gain * largest_compliance(band.system.receptance) < 1) continue;
        prepared.bands.push_back(std::move(part));
    }
    return prepared;
}

double growth(const PreparedDepth& cut, SpindleSpeed speed) {
    double largest = 0;
    for (const PreparedCut& band : cut.bands) {
        largest = std::max(largest, growth_of(band, speed));
        if (largest > 1) break;
    }
    return largest;
}

}  // namespace standfast
