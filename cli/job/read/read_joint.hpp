#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "cli/job/read/table_reader.hpp"
#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"
#include "materials/catalogue.hpp"

namespace standfast {

/// The stiffness keys of a table: lateral, vertical (axial on the tool side), tilting, twisting,
/// loss.
JointNumbers read_joint_numbers(TableReader& table, bool tool_side);

/// A catalogue row by name for one side; an unknown name is reported with the nearest.
std::optional<JointKind> joint_kind(TableReader& table, std::string_view key, const Value& value,
                                    JointUse use);

/// What a joint is read for.
struct JointPurpose {
    JointUse use = JointUse::stack;
    std::string fallback;  ///< kind where the job names none
    std::string named;     ///< path in assumptions: tier."riser".joint
};

/// A taper or grip without its own keys, or the part of any joint that all share: "solid", a kind,
/// numbers. Asks the table for its keys; finishing it is the caller's.
struct SharedJoint {
    Joint joint;
    std::optional<TableReader> table;  ///< where the job gives a table
};
SharedJoint read_shared_joint(TableReader& parent, std::string_view key,
                              const JointPurpose& purpose);

/// The joint under a tier, with what holds it (screws, dovetail, jaws, preload).
/// @param foot  section of the tier at its foot: a dovetail is as long as the part unless said
Joint read_stack_joint(TableReader& tier, const SectionShape& foot, const std::string& named);

}  // namespace standfast
