#include "fea/judgement/solids/tool_solids.hpp"

#include <algorithm>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

/// A shank may begin where the wall ends: flutes of just the depth reach.
constexpr double kRunOut = 0.1e-3;  // m

struct Chain {
    std::vector<ToolSolid> solids;
    double height = 0;  ///< m above the tip, reached so far

    void add(ToolPart part, const std::string& name, double foot, double top, double length) {
        if (!(length > 1e-9)) return;
        require_positive(foot, name, "diameter");
        require_positive(top, name, "diameter");
        const double gap = part == ToolPart::body ? std::min(kRunOut, length) : 0;
        solids.push_back(
            {.part = part,
             .name = name,
             .shape = {.foot_diameter = foot, .top_diameter = top, .length = length - gap},
             .from = height + gap});
        height += length;
    }
};

/// Segments from the tip up, split where the flutes end.
void add_segments(Chain& chain, const Cutter& cutter, double stickout) {
    for (std::size_t i = cutter.segments.size(); i-- > 0;) {
        const CutterSegment& segment = cutter.segments[i];
        const double length = i == 0 ? stickout - chain.height : segment.length;
        require_not_negative(length, "cutter", "length of the uppermost segment at this stickout");
        const double fluted = std::clamp(cutter.flute_length - chain.height, 0.0, length);
        chain.add(ToolPart::flutes, "cutter", segment.diameter, segment.diameter, fluted);
        chain.add(ToolPart::body, "shank", segment.diameter, segment.diameter, length - fluted);
    }
}

void add_cutter(Chain& chain, const Cutter& cutter, double stickout) {
    const double flutes = std::min(cutter.flute_length, stickout);
    const double neck = std::min(cutter.neck_length, stickout - flutes);
    chain.add(ToolPart::flutes, "cutter", cutter.diameter, cutter.diameter, flutes);
    chain.add(ToolPart::body, "neck", cutter.neck_diameter, cutter.neck_diameter, neck);
    chain.add(ToolPart::body, "shank", cutter.shank_diameter, cutter.shank_diameter,
              stickout - flutes - neck);
}

}  // namespace

std::vector<ToolSolid> tool_solids(const Machine& machine, const ToolChain& tool, double stickout) {
    require_positive(stickout, tool.name, "stickout");
    Chain chain;
    if (tool.cutter.segments.empty()) {
        add_cutter(chain, tool.cutter, stickout);
    } else {
        add_segments(chain, tool.cutter, stickout);
    }
    for (std::size_t i = tool.holder.size(); i-- > 0;) {
        const HolderStep& step = tool.holder[i];
        const double foot = step.diameter_to > 0 ? step.diameter_to : step.diameter;
        chain.add(ToolPart::holder, "holder", foot, step.diameter, step.length);
    }
    const SpindleSide& spindle = machine.spindle;
    if (spindle.nose_diameter > 0) {
        chain.add(ToolPart::nose, "spindle nose", spindle.nose_diameter, spindle.nose_diameter,
                  spindle.nose_length);
    }
    return chain.solids;
}

}  // namespace standfast
