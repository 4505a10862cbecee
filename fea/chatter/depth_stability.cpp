#include "fea/chatter/depth_stability.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/depth_scan.hpp"
#include "fea/chatter/edge_limits.hpp"
#include "fea/chatter/krylov.hpp"
#include "fea/chatter/slight_modes.hpp"

namespace standfast {
namespace {

constexpr double kOutOfReach = 2;  // below what the loop gain leaves stable anywhere
constexpr double kSlight = 1e-3, kSlightInTheMiddle = 1e-2;
constexpr double kPlain = 0.06;         // ln growth that the middle of the cut tells for the whole
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
    const DelaySystem whole = without_slight_modes(cut, kSlight);
    PreparedDepth prepared{
        .cut = prepare_cut(whole, depth),
        .out_of_reach = depth * kOutOfReach < depth_stable_anywhere(whole, depth)};
    if (whole.lines) {
        const DelaySystem middle = in_the_middle(without_slight_modes(cut, kSlightInTheMiddle));
        prepared.middle = prepare_cut(middle, depth);
    }
    return prepared;
}

double growth(const PreparedDepth& cut, SpindleSpeed speed) {
    if (cut.out_of_reach) return 0;
    if (cut.middle) {
        const double roughly = radius(*cut.middle, speed, kCoarseMargin, kCoarseTolerance);
        if (std::abs(std::log(roughly)) > kPlain) return roughly;
    }
    return growth_of(cut.cut, speed);
}

}  // namespace standfast
