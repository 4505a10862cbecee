#pragma once

#include <vector>

#include "fea/job/limits.hpp"
#include "fea/job/tool_chain.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// A place on the cutter where bending may break it.
struct CutterSection {
    double height = 0;    ///< m from the tip, where the moment is taken: the section's upper end
    double diameter = 0;  ///< m that carries
    std::string where;
};

/// Places to look at, from the tip up: top of the flutes (on their equivalent diameter), upper end
/// of the neck, holder face; or the upper end of every segment of a cutter that is spelled out.
std::vector<CutterSection> cutter_sections(const Cutter& cutter);

/// Greatest bending stress of the cutter under a lateral force at the middle of the cut depth:
/// 32 F (z - depth/2) / (pi d^3), against a share of the material's strength (transverse rupture
/// strength of carbide). Left out: notch factors where diameters change or flutes run out, torque,
/// axial force, and the nick that a wear land is.
/// @param lateral_force  N, peak with wear
/// Not judged for rigid or measured tools and for materials without a strength.
/// Source: beam theory; a third of the rupture strength for repeated bending: common practice.
ToolStressResult judge_tool_stress(const ToolChain& tool, double lateral_force, double depth,
                                   const Limits& limits);

}  // namespace standfast
