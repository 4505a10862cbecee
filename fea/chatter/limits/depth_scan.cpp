#include "fea/chatter/limits/depth_scan.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>

#include "fea/chatter/equation/slight_modes.hpp"
#include "fea/chatter/map/krylov.hpp"
#include "fea/chatter/map/period_map.hpp"

namespace standfast {
namespace {

constexpr double kLeastStep = 0.03, kLargestStep = 0.6, kIslandStep = 0.06;
constexpr double kVeryNearZero = 0.04;
constexpr double kNearZero = 0.12;  // growth at which the resolution is looked at
constexpr double kMostMargin = 9;

double growth_of(std::complex<double> multiplier) {
    return std::log(std::max(std::abs(multiplier), 1e-12));
}

// A multiplier that the cut has moved by `moved` will move by a few times that when the depth
// grows e-fold.
double safe_step(const PeriodMap& map, const MapEigenpair& pair) {
    const Eigen::VectorXcd free = turns(map.modes(), map.period());
    double step = kLargestStep;
    for (const std::complex<double>& value : pair.others) {
        const double square = std::norm(value);
        if (square < 0.04) continue;
        double moved = std::numeric_limits<double>::max();
        for (const std::complex<double>& still : free) {
            moved =
                std::min({moved, std::norm(value - still), std::norm(value - std::conj(still))});
        }
        const double growth = 0.5 * std::abs(std::log(square));
        step = std::min(step, 0.35 * growth * std::sqrt(square / moved));
    }
    return std::max(step, std::abs(pair.value) > 1 ? kIslandStep : kLeastStep);
}

// Frequency of the mode whose share of the displacement is largest.
AngularFrequency leading_mode(const ModalState& modes, const Eigen::VectorXcd& state) {
    double most = -1;
    AngularFrequency frequency;
    for (Eigen::Index m = 0; m < modes.modes(); ++m) {
        const double moves = (std::norm(state[2 * m]) + std::norm(state[2 * m + 1])) *
                             modes.shape.col(m).squaredNorm();
        if (moves <= most) continue;
        most = moves;
        frequency = {std::abs(modes.lambda[m])};
    }
    return frequency;
}

// Largest receptance to be expected: at its peaks.
double peak_compliance(const ModalReceptance& receptance) {
    double peak = static_compliance(receptance).norm();
    for (const ModalTerm& term : receptance.terms) {
        peak = std::max(peak, receptance_at(receptance, term.frequency).norm());
    }
    return peak;
}

// Raises the margin until the growth near zero no longer depends on it. Looked at again now and
// then, and wherever little is missing, since another multiplier may have taken the lead.
ScanPoint resolved(DepthScan& scan, ScanPoint point) {
    const double since = point.depth / scan.resolved_to;
    if (since < (std::abs(point.growth) < kVeryNearZero ? 1.04 : 1.25)) return point;
    while (std::abs(point.growth) < kNearZero && scan.margin < kMostMargin) {
        scan.resolved_to = point.depth;
        DepthScan finer{scan.system, scan.speed, scan.margin + 1};
        finer.by_depth = scan.by_depth;
        const ScanPoint better = finer.at(point.depth);
        const double change = std::abs(better.growth - point.growth);
        if (change <= std::max(1e-4, 0.02 * std::abs(better.growth))) break;
        scan.margin += 1;
        point = better;
    }
    return point;
}

// The largest of three growths may hide a crossing: is the parabola's top near zero or above?
bool may_peak(const ScanPoint& a, const ScanPoint& b, const ScanPoint& c) {
    return a.growth < 0 && b.growth < 0 && c.growth < 0 && b.growth > a.growth &&
           b.growth > c.growth && b.growth + (b.growth - std::min(a.growth, c.growth)) > 0;
}

// Halves the intervals about the middle point until it is positive or the peak is clear.
ScanPoint summit(const DepthScan& scan, ScanPoint a, ScanPoint b, ScanPoint c) {
    while (b.growth < 0 && may_peak(a, b, c) && c.depth - a.depth > 1e-3 * b.depth) {
        const ScanPoint left = scan.at(0.5 * (a.depth + b.depth));
        const ScanPoint right = scan.at(0.5 * (b.depth + c.depth));
        if (left.growth > b.growth && left.growth > right.growth) {
            c = b;
            b = left;
        } else if (right.growth > b.growth) {
            a = b;
            b = right;
        } else {
            a = left;
            c = right;
        }
    }
    return b;
}

}  // namespace

SystemsByDepth::SystemsByDepth(const DelaySystem& system, double share, double least_gain,
                               double shallowest, double deepest) {
    for (double depth = deepest;; depth /= 2) {
        systems_.push_back({depth, without_slight_modes(system, share, depth, least_gain)});
        if (depth <= shallowest) break;
    }
    std::reverse(systems_.begin(), systems_.end());
}

const DelaySystem& SystemsByDepth::at(double depth) const {
    const auto found = std::find_if(systems_.begin(), systems_.end(),
                                    [depth](const UpTo& one) { return depth <= one.depth; });
    return found == systems_.end() ? systems_.back().system : found->system;
}

ScanPoint DepthScan::at(double depth, const Eigen::VectorXd& motion) const {
    const PeriodMap map(by_depth != nullptr ? by_depth->at(depth) : *system, speed, depth, margin);
    const bool fits = motion.size() == map.size();
    const MapEigenpair pair = dominant_eigenpair(map, tolerance, fits ? motion : Eigen::VectorXd());
    return {depth, growth_of(pair.value), safe_step(map, pair), pair.vector.real(),
            leading_mode(map.modes(), pair.vector)};
}

double depth_stable_anywhere(const DelaySystem& system, double shape_depth) {
    const double shallow = 0.1 * system.cutter.diameter;
    double peak = 0;
    // Shapes differ along the edge: the softest of its ends and its middle.
    for (const double share : {0.0, 0.5, 1.0}) {
        peak = std::max(
            peak, peak_compliance(system.lines ? receptance_at_height(*system.lines, shape_depth,
                                                                      share * shape_depth)
                                               : system.receptance));
        if (!system.lines) break;
    }
    const double gain = 2 * mean_directional_matrix(system, shallow).norm() * peak;
    return gain > 0 ? 1 / gain : std::numeric_limits<double>::infinity();
}

ScanPoint stable_start(const DepthScan& scan, double searched_to) {
    double start = searched_to;
    // Shapes change with depth, so the bound is taken where it is used.
    for (int step = 0; step < 3; ++step) {
        start = std::min(searched_to, 0.7 * depth_stable_anywhere(*scan.system, start));
    }
    return stable_from(scan, start);
}

ScanPoint stable_from(const DepthScan& scan, double depth) {
    ScanPoint point = scan.at(depth);
    for (int halving = 0; point.growth >= 0 && halving < 60; ++halving) {
        point = scan.at(0.5 * point.depth);
    }
    return point;
}

std::optional<Bracket> next_change(DepthScan& scan, ScanPoint from, double searched_to) {
    // The growth may peak right at the start, so what lies before it is taken for lower.
    ScanPoint before = from;
    double growth_before = from.growth;
    before.growth = -std::numeric_limits<double>::max();
    while (from.depth < searched_to) {
        const double further = std::min(from.depth * (1 + from.step), searched_to);
        const ScanPoint next = resolved(scan, scan.at(further));
        if ((from.growth < 0) != (next.growth < 0)) return Bracket{from, next};
        if (may_peak(before, from, next)) {
            const ScanPoint top = summit(scan, before, from, next);
            before.growth = growth_before;
            if (top.growth > 0) return Bracket{before, top};
        }
        before = from;
        growth_before = from.growth;
        from = next;
    }
    return std::nullopt;
}

}  // namespace standfast
