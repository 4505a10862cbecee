#include "fea/structure/assembly.hpp"

#include <array>
#include <sstream>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/structure/check_model.hpp"
#include "fea/structure/element_parts.hpp"

namespace standfast {
namespace {

using Triplets = std::vector<Eigen::Triplet<double>>;

constexpr std::array<const char*, 6> kJointComponents{"lateral_x", "lateral_y", "vertical",
                                                      "tilting_x", "tilting_y", "twisting"};
/// Tilting about y goes with what moves along x.
constexpr std::array<int, 6> kSplitPower{1, -1, 0, -1, 1, 0};

/// A parameter whose shape is still a list of entries: the number of nodes is known only at the
/// end.
template <class Parameter>
struct Pending {
    Parameter parameter;
    Triplets entries;
};

void add_block(Triplets& entries, const ElementMatrix& element, int row_node, int column_node) {
    const int first_row = 6 * element.nodes[static_cast<std::size_t>(row_node)];
    const int first_column = 6 * element.nodes[static_cast<std::size_t>(column_node)];
    for (int column = 0; column < 6; ++column) {
        for (int row = 0; row < 6; ++row) {
            const double value = element.matrix(6 * row_node + row, 6 * column_node + column);
            if (value != 0) entries.emplace_back(first_row + row, first_column + column, value);
        }
    }
}

void add_element(Triplets& entries, const ElementMatrix& element) {
    const auto moves = [&](int node) {
        return element.nodes[static_cast<std::size_t>(node)] != kGround;
    };
    for (int column = 0; column < 3; ++column) {
        for (int row = 0; row < 3; ++row) {
            if (moves(row) && moves(column)) add_block(entries, element, row, column);
        }
    }
}

/// NAME, or NAME_2, NAME_3 ... where the list has it already.
template <class Parameter>
std::string unused_name(const std::vector<Pending<Parameter>>& list, const std::string& name) {
    std::string candidate = name;
    for (int number = 2;; ++number) {
        bool taken = false;
        for (const auto& pending : list) taken = taken || pending.parameter.name == candidate;
        if (!taken) return candidate;
        candidate = name + "_" + std::to_string(number);
    }
}

class Assembler {
public:
    explicit Assembler(const StructureModel& model) : model_(model) {
        system_.nodes = model.nodes;
        system_.members = model.members;
    }

    AssembledSystem assemble() {
        for (const BeamRun& run : model_.beams) add_run(run);
        for (const JointElement& joint : model_.joints) add_joint(joint);
        for (const Lump& lump : model_.lumps) add_lump(lump);
        system_.size = 6 * static_cast<Eigen::Index>(system_.nodes.size());
        for (auto& pending : stiffness_) system_.stiffness.push_back(finished(pending));
        for (auto& pending : mass_) system_.mass.push_back(finished(pending));
        return std::move(system_);
    }

private:
    const std::string& name_of(int member) const {
        return model_.members[static_cast<std::size_t>(member)].name;
    }

    void add_run(const BeamRun& run) {
        MeshedRun mesh;
        try {
            mesh = mesh_run(run, system_.nodes);
        } catch (const std::domain_error& error) {
            throw std::domain_error(name_of(run.member) + ": " + error.what());
        }
        Triplets& stiffness = modulus_entries(run);
        for (const ElementMatrix& element : mesh.stiffness) add_element(stiffness, element);
        Triplets& mass = density_entries(run);
        for (const ElementMatrix& element : mesh.mass) add_element(mass, element);
    }

    Triplets& modulus_entries(const BeamRun& run) {
        StiffnessParameter wanted;
        wanted.name = name_of(run.member) + ".youngs_modulus";
        wanted.member = run.member;
        wanted.value = run.material.youngs_modulus;
        wanted.loss_factor = run.material.loss_factor;
        wanted.stiffness_spread = run.modulus_spread;
        wanted.loss_spread = run.loss_spread;
        for (auto& [known, entries] : stiffness_) {
            if (known.name.starts_with(wanted.name) && known.member == wanted.member &&
                known.value == wanted.value && known.loss_factor == wanted.loss_factor &&
                known.stiffness_spread == wanted.stiffness_spread &&
                known.loss_spread == wanted.loss_spread) {
                return entries;
            }
        }
        return start(stiffness_, wanted);
    }

    Triplets& density_entries(const BeamRun& run) {
        MassParameter wanted;
        wanted.name = name_of(run.member) + ".density";
        wanted.member = run.member;
        wanted.value = run.material.density;
        for (auto& [known, entries] : mass_) {
            if (known.name.starts_with(wanted.name) && known.member == wanted.member &&
                known.value == wanted.value) {
                return entries;
            }
        }
        return start(mass_, wanted);
    }

