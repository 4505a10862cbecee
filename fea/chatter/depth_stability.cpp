#include "fea/chatter/depth_stability.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fea/chatter/krylov.hpp"
#include "fea/chatter/mode_bands.hpp"

namespace standfast {
namespace {

constexpr double kOutOfReach = 3;
constexpr double kSmallCorner = 0.125;  // of the depth
constexpr double kNearOne = 0.05;
constexpr double kCoarseMargin = 2, kMostMargin = 15;
constexpr double kCoarseTolerance = 1e-2, kFineTolerance = 1e-5;
constexpr double kSettled = 1e-4;

double radius(const PreparedCut& cut, SpindleSpeed speed, double margin, double tolerance) {
    return std::abs(dominant_eigenpair(PeriodMap(cut, speed, margin), tolerance).value);
}

double growth_of(const PreparedCut& cut, SpindleSpeed speed) {
    double known = radius(cut, speed, kCoarseMargin, kCoarseTolerance);
    if (std::abs(known - 1) > kNearOne) return known;
    for (int finer_by = 1; kCoarseMargin + finer_by <= kMostMargin; ++finer_by) {
        const double finer = radius(cut, speed, kCoarseMargin + finer_by, kFineTolerance);
        if (std::abs(finer - known) < std::max(kSettled, 0.1 * std::abs(finer - 1))) return finer;
        known = finer;
    }
    return known;
}

}  // namespace

PreparedDepth prepare_depth(const DelaySystem& system, double depth) {
    DelaySystem cut = system;
    if (cut.cutter.corner_radius < kSmallCorner * depth) cut.cutter.corner_radius = 0;
    std::vector<std::pair<double, PreparedCut>> parts;
    for (const ModeBand& band : mode_bands(cut, kModesOfBand)) {
        const double averaged = least_averaged_limit(band, depth);
        if (averaged > kOutOfReach * depth) continue;
        parts.emplace_back(averaged, prepare_cut(band.system, depth));
    }
    std::stable_sort(parts.begin(), parts.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    PreparedDepth prepared;
    for (auto& [averaged, part] : parts) prepared.bands.push_back(std::move(part));
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
