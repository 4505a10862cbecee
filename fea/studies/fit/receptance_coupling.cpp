#include "fea/studies/fit/receptance_coupling.hpp"

#include <Eigen/LU>
#include <algorithm>
#include <array>
#include <cmath>

#include "fea/quantities/require.hpp"
#include "fea/structure/beam.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;
using Matrix4 = Eigen::Matrix4cd;

/// Dynamic stiffness of one element in one bending plane: deflection and slope at its tip end, then
/// at its root end.
Matrix4 element_stiffness(const CutterRun& run, double length, double omega) {
    const Section section = solid_round(run.diameter, run.material.poissons_ratio);
    const Matrix12d stiffness = beam_stiffness(section, run.material, length);
    const Matrix12d mass = beam_mass(section, run.material, length);
    constexpr std::array<int, 4> kPlane{1, 5, 7, 11};  // uy, rz of both nodes
    const Complex lossy(1, run.material.loss_factor);
    Matrix4 dynamic;
    for (int row = 0; row < 4; ++row) {
        for (int column = 0; column < 4; ++column) {
            const int i = kPlane.at(static_cast<std::size_t>(row));
            const int j = kPlane.at(static_cast<std::size_t>(column));
            dynamic(row, column) = lossy * stiffness(i, j) - omega * omega * mass(i, j);
        }
    }
    return dynamic;
}

/// Two pieces end to end, the joint between them eliminated.
Matrix4 joined(const Matrix4& lower, const Matrix4& upper) {
    const EndReceptance middle =
        (lower.bottomRightCorner<2, 2>() + upper.topLeftCorner<2, 2>()).inverse();
    Matrix4 both = Matrix4::Zero();
    both.topLeftCorner<2, 2>() = lower.topLeftCorner<2, 2>();
    both.bottomRightCorner<2, 2>() = upper.bottomRightCorner<2, 2>();
    Eigen::Matrix<Complex, 4, 2> to_middle;
    to_middle << lower.topRightCorner<2, 2>(), upper.bottomLeftCorner<2, 2>();
    Eigen::Matrix<Complex, 2, 4> from_middle;
    from_middle << lower.bottomLeftCorner<2, 2>(), upper.topRightCorner<2, 2>();
    return both - to_middle * middle * from_middle;
}

}  // namespace

SegmentReceptance free_segment(const std::vector<CutterRun>& runs, AngularFrequency frequency) {
    require_positive(frequency.radians_per_second, "free segment", "frequency, rad/s,");
    require_positive(static_cast<double>(runs.size()), "free segment", "number of cylinders");
    Matrix4 whole;
    bool first = true;
    for (auto run = runs.rbegin(); run != runs.rend(); ++run) {
        require_positive(run->diameter, "free segment", "diameter");
        require_positive(run->length, "free segment", "length");
        const int count =
            std::clamp(static_cast<int>(std::ceil(run->length / (0.5 * run->diameter))), 4, 64);
        const Matrix4 element =
            element_stiffness(*run, run->length / count, frequency.radians_per_second);
        for (int i = 0; i < count; ++i) {
            whole = first ? element : joined(whole, element);
            first = false;
        }
    }
    const Matrix4 receptance = whole.inverse();
    return {.tip_tip = receptance.topLeftCorner<2, 2>(),
            .tip_root = receptance.topRightCorner<2, 2>(),
            .root_tip = receptance.bottomLeftCorner<2, 2>(),
            .root_root = receptance.bottomRightCorner<2, 2>()};
}

EndReceptance couple(const SegmentReceptance& segment, const EndReceptance& base,
                     const EndReceptance& joint) {
    return segment.tip_tip -
           segment.tip_root * (segment.root_root + base + joint).inverse() * segment.root_tip;
}

EndReceptance uncouple(const SegmentReceptance& segment, const EndReceptance& tip) {
    return segment.root_tip * (segment.tip_tip - tip).inverse() * segment.tip_root -
           segment.root_root;
}

EndReceptance base_from_tip(const SegmentReceptance& segment, const EndReceptance& modelled_base,
                            Complex measured) {
    // t (S + a B)^-1 r = d with the first rows and columns t, r, and d = S_tt - measured. The
    // inverse of a 2 x 2 is its adjugate over its determinant: a quadratic in a.
    const Eigen::RowVector2cd t = segment.tip_root.row(0);
    const Eigen::Vector2cd r = segment.root_tip.col(0);
    const EndReceptance& s = segment.root_root;
    const EndReceptance& b = modelled_base;
    const auto adjugate = [](const EndReceptance& m) {
        EndReceptance turned;
        turned << m(1, 1), -m(0, 1), -m(1, 0), m(0, 0);
        return turned;
    };
    const Complex d = segment.tip_tip(0, 0) - measured;
    const Complex linear_s = (t * adjugate(s) * r).value(),
                  linear_b = (t * adjugate(b) * r).value();
    const Complex square = d * b.determinant();
    const Complex middle =
        d * (s(0, 0) * b(1, 1) + s(1, 1) * b(0, 0) - s(0, 1) * b(1, 0) - s(1, 0) * b(0, 1)) -
        linear_b;
    const Complex constant = d * s.determinant() - linear_s;
    // The root nearer to 1; by the larger denominator, so that neither cancels.
    const Complex root = std::sqrt(middle * middle - 4.0 * square * constant);
    const Complex sum = std::abs(middle + root) > std::abs(middle - root) ? -0.5 * (middle + root)
                                                                          : -0.5 * (middle - root);
    const Complex first = sum / square, second = constant / sum;
    const auto from_one = [](const Complex& factor) {
        return std::isfinite(std::abs(factor)) ? std::abs(std::log(factor)) : 1e300;
    };
    return (from_one(first) < from_one(second) ? first : second) * b;
}

}  // namespace standfast
