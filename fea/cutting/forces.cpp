#include "fea/cutting/forces.hpp"

#include <cmath>
#include <numbers>

#include "fea/cutting/chip_pieces.hpp"
#include "fea/cutting/edge_law.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

EdgeSum<Eigen::Vector3d> tooth_sum(const RigidCut& cut, int first_tooth, int end_tooth) {
    EdgeSum<Eigen::Vector3d> sum{.lag = lag_per_height(cut.cutter),
                                 .wall_at_exit = cut.engagement.milling != Milling::up,
                                 .terms = {}};
    const std::vector<EdgeSlice> slices = edge_slices(cut.cutter, cut.depth);
    for (int tooth = first_tooth; tooth < end_tooth; ++tooth) {
        const double angle = cut.cutter.tooth_angle[static_cast<std::size_t>(tooth)];
        const auto pieces = chip_pieces(cut.cutter, cut.engagement, cut.feed_per_tooth, tooth);
        for (const ChipPiece& piece : pieces) {
            for (const EdgeSlice& slice : slices) {
                sum.terms.push_back({angle, piece.from, piece.to, slice,
                                     force_per_height(cut.cutter, cut.law, slice, piece.chip)});
            }
        }
    }
    return sum;
}

bool repeats_each_tooth(const CutterGeometry& cutter) {
    return cutter.evenly_spaced() && !cutter.runs_out();
}

/// Angles worth a look: an even grid, and both sides of each kink.
std::vector<double> peak_candidates(const EdgeSum<Eigen::Vector3d>& sum, double period) {
    const int grid = 360;
    std::vector<double> angles;
    const int samples = static_cast<int>(std::ceil(grid * period / (std::numbers::pi / 2)));
    angles.reserve(static_cast<std::size_t>(samples) + 4 * sum.terms.size());
    for (int i = 0; i < samples; ++i) angles.push_back(period * i / samples);
    for (const auto& term : sum.terms) {
        for (const double end : {term.from, term.to}) {
            for (const double height : {term.slice.from, term.slice.to}) {
                const double kink = end + term.tooth_angle + sum.lag * height;
                angles.push_back(kink - 3 * detail::same_angle);
                angles.push_back(kink + 3 * detail::same_angle);
            }
        }
    }
    return angles;
}

double squared(const EdgeSum<Eigen::Vector3d>& sum, double angle) {
    return value_at(sum, angle).squaredNorm();
}

/// Golden-section search for the largest force within `reach` of the best candidate.
double climb(const EdgeSum<Eigen::Vector3d>& sum, double start, double reach) {
    const double golden = (std::sqrt(5.0) - 1) / 2;
    double low = start - reach, high = start + reach;
    for (int step = 0; step < 40; ++step) {
        const double a = high - golden * (high - low), b = low + golden * (high - low);
        if (squared(sum, a) > squared(sum, b)) {
            high = b;
        } else {
            low = a;
        }
    }
    const double end = (low + high) / 2;
    return squared(sum, end) > squared(sum, start) ? end : start;
}

}  // namespace

bool teeth_differ(const RigidCut& cut) { return cut.depth > 0 && !repeats_each_tooth(cut.cutter); }

EdgeSum<Eigen::Vector3d> rigid_force_sum(const RigidCut& cut) {
    require_positive(cut.cutter.teeth(), "rigid_force", "number of teeth");
    return tooth_sum(cut, 0, cut.cutter.teeth());
}

EdgeSum<Eigen::Vector3d> rigid_force_sum(const RigidCut& cut, int tooth) {
    require_between(tooth, 0, cut.cutter.teeth() - 1, "rigid_force_sum", "tooth");
    return tooth_sum(cut, tooth, tooth + 1);
}

Eigen::Vector3d rigid_force(const RigidCut& cut, double phi) {
    require_finite(phi, "rigid_force", "tooth angle");
    return value_at(rigid_force_sum(cut), phi);
}

Eigen::Vector3d mean_force(const RigidCut& cut) { return harmonic(rigid_force_sum(cut), 0).real(); }

Eigen::Vector3d peak_force(const RigidCut& cut) {
    const EdgeSum<Eigen::Vector3d> sum = rigid_force_sum(cut);
    const double period = force_period(cut.cutter);
    double best = 0;
    for (const double angle : peak_candidates(sum, period)) {
        if (squared(sum, angle) > squared(sum, best)) best = angle;
    }
    return value_at(sum, climb(sum, best, std::numbers::pi / 720));
}

double force_period(const CutterGeometry& cutter) {
    return 2 * std::numbers::pi / (repeats_each_tooth(cutter) ? cutter.teeth() : 1);
}

ForceHarmonics force_harmonics(const RigidCut& cut, int count) {
    require_not_negative(count, "force_harmonics", "number of harmonics");
    require_positive(cut.cutter.teeth(), "force_harmonics", "number of teeth");
    const bool each_tooth = repeats_each_tooth(cut.cutter);
    const int teeth = cut.cutter.teeth();
    const EdgeSum<Eigen::Vector3d> sum = tooth_sum(cut, 0, each_tooth ? 1 : teeth);
    ForceHarmonics harmonics{.base_per_revolution = each_tooth ? teeth : 1, .coefficient = {}};
    for (int k = 0; k <= count; ++k) {
        const Eigen::Vector3cd term = harmonic(sum, k * harmonics.base_per_revolution);
        harmonics.coefficient.push_back(each_tooth ? Eigen::Vector3cd(term * double(teeth)) : term);
    }
    return harmonics;
}

}  // namespace standfast
