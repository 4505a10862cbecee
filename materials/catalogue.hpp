#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "materials/cutting_data.hpp"
#include "materials/joint_kind.hpp"
#include "materials/machine_kind.hpp"
#include "materials/material.hpp"

namespace standfast {

/// Typical holder of a grip kind, steel; used where a job names no holder.
struct HolderKind {
    std::string grip;  ///< name of the grip in the joint catalogue
    struct Step {
        double diameter = 0, diameter_to = 0, length = 0;  ///< m; from the gauge line down
    };
    /// At a 12 mm shank; around a thicker one diameters below the flange keep their wall.
    std::vector<Step> steps;
    Source source;
};

/// All named data. Rows keep the order of their tables.
struct Catalogue {
    std::vector<Material> materials;
    std::vector<CuttingData> cutting;
    std::vector<JointKind> joints;
    std::vector<MachineKind> machines;
    std::vector<SpindleKind> spindles;
    std::vector<HolderKind> holders;
};

/// Row by name or alias, or nullptr. Letter case, spaces, hyphens, commas, underscores and dots do
/// not matter, nor British or American spelling. Later rows win.
const Material* find_material(const Catalogue& catalogue, std::string_view name);
/// By its own name, or that of a material: then the material's default row.
const CuttingData* find_cutting(const Catalogue& catalogue, std::string_view name);
/// @param use  the side it must serve: a grip is not found among stack joints
const JointKind* find_joint(const Catalogue& catalogue, std::string_view name, JointUse use);
const MachineKind* find_machine(const Catalogue& catalogue, std::string_view name);
const SpindleKind* find_spindle(const Catalogue& catalogue, std::string_view taper);
const HolderKind* find_holder(const Catalogue& catalogue, std::string_view grip);

/// Names and aliases, for "did you mean".
std::vector<std::string> material_names(const Catalogue& catalogue);
std::vector<std::string> cutting_names(const Catalogue& catalogue);
std::vector<std::string> joint_names(const Catalogue& catalogue, JointUse use);
std::vector<std::string> machine_names(const Catalogue& catalogue);

}  // namespace standfast
