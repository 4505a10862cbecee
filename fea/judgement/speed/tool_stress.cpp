#include "fea/judgement/speed/tool_stress.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

std::vector<CutterSection> sections_of_segments(const Cutter& cutter) {
    std::vector<CutterSection> sections;
    double height = 0;
    for (std::size_t i = cutter.segments.size(); i-- > 0;) {
        const CutterSegment& segment = cutter.segments[i];
        height += segment.length;
        sections.push_back({height, segment.diameter,
                            i == 0 ? "holder face" : "segment " + std::to_string(i + 1)});
    }
    return sections;
}

}  // namespace

std::vector<CutterSection> cutter_sections(const Cutter& cutter) {
    if (!cutter.segments.empty()) return sections_of_segments(cutter);
    std::vector<CutterSection> sections;
    const double fluted = cutter.flute_factor * cutter.diameter;
    if (cutter.flute_length >= cutter.stickout) return {{cutter.stickout, fluted, "holder face"}};
    sections.push_back({cutter.flute_length, fluted, "top of the flutes"});
    const double neck_end = cutter.flute_length + cutter.neck_length;
    if (cutter.neck_length > 0 && cutter.neck_diameter > 0) {
        sections.push_back({std::min(neck_end, cutter.stickout), cutter.neck_diameter, "neck"});
    }
    const double shank = cutter.shank_diameter > 0 ? cutter.shank_diameter : cutter.diameter;
    sections.push_back({cutter.stickout, shank, "holder face"});
    return sections;
}

ToolStressResult judge_tool_stress(const ToolChain& tool, double lateral_force, double depth,
                                   const Limits& limits) {
    ToolStressResult result;
    if (tool.rigid || !tool.modes.empty()) {
        result.why_not = "the cutter's shape is not known";
        return result;
    }
    if (!tool.cutter.material.strength) {
        result.why_not = "no strength known of " + tool.cutter.material.name;
        return result;
    }
    require_not_negative(lateral_force, "judge_tool_stress", "lateral force");
    result.judged = true;
    result.allowed = *tool.cutter.material.strength * limits.tool_stress_allowed_share;
    for (const CutterSection& section : cutter_sections(tool.cutter)) {
        require_positive(section.diameter, "judge_tool_stress", section.where + " diameter");
        const double lever = std::max(section.height - depth / 2, 0.0);
        const double modulus = std::numbers::pi * std::pow(section.diameter, 3) / 32;
        const double stress = lateral_force * lever / modulus;
        if (stress < result.stress && !result.where.empty()) continue;
        result.stress = stress;
        result.at_height = section.height;
        result.where = section.where;
    }
    return result;
}

}  // namespace standfast
