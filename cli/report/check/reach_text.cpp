#include "cli/report/check/reach_text.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

/// Up to the next 0.1 mm or 0.005 in: what is set on the bench must still clear.
std::string least_text(double metres, UnitSystem units) {
    const double step = units == UnitSystem::metric ? 0.1e-3 : 0.127e-3;
    return length_text(std::ceil(metres / step - 1e-6) * step, units);
}

std::string gap_text(double metres, UnitSystem units) {
    const double step = units == UnitSystem::metric ? 0.1e-3 : 0.127e-3;
    return metres < 1e-3 ? error_text(metres, units)
                         : length_text(std::floor(metres / step + 1e-6) * step, units);
}

/// The table is one; tiers and side masses have names.
std::string work_name(const std::string& solid) {
    return solid == "table" ? "the table" : fmt::format("\"{}\"", solid);
}

std::string degrees_text(double radians) {
    return trimmed(radians * 180 / std::numbers::pi, 1) + " deg";
}

std::string near_text(const ReachResult& reach, UnitSystem units) {
    const std::string work = work_name(reach.work_solid);
    if (reach.fault == ReachFault::hits) {
        return fmt::format("the {} hits {}", reach.tool_solid, work);
    }
    return fmt::format("the {} comes within {} of {}, {} is wanted", reach.tool_solid,
                       gap_text(reach.distance, units), work, length_text(reach.clearance, units));
}

std::string fault_text(const ReachResult& reach, UnitSystem units) {
    switch (reach.fault) {
        case ReachFault::tilt:
            return fmt::format("it needs {} of tilt, the machine has {}",
                               degrees_text(reach.needed), degrees_text(reach.available_to));
        case ReachFault::travel:
            return fmt::format(
                "the spindle's gauge line would stand {} over the table, the "
                "machine goes from {} to {}",
                least_text(reach.needed, units), length_text(reach.available_from, units),
                length_text(reach.available_to, units));
        case ReachFault::swing:
            return fmt::format("the stack swings {} across, the machine lets {}",
                               least_text(reach.needed, units),
                               length_text(reach.available_to, units));
        case ReachFault::tool_change:
            return fmt::format("stack and tool need {} to change tools, the machine has {}",
                               least_text(reach.needed, units),
                               length_text(reach.available_to, units));
        default:
            return near_text(reach, units);
    }
}

/// "; it clears from a stickout of 41.3 mm on, or with \"riser\" from 230 mm on"
std::string cure_text(const ReachResult& reach, UnitSystem units) {
    if (reach.fault == ReachFault::tilt || reach.fault == ReachFault::swing) {
        return "";
    }
    std::string text;
    if (reach.least_stickout) {
        text = fmt::format("a stickout of {}", least_text(*reach.least_stickout, units));
    }
    if (reach.least_riser_height) {
        text += text.empty() ? "" : ", or ";
        text += *reach.least_riser_height > 0
                    ? fmt::format("\"{}\" {} high", reach.riser,
                                  least_text(*reach.least_riser_height, units))
                    : fmt::format("\"{}\" left out", reach.riser);
    }
    if (text.empty()) {
        return reach.riser.empty()
                   ? "; no stickout of this tool clears"
                   : fmt::format("; no stickout of this tool and no height of \"{}\" clears",
                                 reach.riser);
    }
    return "; it clears with " + text;
}

std::string clear_text(const ReachResult& reach, UnitSystem units) {
    std::string text = fmt::format("clears; nearest the {}, {} from {}", reach.tool_solid,
                                   gap_text(reach.distance, units), work_name(reach.work_solid));
    if (reach.least_stickout) {
        text += fmt::format("; least stickout {}", least_text(*reach.least_stickout, units));
    }
    return text;
}

}  // namespace

std::string reach_text(const Job& job, const PassReport& report, UnitSystem units) {
    const ReachResult& reach = report.reach;
    const Pass& pass = job.passes.at(report.pass);
    const double flutes = job.tools.at(pass.tool).cutter.flute_length;
    std::string text;
    if (flutes > 0 && report.judged_depth > flutes * (1 + 1e-9)) {
        text = fmt::format("the cut is {} deep, the flutes are {} long: the shank would rub",
                           length_text(report.judged_depth, units), length_text(flutes, units));
        if (!reach.judged || reach.clear) {
            return text;
        }
        text += "; ";
    }
    if (!reach.judged) {
        return "not judged: " + reach.why_not;
    }
    if (!reach.rubs.empty()) {
        text += fmt::format(
            "the {} stands flush with the wall above the flutes and would rub: longer flutes or a "
            "thinner neck; {}",
            reach.rubs, reach.clear ? "otherwise " : "");
    }
    return text + (reach.clear ? clear_text(reach, units)
                               : fault_text(reach, units) + cure_text(reach, units));
}

}  // namespace standfast
