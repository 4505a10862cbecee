#pragma once

#include <vector>

#include "fea/job/job.hpp"
#include "fea/structure/model.hpp"

namespace standfast {

/// The model of the tool side: spindle, taper, holder, grip, shank, neck, fluted part; axes of
/// the spindle (z from the tip to the spindle, origin at the tip).
/// Members: "spindle", "taper", "holder", "grip", "cutter"; one that is rigid, solid or has no
/// length is left out.
///
/// Springs of the spindle stand at the gauge line, in series with the taper unless the spindle's
/// figures include it; the mass that moves with its nose stands between the two. The shank inside
/// the holder is part of the grip joint, which sits at the holder face. From the tip up: the fluted
/// part as a cylinder of flute_factor x diameter for stiffness and mass, then the neck, if any,
/// over its own length, then the shank; each ends at the holder face at the latest. Segments stand
/// as they are; a stickout other than their sum lengthens or shortens the uppermost. A nut's
/// inertia counts about all three axes.
struct ToolModel {
    StructureModel structure;
    int tip_node = 0;
    std::vector<int> edge_nodes;  ///< at the heights asked for; kGround where it is clamped
    std::vector<Assumption> notes;
};

/// One cylinder of the cutter.
struct CutterRun {
    double diameter = 0, length = 0;  ///< m
    Material material;
};
/// The cutter outside the holder, from the holder face to the tip.
/// @throws std::domain_error where a length or diameter is not physical
std::vector<CutterRun> cutter_runs(const Cutter& cutter);

/// @throws std::domain_error where a length or diameter is not physical, or the stickout leaves
///         no shank in the grip
/// Source of the flute factor: L. Kops and D. T. Vo, CIRP Annals 39/1 (1990) 93-96: the fluted
///         part bends like a cylinder of about 0.80 of the diameter.
ToolModel tool_model(const Machine& machine, const ToolChain& tool);

/// As above with a node at each of these heights (m above the tip, ascending, 0 to the stickout),
/// where cuts are to be judged.
ToolModel tool_model(const Machine& machine, const ToolChain& tool,
                     const std::vector<double>& heights);

}  // namespace standfast
