#include "fea/chatter/motion/force_course.hpp"

#include <numbers>

namespace standfast {
namespace {

template <class Vector>
std::vector<Vector> combined(double a, const std::vector<Vector>& of_a, double b,
                             const std::vector<Vector>& of_b) {
    std::vector<Vector> sum;
    sum.reserve(of_a.size());
    for (std::size_t i = 0; i < of_a.size(); ++i) sum.emplace_back(a * of_a[i] + b * of_b[i]);
    return sum;
}

}  // namespace

double wall_passage(const RigidCut& cut, double height) {
    const bool at_plus_y = cut.engagement.milling == Milling::up;
    return (at_plus_y ? 0 : std::numbers::pi) + lag_per_height(cut.cutter) * height;
}

ForceCourse force_course(const RigidCut& cut, const EdgeBasis& basis, std::size_t harmonics,
                         const std::vector<double>& heights) {
    const int teeth = cut.cutter.teeth();
    EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut);
    force.basis = basis;
    // Of equal teeth each adds the same to a harmonic of the tooth passing.
    EdgeSum<Eigen::Vector3d> one = rigid_force_sum(cut, 0);
    one.basis = basis;
    ForceCourse result;
    for (std::size_t k = 0; k < harmonics; ++k) {
        result.harmonic.emplace_back(double(teeth) * harmonic(one, static_cast<int>(k) * teeth));
    }
    const double step = 2 * std::numbers::pi / teeth / ForceCourse::samples;
    for (std::size_t i = 0; i < ForceCourse::samples; ++i) {
        result.course.push_back(value_at(force, static_cast<double>(i) * step));
    }
    for (const double height : heights) {
        result.passage.push_back(value_at(force, wall_passage(cut, height)));
    }
    return result;
}

ForceCourse combined(double a, const ForceCourse& of_a, double b, const ForceCourse& of_b) {
    return {.harmonic = combined(a, of_a.harmonic, b, of_b.harmonic),
            .course = combined(a, of_a.course, b, of_b.course),
            .passage = combined(a, of_a.passage, b, of_b.passage)};
}

}  // namespace standfast
