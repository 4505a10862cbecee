#pragma once

#include <Eigen/Core>
#include <functional>
#include <string>
#include <vector>

#include "fea/structure/section.hpp"
#include "materials/material.hpp"

namespace standfast {

// Room "structure": what stands there, as plain data (this header), and the matrices that follow
// from it (assembly.hpp). Model axes are right-handed; the stack's are z up from the table, the
// tool's are z from the tip to the spindle.

constexpr int kGround = -1;

/// Where an element holds on to the structure: a node, and a rigid arm from it (model axes, m).
/// node = kGround: the immovable ground; a beam that starts or ends there starts at `arm` itself.
struct Attachment {
    int node = kGround;
    Eigen::Vector3d arm = Eigen::Vector3d::Zero();
};

/// What a member is, for words and for the choice of cures.
enum class MemberKind {
    table,
    tier,
    tier_joint,
    seat,  ///< local give of the bodies beside a joint, in series with it
    support,
    spindle,
    taper,
    holder,
    grip,
    cutter
};

/// A named part of the structure; energy and give are reported per member.
struct Member {
    std::string name;
    MemberKind kind = MemberKind::tier;
};

/// How far a parameter may be from its nominal value: a lognormal factor about the nominal as
/// median. Parameters of one group are drawn together, with one and the same factor exponent.
struct Spread {
    std::string group;  ///< "joint stiffness: dovetail"; empty: certain
    double factor = 1;  ///< 10-90 % factor: 90 % quantile / median, >= 1
    bool operator==(const Spread&) const = default;
};

/// Section at a fraction of a run, 0 at its start to 1 at its end. A function, because end sections
/// alone do not say how a shape gets from one to the other: for a tube, of linear diameters, it is
///     [=](double s) { return round_tube(D0 + s * (D1 - D0), d0 + s * (d1 - d0), nu); }
using SectionAlong = std::function<Section(double)>;

/// A straight run of uniform or tapered section between two attachments.
/// Elements are made by assembly; a taper gets as many as convergence asks for.
struct BeamRun {
    int member = 0;
    Attachment start, end;
    Section section;     ///< uniform; not looked at where `taper` is set
    SectionAlong taper;  ///< empty: uniform
    Material material;
    /// Direction of the section's y axis (model axes); made normal to the run.
    Eigen::Vector3d section_y = Eigen::Vector3d::UnitX();
    int least_elements = 4;
    /// Each element with a node in its middle: three nodes where two-node elements need six and
    /// more for the same error (tapered_beam.hpp). Then least_elements is the number also of a
    /// taper; choose_elements (element_counts.hpp) sets both.
    bool mid_nodes = false;
    bool rotary_inertia = true;  ///< false only to compare with Euler-Bernoulli closed forms
    Spread modulus_spread, loss_spread;
};

/// Six springs along and about a joint's own axes, between two attachments whose points
/// coincide. Columns of axes are the joint's x, y, z in model axes.
struct JointElement {
    int member = 0;
    Attachment below, above;
    Eigen::Matrix3d axes = Eigen::Matrix3d::Identity();
    Eigen::Vector3d translation = Eigen::Vector3d::Zero();  ///< N/m along joint x, y, z
    Eigen::Vector3d rotation = Eigen::Vector3d::Zero();     ///< N m/rad about joint x, y, z
    double loss_factor = 0;
    Spread stiffness_spread, loss_spread;
    /// How far what moves along x may be from what moves along y: the factor is the root of the
    /// ratio of their stiffnesses, which is that of two frequencies. Lateral x and tilting y are
    /// multiplied by it, lateral y and tilting x divided.
    Spread split_spread;
};

/// A rigid body fixed to a node by a rigid arm.
struct Lump {
    int member = 0;
    Attachment at;                                      ///< arm leads to the centre of mass
    double mass = 0;                                    ///< kg
    Eigen::Matrix3d inertia = Eigen::Matrix3d::Zero();  ///< kg m^2 about the centre, model axes
    Spread spread;                                      ///< of mass and inertia together
};

struct StructureModel {
    std::vector<Eigen::Vector3d> nodes;  ///< m; each node has six degrees of freedom
    std::vector<Member> members;
    std::vector<BeamRun> beams;
    std::vector<JointElement> joints;
    std::vector<Lump> lumps;
};

/// A point that moves with a node: displacement u_node + r_node x arm.
using MaterialPoint = Attachment;

}  // namespace standfast
