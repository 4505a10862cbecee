#pragma once

#include <gtest/gtest.h>

#include <Eigen/Core>
#include <string>
#include <utility>
#include <vector>

#include "fea/solution/modes.hpp"
#include "fea/structure/model.hpp"

// Straight beams along z as models, and their modes by kind of motion.
namespace standfast::test {

struct TestBeam {
    Section section;  ///< y of the section along model x, z of it along model y
    Material material;
    double length = 1;
    int elements = 20;
    bool rotary_inertia = true;
    SectionAlong taper = {};
};

inline Material isotropic(double youngs_modulus, double poissons_ratio, double density,
                          double loss_factor = 0) {
    Material material;
    material.youngs_modulus = youngs_modulus;
    material.poissons_ratio = poissons_ratio;
    material.density = density;
    material.loss_factor = loss_factor;
    return material;
}

/// The same section without shear deformation, as Euler-Bernoulli closed forms have it.
inline Section without_shear(Section section) {
    section.shear_coefficient_y = 1e9;
    section.shear_coefficient_z = 1e9;
    return section;
}

/// Adds a beam between two attachments as one member.
inline void add_beam(StructureModel& model, const std::string& name, const TestBeam& beam,
                     const Attachment& start, const Attachment& end,
                     const Eigen::Vector3d& section_y = Eigen::Vector3d::UnitX()) {
    model.members.push_back({.name = name, .kind = MemberKind::tier});
    BeamRun run;
    run.member = static_cast<int>(model.members.size()) - 1;
    run.start = start;
    run.end = end;
    run.section = beam.section;
    run.taper = beam.taper;
    run.material = beam.material;
    run.section_y = section_y;
    run.least_elements = beam.elements;
    run.rotary_inertia = beam.rotary_inertia;
    model.beams.push_back(run);
}

/// Six springs from the ground (or another node) to a node, as one member.
inline void add_springs(StructureModel& model, const std::string& name, int node,
                        const Eigen::Vector3d& translation, const Eigen::Vector3d& rotation,
                        int below = kGround, double loss_factor = 0) {
    model.members.push_back({.name = name, .kind = MemberKind::tier_joint});
    JointElement joint;
    joint.member = static_cast<int>(model.members.size()) - 1;
    joint.below.node = below;
    joint.above.node = node;
    joint.translation = translation;
    joint.rotation = rotation;
    joint.loss_factor = loss_factor;
    model.joints.push_back(joint);
}

inline void add_lump(StructureModel& model, const std::string& name, int node, double mass,
                     const Eigen::Vector3d& inertia = Eigen::Vector3d::Zero(),
                     const Eigen::Vector3d& arm = Eigen::Vector3d::Zero()) {
    model.members.push_back({.name = name, .kind = MemberKind::tier});
    Lump lump;
    lump.member = static_cast<int>(model.members.size()) - 1;
    lump.at = {.node = node, .arm = arm};
    lump.mass = mass;
    lump.inertia = inertia.asDiagonal();
    model.lumps.push_back(lump);
}

/// From the ground at z = 0 to node 0 at z = length.
inline StructureModel cantilever(const TestBeam& beam) {
    StructureModel model;
    model.nodes = {{0, 0, beam.length}};
    add_beam(model, "beam", beam, {}, {.node = 0});
    return model;
}

/// Node 0 at z = 0, node 1 at z = length, held nowhere.
inline StructureModel free_beam(const TestBeam& beam) {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, beam.length}};
    add_beam(model, "beam", beam, {.node = 0}, {.node = 1});
    return model;
}

/// Share of the six directions of motion in a mode: sums of squares over the nodes, rotations
/// weighted with the square of `length`.
inline Eigen::Matrix<double, 6, 1> motion_shares(const Mode& mode, double length) {
    Eigen::Matrix<double, 6, 1> shares = Eigen::Matrix<double, 6, 1>::Zero();
    for (Eigen::Index i = 0; i < mode.shape.size(); ++i) {
        const double weight = i % 6 < 3 ? 1 : length * length;
        shares[i % 6] += weight * mode.shape[i] * mode.shape[i];
    }
    return shares / shares.sum();
}

/// Frequencies (Hz) of the modes that move in the given directions (0..5) for at least 0.9.
inline std::vector<double> frequencies_along(const std::vector<Mode>& modes,
                                             const std::vector<int>& directions,
                                             double length = 0.1) {
    std::vector<double> result;
    for (const Mode& mode : modes) {
        const auto shares = motion_shares(mode, length);
        double share = 0;
        for (const int direction : directions) share += shares[direction];
        if (share > 0.9) result.push_back(mode.frequency.hertz());
    }
    return result;
}

/// Where both planes are alike, modes come in pairs: one frequency (Hz) of each.
inline std::vector<double> bending_pairs(const std::vector<Mode>& modes, double length = 0.03) {
    const std::vector<double> both = frequencies_along(modes, {0, 1, 3, 4}, length);
    std::vector<double> result;
    for (std::size_t i = 1; i < both.size(); i += 2) {
        EXPECT_NEAR(both[i - 1], both[i], 1e-6 * both[i]) << "pair " << i / 2 + 1;
        result.push_back(both[i]);
    }
    return result;
}

inline const std::vector<int> kBendingX{0, 4};  ///< in the x-z plane: ux, ry
inline const std::vector<int> kBendingY{1, 3};
inline const std::vector<int> kAxial{2};
inline const std::vector<int> kTorsion{5};

}  // namespace standfast::test
