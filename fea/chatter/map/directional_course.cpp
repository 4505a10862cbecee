#include "fea/chatter/map/directional_course.hpp"

#include <cmath>

#include "fea/chatter/equation/gauss_rule.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;

constexpr double kSameLaw = 1e-12;

// A turns by twice the angle, and with the products of the edge's polynomials; slices of an arc
// leave kinks.
int points_of(const CutPiece& piece, bool arc) {
    return (arc ? 14 : 10) + static_cast<int>(std::ceil(3 * piece.length));
}

Eigen::Vector3d law_of(const DelaySystem& system) {
    return {system.law.tangential, system.law.radial, system.law.axial};
}

}  // namespace

EdgeMatrix DirectionalCourse::at(std::size_t piece, double angle, double scale) const {
    const CutPiece& within = pieces[piece];
    const MatrixXd& values = value[piece];
    const auto points = static_cast<int>(values.cols());
    const Eigen::VectorXd weights =
        lagrange_weights(gauss_rule(points), (angle - within.start) / within.length);
    const Eigen::VectorXd entries = values * (scale * weights);
    return Eigen::Map<const MatrixXd>(entries.data(), basis.size(), basis.size());
}

DirectionalCourse directional_course(const DelaySystem& system, const EdgeBasis& basis,
                                     double depth) {
    DirectionalCourse course{.basis = basis, .pieces = cut_pieces(system, depth)};
    EdgeSum<Eigen::Matrix3d> sum = directional_sum(system, depth);
    sum.basis = basis;
    for (const CutPiece& piece : course.pieces) {
        MatrixXd values;
        if (piece.cutting) {
            const Eigen::VectorXd& node =
                gauss_rule(points_of(piece, system.cutter.corner_radius > 0)).node;
            values.resize(basis.size() * basis.size(), node.size());
            for (Index i = 0; i < node.size(); ++i) {
                const EdgeMatrix at = value_at(sum, piece.start + node[i] * piece.length);
                values.col(i) = at.reshaped();
            }
        }
        course.value.push_back(std::move(values));
    }
    course.mean_rubbing = harmonic(rubbing_sum(sum, 1), 0).real();
    course.mean = mean_directional_matrix(system, depth);
    return course;
}

CourseShelf::Course CourseShelf::at(const DelaySystem& system, const EdgeBasis& basis,
                                    double depth) {
    const std::scoped_lock lock(mutex_);
    const Eigen::Vector3d law = law_of(system);
    for (const Kept& one : kept_) {
        if (one.corner_radius != system.cutter.corner_radius || one.depth != depth ||
            one.arc_slices != system.arc_slices || one.course->basis != basis) {
            continue;
        }
        const double scale = law.norm() / one.law.norm();
        if ((law - scale * one.law).norm() <= kSameLaw * law.norm()) return {one.course, scale};
    }
    kept_.push_back({.corner_radius = system.cutter.corner_radius,
                     .depth = depth,
                     .arc_slices = system.arc_slices,
                     .law = law,
                     .course = std::make_shared<const DirectionalCourse>(
                         directional_course(system, basis, depth))});
    return {kept_.back().course, 1};
}

}  // namespace standfast
