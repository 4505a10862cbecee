#include "fea/chatter/limits/depth_stability.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "fea/chatter/equation/slight_modes.hpp"
#include "fea/chatter/equation/square_corner.hpp"
#include "fea/chatter/limits/depth_scan.hpp"
#include "fea/chatter/limits/edge_limits.hpp"
#include "fea/chatter/limits/near_one.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr double kOutOfReach = 2;  // below what the loop gain leaves stable anywhere
constexpr double kSlight = 2e-3, kSlightInTheMiddle = 2e-2;
constexpr double kLeastGain = 0.3;
constexpr double kNearOne = 0.05;
// In a search: of 12,000 growths within kNearOne on two jobs, 5 beyond this lay on the other side.
constexpr double kNearOneInASearch = 0.015;
// Of what the cut does to a multiplier, the most that few points and one height were off by.
constexpr double kMissedByFew = 0.2, kMissedInTheMiddle = 0.6;
constexpr double kCoarseMargin = 2, kMostMargin = 15;
constexpr double kCoarseTolerance = 1e-2, kFineTolerance = 1e-5;
constexpr double kSettled = 1e-4;
constexpr std::size_t kLooked = 16, kStride = 7919;
constexpr double kLeastDoubt = 0.012;

double radius(const PreparedCut& cut, SpindleSpeed speed, double margin, double tolerance) {
    return std::abs(dominant_eigenpair(PeriodMap(cut, speed, margin), tolerance).value);
}

// On finer maps until it stays on its side of 1.
double settled_growth(const PreparedCut& cut, SpindleSpeed speed, double known) {
    for (int finer_by = 1; kCoarseMargin + finer_by <= kMostMargin; ++finer_by) {
        const double finer = radius(cut, speed, kCoarseMargin + finer_by, kFineTolerance);
        // The error falls fast with each point, so what is left is less than this change.
        if (std::abs(finer - known) < std::max(kSettled, 0.5 * std::abs(finer - 1))) return finer;
        known = finer;
    }
    return known;
}

double growth_of(const PreparedCut& cut, SpindleSpeed speed, double near_one) {
    const MapLook look = look_at(PeriodMap(cut, speed, kCoarseMargin), near_one, kMissedByFew);
    return look.told ? look.growth : settled_growth(cut, speed, look.growth);
}

}  // namespace

PreparedDepth prepare_depth(const DelaySystem& system, double depth, CourseShelf* shelf) {
    DelaySystem cut = system;
    cut.cutter = with_small_corner_square(cut.cutter, depth);
    const DelaySystem whole = without_slight_modes(cut, kSlight, depth, kLeastGain);
    PreparedDepth prepared{
        .cut = prepare_cut(whole, depth, shelf),
        .out_of_reach = depth * kOutOfReach < depth_stable_anywhere(whole, depth)};
    if (whole.lines) {
        const DelaySystem middle =
            in_the_middle(without_slight_modes(cut, kSlightInTheMiddle, depth, kLeastGain));
        prepared.middle = prepare_cut(middle, depth, shelf);
    }
    return prepared;
}

namespace {

double in_the_middle_of(const PreparedDepth& cut, SpindleSpeed speed) {
    return radius(*cut.middle, speed, kCoarseMargin, kCoarseTolerance);
}

}  // namespace

double growth(const PreparedDepth& cut, SpindleSpeed speed, double doubt) {
    if (cut.out_of_reach) return 0;
    if (cut.middle) {
        const MapLook look =
            look_at(PeriodMap(*cut.middle, speed, kCoarseMargin), doubt, kMissedInTheMiddle);
        if (look.told) return look.growth;
    }
    return growth_of(cut.cut, speed, doubt < usual_doubt ? kNearOneInASearch : kNearOne);
}

double doubt_of_the_middle(const std::vector<PreparedDepth>& cuts,
                           const std::vector<SpindleSpeed>& speeds) {
    const std::size_t pairs = cuts.size() * speeds.size();
    std::vector<double> squares(std::min(kLooked, pairs), 0);
    for_each_index(squares.size(), [&](std::size_t k) {
        // A stride prime to the counts meets other cuts and other speeds each time.
        const std::size_t pair = (k * kStride + kStride / 2) % pairs;
        const PreparedDepth& cut = cuts[pair % cuts.size()];
        const SpindleSpeed speed = speeds[pair / cuts.size()];
        if (cut.out_of_reach || !cut.middle) return;
        squares[k] = std::pow(std::log(in_the_middle_of(cut, speed) /
                                       radius(cut.cut, speed, kCoarseMargin, kCoarseTolerance)),
                              2);
    });
    const double sum = std::accumulate(squares.begin(), squares.end(), 0.0);
    const double mean = squares.empty() ? 0 : sum / static_cast<double>(squares.size());
    return std::clamp(3 * std::sqrt(mean), kLeastDoubt, usual_doubt);
}

}  // namespace standfast
