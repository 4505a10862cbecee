#include "fea/structure/element_parts.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/structure/tapered_beam.hpp"

namespace standfast {
namespace {

/// Elements that bring the first two frequencies of a taper within 1e-3 (tests; measured in
/// validation/convergence.cpp): two for every factor e between the second moments of its ends.
int taper_elements(const SectionAlong& taper) {
    constexpr double kLeast = 5;
    constexpr double kMost = 64;
    const Section start = taper(0);
    const Section end = taper(1);
    const double about_y = std::log(start.second_moment_y / end.second_moment_y);
    const double about_z = std::log(start.second_moment_z / end.second_moment_z);
    const double steepest = std::max(std::abs(about_y), std::abs(about_z));
    if (!std::isfinite(steepest)) return static_cast<int>(kLeast);
    return static_cast<int>(std::clamp(std::ceil(2 * steepest), kLeast, kMost));
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

/// The part [from, from + share] of a run as a taper of its own.
SectionAlong part_of(const SectionAlong& along, double from, double share) {
    return [along, from, share](double s) { return along(from + share * s); };
}

using Matrix18d = Eigen::Matrix<double, 18, 18>;

struct UnitMatrices {
    Matrix18d stiffness = Matrix18d::Zero();  ///< run axes, for 1 Pa
    Matrix18d mass = Matrix18d::Zero();       ///< run axes, for 1 kg/m^3
};

template <int Nodes>
UnitMatrices unit_matrices(const SectionAlong& along, const BeamRun& run, double length) {
    Material unit = run.material;
    unit.youngs_modulus = 1;
    unit.density = 1;
    const BeamMatrices<Nodes> beam = tapered_beam<Nodes>(along, unit, length, run.rotary_inertia);
    UnitMatrices matrices;
    matrices.stiffness.topLeftCorner<6 * Nodes, 6 * Nodes>() = beam.stiffness;
    matrices.mass.topLeftCorner<6 * Nodes, 6 * Nodes>() = beam.mass;
    return matrices;
}

UnitMatrices unit_matrices(const BeamRun& run, double length, int element, int count) {
    const double share = 1.0 / count;
    const SectionAlong along = run.taper ? part_of(run.taper, element * share, share)
                                         : [&run](double) { return run.section; };
    return run.mid_nodes ? unit_matrices<3>(along, run, length / count)
                         : unit_matrices<2>(along, run, length / count);
}

/// Motions of an element's nodes in run axes, by those of the nodes that its ends hang on.
Matrix18d run_motions(const Eigen::Matrix3d& axes, const Eigen::Vector3d& first_arm,
                      const Eigen::Vector3d& second_arm) {
    Matrix18d turn = Matrix18d::Zero();
    for (Eigen::Index at = 0; at < 18; at += 3) turn.block<3, 3>(at, at) = axes;
    turn.block<6, 6>(0, 0) *= rigid_arm(first_arm);
    turn.block<6, 6>(6, 6) *= rigid_arm(second_arm);
    return turn;
}

int element_count(const BeamRun& run) {
    const bool by_taper = run.taper && !run.mid_nodes;
    return std::max({1, run.least_elements, by_taper ? taper_elements(run.taper) : 1});
}

int add_node(std::vector<Eigen::Vector3d>& nodes, const Eigen::Vector3d& place) {
    nodes.push_back(place);
    return static_cast<int>(nodes.size()) - 1;
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
    const int count = element_count(run);

    MeshedRun mesh;
    UnitMatrices unit;
    const Eigen::Vector3d none = Eigen::Vector3d::Zero();
    int first = run.start.node;
    for (int element = 0; element < count; ++element) {
        const bool last = element + 1 == count;
        const auto node_at = [&](double elements) {
            return add_node(nodes, start + along * elements / count);
        };
        const int middle = run.mid_nodes ? node_at(element + 0.5) : kGround;
        const int second = last ? run.end.node : node_at(element + 1.0);
        if (element == 0 || run.taper) unit = unit_matrices(run, along.norm(), element, count);
        const Matrix18d motions =
            run_motions(axes, element == 0 ? run.start.arm : none, last ? run.end.arm : none);
        const auto placed = [&](const Matrix18d& local) {
            return ElementMatrix{.nodes = {first, second, middle},
                                 .matrix = motions.transpose() * local * motions};
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
    ElementMatrix element{.nodes = {joint.below.node, joint.above.node, kGround}};
    element.matrix.topLeftCorner<12, 12>() = relative.transpose() * relative;
    return element;
}

ElementMatrix lump_mass(const Lump& lump) {
    Matrix6d at_centre = Matrix6d::Zero();
    at_centre.topLeftCorner<3, 3>().diagonal().setConstant(lump.mass);
    at_centre.bottomRightCorner<3, 3>() = lump.inertia;
    const Matrix6d arm = rigid_arm(lump.at.arm);
    ElementMatrix element{.nodes = {lump.at.node, kGround, kGround}};
    element.matrix.topLeftCorner<6, 6>() = arm.transpose() * at_centre * arm;
    return element;
}

}  // namespace standfast