    void add_joint(const JointElement& joint) {
        for (int component = 0; component < 6; ++component) {
            const double value =
                component < 3 ? joint.translation[component] : joint.rotation[component - 3];
            if (value == 0) continue;
            const std::string name = kJointComponents.at(static_cast<std::size_t>(component));
            Triplets& entries = start(
                stiffness_, StiffnessParameter{
                                .name = name_of(joint.member) + "." + name,
                                .member = joint.member,
                                .value = value,
                                .loss_factor = joint.loss_factor,
                                .stiffness_spread = joint.stiffness_spread,
                                .loss_spread = joint.loss_spread,
                                .split_spread = joint.split_spread,
                                .split_power = kSplitPower.at(static_cast<std::size_t>(component)),
                                .shape = {}});
            add_element(entries, joint_component(joint, component));
        }
    }

    void add_lump(const Lump& lump) {
        if (lump.at.node == kGround) return;
        Triplets& entries = start(mass_, MassParameter{.name = name_of(lump.member) + ".lump",
                                                       .member = lump.member,
                                                       .value = 1,
                                                       .spread = lump.spread,
                                                       .shape = {}});
        add_element(entries, lump_mass(lump));
    }

    template <class Parameter>
    Triplets& start(std::vector<Pending<Parameter>>& list, Parameter parameter) {
        parameter.name = unused_name(list, parameter.name);
        list.push_back({.parameter = std::move(parameter), .entries = {}});
        return list.back().entries;
    }

    template <class Parameter>
    Parameter finished(Pending<Parameter>& pending) const {
        pending.parameter.shape.resize(system_.size, system_.size);
        pending.parameter.shape.setFromTriplets(pending.entries.begin(), pending.entries.end());
        return std::move(pending.parameter);
    }

    const StructureModel& model_;
    AssembledSystem system_;
    std::vector<Pending<StiffnessParameter>> stiffness_;
    std::vector<Pending<MassParameter>> mass_;
};

template <class Parameter>
Eigen::SparseMatrix<double> weighted_sum(const std::vector<Parameter>& parameters,
                                         Eigen::Index size) {
    Triplets entries;
    for (const Parameter& parameter : parameters) {
        for (Eigen::Index column = 0; column < parameter.shape.outerSize(); ++column) {
            for (Eigen::SparseMatrix<double>::InnerIterator entry(parameter.shape, column); entry;
                 ++entry) {
                entries.emplace_back(static_cast<int>(entry.row()), static_cast<int>(column),
                                     parameter.value * entry.value());
            }
        }
    }
    Eigen::SparseMatrix<double> sum(size, size);
    sum.setFromTriplets(entries.begin(), entries.end());
    return sum;
}

}  // namespace

AssembledSystem assemble(const StructureModel& model) {
    require_sound(model);
    return Assembler(model).assemble();
}

Eigen::SparseMatrix<double> stiffness_matrix(const AssembledSystem& system) {
    return weighted_sum(system.stiffness, system.size);
}

Eigen::SparseMatrix<double> mass_matrix(const AssembledSystem& system) {
    return weighted_sum(system.mass, system.size);
}

Eigen::SparseMatrix<double, Eigen::RowMajor> point_displacement(const AssembledSystem& system,
                                                                const MaterialPoint& point) {
    Eigen::SparseMatrix<double, Eigen::RowMajor> displacement(3, system.size);
    if (point.node == kGround) return displacement;
    require_between(point.node, 0, static_cast<double>(system.nodes.size()) - 1,
                    "point_displacement", "node");
    const Matrix6d arm = rigid_arm(point.arm);
    Triplets entries;
    for (int row = 0; row < 3; ++row) {
        for (int column = 0; column < 6; ++column) {
            if (arm(row, column) != 0) {
                entries.emplace_back(row, 6 * point.node + column, arm(row, column));
            }
        }
    }
    displacement.setFromTriplets(entries.begin(), entries.end());
    return displacement;
}

Eigen::SparseMatrix<double, Eigen::RowMajor> point_displacements(
    const AssembledSystem& system, const std::vector<MaterialPoint>& points) {
    Triplets entries;
    for (std::size_t k = 0; k < points.size(); ++k) {
        const Eigen::SparseMatrix<double, Eigen::RowMajor> rows =
            point_displacement(system, points[k]);
        for (int row = 0; row < 3; ++row) {
            for (Eigen::SparseMatrix<double, Eigen::RowMajor>::InnerIterator it(rows, row); it;
                 ++it) {
                entries.emplace_back(3 * static_cast<int>(k) + row, static_cast<int>(it.col()),
                                     it.value());
            }
        }
    }
    Eigen::SparseMatrix<double, Eigen::RowMajor> all(3 * static_cast<Eigen::Index>(points.size()),
                                                     system.size);
    all.setFromTriplets(entries.begin(), entries.end());
    return all;
}

}  // namespace standfast
