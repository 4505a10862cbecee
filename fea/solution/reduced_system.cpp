#include "fea/solution/reduced_system.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>

#include "fea/solution/statics.hpp"

namespace standfast {
namespace {

// Modes whose change with the parameters is followed; higher ones matter through their static
// compliance, which is followed too.
constexpr std::size_t kFollowedModes = 8;

// Shapes that add less than this share of the largest one's amplitude are dropped.
constexpr double kLeastAmplitude = 2e-3;

bool varies(const Spread& spread) { return !spread.group.empty() && spread.factor > 1; }

void add_group(std::vector<Spread>& groups, const Spread& spread) {
    if (!varies(spread)) return;
    const bool known = std::any_of(groups.begin(), groups.end(), [&](const Spread& group) {
        return group.group == spread.group;
    });
    if (!known) groups.push_back(spread);
}

AssembledSystem with_stiffness_of(AssembledSystem system, const std::string& group, double factor) {
    for (StiffnessParameter& parameter : system.stiffness) {
        if (parameter.stiffness_spread.group == group) parameter.value *= factor;
        if (parameter.split_spread.group == group) {
            parameter.value *= std::pow(factor, parameter.split_power);
        }
    }
    return system;
}

/// Groups that move a stiffness: those of losses alone leave every shape as it is.
std::vector<Spread> stiffness_groups(const AssembledSystem& system) {
    std::vector<Spread> groups;
    for (const StiffnessParameter& parameter : system.stiffness) {
        add_group(groups, parameter.stiffness_spread);
        add_group(groups, parameter.split_spread);
    }
    return groups;
}

/// Shapes, n x k, scaled to unit energy where the system is nominal.
Eigen::MatrixXd answers(const AssembledSystem& system, const Eigen::MatrixXd& loads) {
    return StaticSolution(system).displacements(loads);
}

/// K-orthonormal shapes, also to `basis`, with which every column of `shapes` (of unit energy) is
/// represented but for kLeastAmplitude: the column with most left over is taken next, until none
/// has more.
Eigen::MatrixXd independent_part(const Eigen::SparseMatrix<double>& stiffness,
                                 const Eigen::MatrixXd& basis, Eigen::MatrixXd shapes) {
    const Eigen::MatrixXd stiff_basis = stiffness * basis;
    for (int pass = 0; pass < 2; ++pass) shapes -= basis * (stiff_basis.transpose() * shapes);
    Eigen::VectorXd left = shapes.cwiseProduct(stiffness * shapes).colwise().sum().transpose();
    Eigen::MatrixXd taken(shapes.rows(), std::min(shapes.rows(), shapes.cols()));
    Eigen::Index count = 0;
    for (; count < taken.cols(); ++count) {
        Eigen::Index next = 0;
        if (left.maxCoeff(&next) <= kLeastAmplitude * kLeastAmplitude) break;
        Eigen::VectorXd shape = shapes.col(next);
        // What rounding has left of the earlier ones, which matters once little else is left.
        const Eigen::VectorXd force = stiffness * shape;
        shape -= basis * (basis.transpose() * force);
        shape -= taken.leftCols(count) * (taken.leftCols(count).transpose() * force);
        const double energy = shape.dot(stiffness * shape);
        if (!(energy > 0)) break;
        shape /= std::sqrt(energy);
        taken.col(count) = shape;
        const Eigen::RowVectorXd share = (stiffness * shape).transpose() * shapes;
        shapes.noalias() -= shape * share;
        left -= share.cwiseAbs2().transpose();
        left[next] = 0;
    }
    return taken.leftCols(count);
}

void to_unit_energy(const Eigen::SparseMatrix<double>& stiffness, Eigen::MatrixXd& shapes) {
    for (Eigen::Index column = 0; column < shapes.cols(); ++column) {
        const double energy = shapes.col(column).dot(stiffness * shapes.col(column));
        if (energy > 0) shapes.col(column) /= std::sqrt(energy);
    }
}

/// What unit loads and the inertia of the followed modes call forth, n x k.
Eigen::MatrixXd followed_loads(const AssembledSystem& system, const std::vector<Mode>& modes,
                               const Eigen::MatrixXd& unit_loads) {
    const std::size_t followed = std::min(kFollowedModes, modes.size());
    const Eigen::Index units = unit_loads.cols();
    Eigen::MatrixXd loads(system.size, units + static_cast<Eigen::Index>(followed));
    loads.leftCols(units) = unit_loads;
    const Eigen::SparseMatrix<double> mass = mass_matrix(system);
    for (std::size_t mode = 0; mode < followed; ++mode) {
        loads.col(units + static_cast<Eigen::Index>(mode)) = mass * modes[mode].shape;
    }
    return loads;
}

/// Unit loads at the first of the points, and at the last.
Eigen::MatrixXd loads_at_ends(const Eigen::SparseMatrix<double, Eigen::RowMajor>& at) {
    if (at.rows() == 3) return Eigen::MatrixXd(at).transpose();
    Eigen::MatrixXd loads(at.cols(), 6);
    loads.leftCols(3) = Eigen::MatrixXd(at.topRows(3)).transpose();
    loads.rightCols(3) = Eigen::MatrixXd(at.bottomRows(3)).transpose();
    return loads;
}

/// Loads by which modes of more or less of each varying mass differ from the nominal ones, n x k.
Eigen::MatrixXd varying_inertia(const AssembledSystem& system, const std::vector<Mode>& modes) {
    const std::size_t followed = std::min(kFollowedModes, modes.size());
    std::vector<Eigen::VectorXd> loads;
    for (const MassParameter& parameter : system.mass) {
        if (!varies(parameter.spread)) continue;
        for (std::size_t mode = 0; mode < followed; ++mode) {
            loads.emplace_back(parameter.value * (parameter.shape * modes[mode].shape));
        }
    }
    Eigen::MatrixXd all(system.size, static_cast<Eigen::Index>(loads.size()));
    for (std::size_t load = 0; load < loads.size(); ++load) {
        all.col(static_cast<Eigen::Index>(load)) = loads[load];
    }
    return all;
}

/// Blocks side by side.
Eigen::MatrixXd joined(const std::vector<Eigen::MatrixXd>& blocks, Eigen::Index rows) {
    Eigen::Index columns = 0;
    for (const Eigen::MatrixXd& block : blocks) columns += block.cols();
    Eigen::MatrixXd all(rows, columns);
    Eigen::Index at = 0;
    for (const Eigen::MatrixXd& block : blocks) {
        all.middleCols(at, block.cols()) = block;
        at += block.cols();
    }
    return all;
}

Eigen::MatrixXd shapes_to_keep(const AssembledSystem& system, const std::vector<Mode>& modes,
                               const Eigen::MatrixXd& unit_loads) {
    const Eigen::SparseMatrix<double> stiffness = stiffness_matrix(system);
    Eigen::MatrixXd basis(system.size, static_cast<Eigen::Index>(modes.size()));
    for (std::size_t mode = 0; mode < modes.size(); ++mode) {
        basis.col(static_cast<Eigen::Index>(mode)) = modes[mode].shape;
    }
    to_unit_energy(stiffness, basis);
    const Eigen::MatrixXd loads = followed_loads(system, modes, unit_loads);
    std::vector<Eigen::MatrixXd> snapshots{answers(system, loads)};
    for (const Spread& group : stiffness_groups(system)) {
        for (const double factor : {1 / group.factor, group.factor}) {
            snapshots.push_back(answers(with_stiffness_of(system, group.group, factor), loads));
        }
    }
    const Eigen::MatrixXd inertia = varying_inertia(system, modes);
    if (inertia.cols() > 0) snapshots.push_back(answers(system, inertia));
    Eigen::MatrixXd all = joined(snapshots, system.size);
    to_unit_energy(stiffness, all);
    const Eigen::MatrixXd more = independent_part(stiffness, basis, std::move(all));
    Eigen::MatrixXd shapes(system.size, basis.cols() + more.cols());
    shapes << basis, more;
    return shapes;
}

ReducedSystem::Part& part_of(std::vector<ReducedSystem::Part>& parts,
                             const StiffnessParameter& parameter, Eigen::Index size) {
    const auto same = [&](const ReducedSystem::Part& part) {
        return part.stiffness_spread.group == parameter.stiffness_spread.group &&
               part.loss_spread.group == parameter.loss_spread.group &&
               part.split_spread.group == parameter.split_spread.group &&
               part.split_power == parameter.split_power;
    };
    const auto found = std::find_if(parts.begin(), parts.end(), same);
    if (found != parts.end()) return *found;
    parts.push_back({.stiffness_spread = parameter.stiffness_spread,
                     .loss_spread = parameter.loss_spread,
                     .split_spread = parameter.split_spread,
                     .split_power = parameter.split_power,
                     .stiffness = Eigen::MatrixXd::Zero(size, size),
                     .loss = Eigen::MatrixXd::Zero(size, size)});
    return parts.back();
}

Eigen::MatrixXd& mass_part_of(std::vector<ReducedSystem::MassPart>& parts, const Spread& spread,
                              Eigen::Index size) {
    const auto found = std::find_if(
        parts.begin(), parts.end(),
        [&](const ReducedSystem::MassPart& part) { return part.spread.group == spread.group; });
    if (found != parts.end()) return found->mass;
    parts.push_back({.spread = spread, .mass = Eigen::MatrixXd::Zero(size, size)});
    return parts.back().mass;
}

}  // namespace

std::vector<Spread> spread_groups(const AssembledSystem& system) {
    std::vector<Spread> groups;
    for (const StiffnessParameter& parameter : system.stiffness) {
        add_group(groups, parameter.stiffness_spread);
        add_group(groups, parameter.loss_spread);
        add_group(groups, parameter.split_spread);
    }
    for (const MassParameter& parameter : system.mass) add_group(groups, parameter.spread);
    return groups;
}

ReducedSystem reduced_system(const AssembledSystem& system, const std::vector<Mode>& modes,
                             const MaterialPoint& point) {
    return reduced_system(system, modes, {0.0}, point_displacement(system, point));
}

ReducedSystem reduced_system(const AssembledSystem& system, const std::vector<Mode>& modes,
                             const std::vector<double>& point,
                             const Eigen::SparseMatrix<double, Eigen::RowMajor>& at) {
    const Eigen::MatrixXd shapes = shapes_to_keep(system, modes, loads_at_ends(at));
    ReducedSystem reduced;
    reduced.kept_modes = static_cast<int>(modes.size());
    for (const MassParameter& parameter : system.mass) {
        mass_part_of(reduced.mass_parts, parameter.spread, shapes.cols()) +=
            parameter.value * (shapes.transpose() * (parameter.shape * shapes));
    }
    reduced.at_points = at * shapes;
    reduced.line = point;
    for (const StiffnessParameter& parameter : system.stiffness) {
        ReducedSystem::Part& part = part_of(reduced.parts, parameter, shapes.cols());
        const Eigen::MatrixXd stiffness =
            parameter.value * (shapes.transpose() * (parameter.shape * shapes));
        part.stiffness += stiffness;
        part.loss += parameter.loss_factor * stiffness;
    }
    return reduced;
}

LineReceptance line_of_draw(const ReducedSystem& system, const GroupFactor& factor) {
    const Eigen::Index size = system.at_points.cols();
    Eigen::MatrixXd stiffness = Eigen::MatrixXd::Zero(size, size);
    Eigen::MatrixXd loss = stiffness, mass = stiffness;
    for (const ReducedSystem::MassPart& part : system.mass_parts) {
        mass += factor(part.spread.group) * part.mass;
    }
    for (const ReducedSystem::Part& part : system.parts) {
        const double stiffness_factor = factor(part.stiffness_spread.group) *
                                        std::pow(factor(part.split_spread.group), part.split_power);
        stiffness += stiffness_factor * part.stiffness;
        loss += stiffness_factor * factor(part.loss_spread.group) * part.loss;
    }
    // M v = v / w^2 K v: the stiffness is safely positive definite, while shapes that carry almost
    // no mass make the mass matrix singular to rounding. Vectors come with v^T K v = 1.
    const Eigen::GeneralizedSelfAdjointEigenSolver<Eigen::MatrixXd> eigen(mass, stiffness);
    const Eigen::MatrixXd& vectors = eigen.eigenvectors();
    const Eigen::MatrixXd shapes = system.at_points * vectors;
    const auto points = static_cast<Eigen::Index>(system.line.size());
    LineReceptance line{.point = system.line,
                        .modes = {},
                        .residual = Eigen::MatrixXd::Zero(3 * points, 3 * points)};
    for (Eigen::Index mode = 0; mode < size; ++mode) {
        const Eigen::Index column = size - 1 - mode;
        const double inverse_square = eigen.eigenvalues()[column];
        if (mode >= system.kept_modes || !(inverse_square > 0)) {
            line.residual.noalias() += shapes.col(column) * shapes.col(column).transpose();
            continue;
        }
        const double lost = vectors.col(column).dot(loss * vectors.col(column));
        const Eigen::VectorXd shape = shapes.col(column) / std::sqrt(inverse_square);
        line.modes.push_back({AngularFrequency{1 / std::sqrt(inverse_square)}, lost / 2,
                              Eigen::Map<const Eigen::Matrix3Xd>(shape.data(), 3, points)
                                  .cast<std::complex<double>>()});
    }
    return line;
}

ModalReceptance receptance_of_draw(const ReducedSystem& system, const GroupFactor& factor) {
    return along_edge(line_of_draw(system, factor), {}, 0, 0, false);
}

}  // namespace standfast
