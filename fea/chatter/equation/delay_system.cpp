#include "fea/chatter/equation/delay_system.hpp"

#include <numbers>

#include "fea/cutting/edge_law.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

void add_tooth(EdgeSum<Eigen::Matrix3d>& sum, const DelaySystem& system,
               const std::vector<EdgeSlice>& slices, int tooth) {
    const double angle = system.cutter.tooth_angle[static_cast<std::size_t>(tooth)];
    for (const EdgeSlice& slice : slices) {
        sum.terms.push_back({angle, system.engagement.entry, system.engagement.exit, slice,
                             force_derivative_per_height(system.cutter, system.law, slice)});
    }
}

EdgeSum<Eigen::Matrix3d> empty_sum(const DelaySystem& system) {
    return {.lag = lag_per_height(system.cutter),
            .wall_at_exit = system.engagement.milling != Milling::up,
            .terms = {}};
}

}  // namespace

ModalReceptance receptance_of_cut(const DelaySystem& system, double depth) {
    return system.lines ? edge_receptance(*system.lines, depth) : system.receptance;
}

ModalReceptance receptance_in_the_middle(const DelaySystem& system, double depth) {
    return system.lines ? receptance_at_height(*system.lines, depth, depth / 2) : system.receptance;
}

EdgeSum<Eigen::Matrix3d> directional_sum(const DelaySystem& system, double depth) {
    require_positive(system.cutter.teeth(), "directional_sum", "number of teeth");
    const std::vector<EdgeSlice> slices = edge_slices(system.cutter, depth, system.arc_slices);
    EdgeSum<Eigen::Matrix3d> sum = empty_sum(system);
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        add_tooth(sum, system, slices, tooth);
    }
    return sum;
}

EdgeSum<Eigen::Matrix3d> directional_sum(const DelaySystem& system, double depth, int tooth) {
    require_between(tooth, 0, system.cutter.teeth() - 1, "directional_sum", "tooth");
    EdgeSum<Eigen::Matrix3d> sum = empty_sum(system);
    add_tooth(sum, system, edge_slices(system.cutter, depth, system.arc_slices), tooth);
    return sum;
}

EdgeSum<Eigen::Matrix3d> rubbing_sum(const EdgeSum<Eigen::Matrix3d>& directional,
                                     double coefficient) {
    require_not_negative(coefficient, "rubbing_sum", "process damping");
    EdgeSum<Eigen::Matrix3d> sum{.lag = directional.lag,
                                 .wall_at_exit = directional.wall_at_exit,
                                 .terms = {},
                                 .basis = directional.basis};
    if (coefficient == 0) return sum;
    // n n^T of n = (sin, cos, 0) in double angles.
    AnglePolynomial<Eigen::Matrix3d> square;
    square.constant.diagonal() = Eigen::Vector3d(0.5, 0.5, 0) * coefficient;
    square.cos2.diagonal() = Eigen::Vector3d(-0.5, 0.5, 0) * coefficient;
    square.sin2(0, 1) = square.sin2(1, 0) = 0.5 * coefficient;
    for (EdgeTerm<Eigen::Matrix3d> term : directional.terms) {
        term.per_height = square;
        sum.terms.push_back(term);
    }
    return sum;
}

Eigen::Matrix3d directional_matrix(const DelaySystem& system, double phi, double depth) {
    return value_at(directional_sum(system, depth), phi);
}

double tooth_pitch(const CutterGeometry& cutter, int tooth) {
    require_between(tooth, 0, cutter.teeth() - 1, "tooth_pitch", "tooth");
    const auto index = static_cast<std::size_t>(tooth);
    return tooth == 0 ? 2 * std::numbers::pi - cutter.tooth_angle.back()
                      : cutter.tooth_angle[index] - cutter.tooth_angle[index - 1];
}

double tooth_delay(const CutterGeometry& cutter, int tooth, SpindleSpeed speed) {
    require_positive(speed.radians_per_second, "tooth_delay", "spindle speed");
    return tooth_pitch(cutter, tooth) / speed.radians_per_second;
}

Eigen::Matrix3d mean_directional_matrix(const DelaySystem& system, double depth) {
    require_positive(depth, "mean_directional_matrix", "axial depth");
    const Engagement& cut = system.engagement;
    const double in_cut = system.cutter.teeth() * (cut.exit - cut.entry) / (2 * std::numbers::pi);
    Eigen::Matrix3d sum = Eigen::Matrix3d::Zero();
    for (const EdgeSlice& slice : edge_slices(system.cutter, depth, system.arc_slices)) {
        const auto per_height = force_derivative_per_height(system.cutter, system.law, slice);
        sum += mean_over(per_height, cut.entry, cut.exit) * (slice.to - slice.from);
    }
    return sum * (in_cut / depth);
}

}  // namespace standfast
