#pragma once

#include <vector>

#include "fea/job/job.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// The model of the tool side: spindle, taper, holder, grip, shank, neck, fluted part; axes of
/// the spindle (z from the tip to the spindle, origin at the tip).
/// Members: "spindle", "taper", "holder", "grip", "cutter".
struct ToolModel {
    StructureModel structure;
    int tip_node = 0;
    std::vector<Assumption> notes;
};

/// @throws std::domain_error where a length or diameter is not physical, or the stickout leaves
///         no shank in the grip
ToolModel tool_model(const Machine& machine, const ToolChain& tool);

}  // namespace standfast
