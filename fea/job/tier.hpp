#pragma once

#include <Eigen/Core>
#include <optional>
#include <string>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/measured_mode.hpp"
#include "fea/job/shape.hpp"
#include "materials/material.hpp"

namespace standfast {

/// A rigid body instead of a beam.
struct RigidBody {
    double mass = 0;                                    ///< kg
    Eigen::Vector3d centre = Eigen::Vector3d::Zero();   ///< m, from the tier's foot, tier axes
    Eigen::Matrix3d inertia = Eigen::Matrix3d::Zero();  ///< kg m^2, tensor about the centre
};

/// Dead weight at a tier's side.
struct SideMass {
    std::string name;
    double mass = 0;                                 ///< kg
    Eigen::Vector3d at = Eigen::Vector3d::Zero();    ///< m, its centre, from the tier's foot
    Eigen::Vector3d size = Eigen::Vector3d::Zero();  ///< m; zero: a point
};

/// Where a tier stands if not on the top of the one before it.
/// Tier axes = host axes Rz(heading) Ry(lean) Rz(spin).
struct Placement {
    std::optional<std::size_t> host;  ///< index into Stack::tiers; none: the table
    /// m, from the host's foot, on its surface, host axes; none: middle of the host's top
    std::optional<Eigen::Vector3d> at;
    double lean = 0, heading = 0, spin = 0;  ///< rad
};

/// One member of the stack; x, y across, z from its foot up its own axis.
struct Tier {
    std::string name;
    Material material;
    SectionShape shape = RoundShape{};
    std::optional<SectionShape> top;  ///< same alternative as shape; sizes go linearly to it
    double height = 0;                ///< m, above the joint
    std::optional<RigidBody> lump;    ///< then shape and material do not count for stiffness
    Joint joint;                      ///< under it
    Placement placement;
    std::vector<SideMass> side;
};

/// A tailstock, jack or other prop on a tier.
struct Support {
    std::string name;
    std::size_t tier = 0;
    Eigen::Vector3d at = Eigen::Vector3d::Zero();  ///< m, from the tier's foot, tier axes
    /// Tier it is braced against; none: the table side's immovable base, which turns with the table
    std::optional<std::size_t> against;
    JointNumbers given;  ///< stack axes
    JointKind kind;      ///< catalogue row where given by kind
    SpringAdjustment adjusted{};
    bool measured = false;  ///< spread groups of its own, by its name
};

/// All that stands on the table. Stack axes: z up from the table, x and y the table's, origin on
/// the table under the lowest tier.
struct Stack {
    bool rigid = false;
    std::vector<Tier> tiers;  ///< from the table up; a host comes before what stands on it
    std::vector<Support> supports;
    std::vector<MeasuredMode> modes;          ///< not empty: used instead of the tiers
    std::optional<Eigen::Vector3d> modes_at;  ///< m, where they were measured, stack axes
};

}  // namespace standfast
