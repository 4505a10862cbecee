#include "fea/structure/element_parts.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/structure/beam.hpp"
#include "fea/structure/tapered_beam.hpp"

namespace standfast {
namespace {

/// Elements that bring the first two frequencies of a taper within 1e-3 (tests; measured in
/// validation/convergence.cpp): two for every factor e between the second moments of its ends.
int taper_elements(const SectionAlong& taper) {
    constexpr double kMost = 64;
    const Section start = taper(0);
    const Section end = taper(1);
    const double about_y = std::log(start.second_moment_y / end.second_moment_y);
    const double about_z = std::log(start.second_moment_z / end.second_moment_z);
    const double steepest = std::max(std::abs(about_y), std::abs(about_z));
    if (!std::isfinite(steepest)) return 4;
    return static_cast<int>(std::clamp(std::ceil(2 * steepest), 4.0, kMost));
}

Eigen::Matrix3d cross_matrix(const Eigen::Vector3d& v) {
    Eigen::Matrix3d matrix;
    matrix << 0, -v.z(), v.y(), v.z(), 0, -v.x(), -v.y(), v.x(), 0;
    return matrix;
}

/// Rows: the run's x, y, z in model axes.
Eigen::Matrix3d run_axes(const Eigen::Vector3d& along, const Eigen::Vector3d& section_y) {
    const Eigen::Vector3d x = along.normalized();
    const Eigen::Vector3d across = section_y - x * x.dot(section_y);
    if (!(across.norm() > 1e-6 * section_y.norm())) {
        throw std::domain_error("beam run: section_y lies along the run, must be across it");
    }
    const Eigen::Vector3d y = across.normalized();
    Eigen::Matrix3d axes;
    axes.row(0) = x;
    axes.row(1) = y;
    axes.row(2) = x.cross(y);
    return axes;
}

Matrix12d turned(const Matrix12d& local, const Eigen::Matrix3d& axes) {
    Matrix12d turn = Matrix12d::Zero();
    for (Eigen::Index at = 0; at < 12; at += 3) turn.block<3, 3>(at, at) = axes;
    return turn.transpose() * local * turn;
}

/// The element's matrix in the motions of the nodes that its ends hang on.
Matrix12d on_arms(const Matrix12d& matrix, const Eigen::Vector3d& first,
                  const Eigen::Vector3d& second) {
    Matrix12d arms = Matrix12d::Zero();
    arms.topLeftCorner<6, 6>() = rigid_arm(first);
    arms.bottomRightCorner<6, 6>() = rigid_arm(second);
    return arms.transpose() * matrix * arms;
}

/// The part [from, from + share] of a run as a taper of its own.
SectionAlong part_of(const SectionAlong& along, double from, double share) {
    return [along, from, share](double s) { return along(from + share * s); };
}

struct UnitMatrices {
    Matrix12d stiffness, mass;  ///< run axes, for 1 Pa and 1 kg/m^3
};

UnitMatrices unit_matrices(const BeamRun& run, double length, int element, int count) {
    const double step = length / count;
    Material unit = run.material;
    unit.youngs_modulus = 1;
    unit.density = 1;
    if (!run.taper) {
        return {.stiffness = beam_stiffness(run.section, unit, step),
                .mass = beam_mass(run.section, unit, step, run.rotary_inertia)};
    }
    const double share = 1.0 / count;
    const SectionAlong part = part_of(run.taper, element * share, share);
    return {.stiffness = tapered_beam_stiffness(part, unit, step),
            .mass = tapered_beam_mass(part, unit, step, run.rotary_inertia)};
}

}  // namespace

Matrix6d rigid_arm(const Eigen::Vector3d& arm) {
    Matrix6d matrix = Matrix6d::Identity();
    matrix.topRightCorner<3, 3>() = -cross_matrix(arm);
    return matrix;
}

Eigen::Vector3d place_of(const Attachment& attachment, const std::vector<Eigen::Vector3d>& nodes) {
    if (attachment.node == kGround) return attachment.arm;
    return nodes[static_cast<std::size_t>(attachment.node)] + attachment.arm;
}

MeshedRun mesh_run(const BeamRun& run, std::vector<Eigen::Vector3d>& nodes) {
    require_positive(run.material.youngs_modulus, "beam run", "Young's modulus");
    require_positive(run.material.density, "beam run", "density");
    const Eigen::Vector3d start = place_of(run.start, nodes);
    const Eigen::Vector3d along = place_of(run.end, nodes) - start;
    require_positive(along.norm(), "beam run", "length");
    const Eigen::Matrix3d axes = run_axes(along, run.section_y);
    const int count = std::max({1, run.least_elements, run.taper ? taper_elements(run.taper) : 1});

    MeshedRun mesh;
    UnitMatrices unit;
    int first = run.start.node;
    for (int element = 0; element < count; ++element) {
        const bool last = element + 1 == count;
        if (!last) nodes.emplace_back(start + along * (element + 1.0) / count);
        const int second = last ? run.end.node : static_cast<int>(nodes.size()) - 1;
        if (element == 0 || run.taper) unit = unit_matrices(run, along.norm(), element, count);
        const Eigen::Vector3d none = Eigen::Vector3d::Zero();
        const Eigen::Vector3d& first_arm = element == 0 ? run.start.arm : none;
        const Eigen::Vector3d& second_arm = last ? run.end.arm : none;
        const auto placed = [&](const Matrix12d& local) {
            return ElementMatrix{.nodes = {first, second},
                                 .matrix = on_arms(turned(local, axes), first_arm, second_arm)};
        };
        mesh.stiffness.push_back(placed(unit.stiffness));
        mesh.mass.push_back(placed(unit.mass));
        first = second;
    }
    return mesh;
}

ElementMatrix joint_component(const JointElement& joint, int component) {
    Eigen::Matrix<double, 1, 6> along = Eigen::Matrix<double, 1, 6>::Zero();
    along.segment<3>(component < 3 ? 0 : 3) = joint.axes.col(component % 3);
    Eigen::Matrix<double, 1, 12> relative;
    relative << -along * rigid_arm(joint.below.arm), along * rigid_arm(joint.above.arm);
    return {.nodes = {joint.below.node, joint.above.node},
            .matrix = relative.transpose() * relative};
}

ElementMatrix lump_mass(const Lump& lump) {
    Matrix6d at_centre = Matrix6d::Zero();
    at_centre.topLeftCorner<3, 3>().diagonal().setConstant(lump.mass);
    at_centre.bottomRightCorner<3, 3>() = lump.inertia;
    const Matrix6d arm = rigid_arm(lump.at.arm);
    ElementMatrix element{.nodes = {lump.at.node, kGround}};
    element.matrix.topLeftCorner<6, 6>() = arm.transpose() * at_centre * arm;
    return element;
}

}  // namespace standfast
