#pragma once

#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/solids/solid.hpp"

namespace standfast {

/// What a step of the tool side may come near to.
enum class ToolPart {
    flutes,  ///< may touch the piece that it cuts
    body,    ///< neck and shank: stand along the finished wall
    holder,
    nose
};

/// A step of the tool side, a solid of revolution about the tool's axis.
struct ToolSolid {
    ToolPart part = ToolPart::flutes;
    std::string name;  ///< "cutter", "neck", "shank", "holder", "spindle nose"
    RoundSolid shape;
    double from = 0;  ///< m, its lower end above the tip
};

/// The tool side from the tip up: flutes, neck, shank, holder steps, spindle nose. The flutes end
/// at the holder face at the latest, then the neck. A cutter spelled out by segments is fluted over
/// its flute length, and its uppermost segment takes up the rest of the stickout. A ball or corner
/// nose counts as a square one; neck and shank begin 0.1 mm above what is below them. The nose is
/// left out where its size is unknown.
/// @param stickout  m, holder face to tip, instead of the tool's own
/// @throws std::domain_error where the stickout or a size is not physical
std::vector<ToolSolid> tool_solids(const Machine& machine, const ToolChain& tool, double stickout);

}  // namespace standfast
