#include "fea/chatter/depth_stability.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/krylov.hpp"
#include "fea/chatter/depth_scan.hpp"

namespace standfast {
namespace {

constexpr double kOutOfReach = 2;  // below what the loop gain leaves stable anywhere
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
    return {prepare_cut(cut, depth), depth * kOutOfReach < depth_stable_anywhere(cut, depth)};
}

double growth(const PreparedDepth& cut, SpindleSpeed speed) {
    return cut.out_of_reach ? 0 : growth_of(cut.cut, speed);
}

}  // namespace standfast
