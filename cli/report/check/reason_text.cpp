#include "cli/report/check/reason_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/report/check/reach_text.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "fea/judgement/answer/levels.hpp"

namespace standfast {
namespace {

constexpr double kOneInTen = 0.1;
constexpr double kLightCut = 10;  // times the peak force that the hold takes

/// What to count on first, then what was computed for the stack as described.
std::string tried_chatter_clause(const PassReport& pass, UnitSystem units) {
    const ChatterOdds& odds = *pass.odds;
    const auto depth = [&](double metres) {
        return depth_text_beside(metres, pass.judged_depth, units);
    };
    const double searched = pass.stability.searched_to;
    std::string text =
        fmt::format("nine in ten tries hold {} at {}; the pass takes {}",
                    depth(held_depth(pass).value_or(searched)), speed_text(pass.judged_speed),
                    length_text(pass.judged_depth, units));
    text += pass.at_programmed.limit
                ? fmt::format("; computed edge of chatter {}", depth(*pass.at_programmed.limit))
                : fmt::format("; no edge computed down to {}", depth(searched));
    const std::string share =
        fmt::format("; {} of the tries chatter", percent_text(odds.at_judged));
    if (!is_flagged(pass, Reason::chatter)) {
        // Fewer than are flagged may still be more than one in ten.
        return odds.at_judged < kOneInTen ? text : text + share;
    }
    if (pass.at_programmed.chatter_hertz) {
        text +=
            fmt::format("; it would sing at {}", frequency_text(*pass.at_programmed.chatter_hertz));
    }
    return text + share;
}

std::string chatter_clause(const PassReport& pass, UnitSystem units) {
    const std::string speed = speed_text(pass.judged_speed);
    const std::string taken = length_text(pass.judged_depth, units);
    if (pass.odds) {
        return tried_chatter_clause(pass, units);
    }
    if (!pass.at_programmed.limit) {
        return fmt::format("no edge of chatter down to {} at {}; the pass takes {}",
                           depth_text(pass.stability.searched_to, units), speed, taken);
    }
    const double limit = *pass.at_programmed.limit;
    std::string text = fmt::format("edge of chatter at {} is {} deep; the pass takes {}", speed,
                                   depth_text_beside(limit, pass.judged_depth, units), taken);
    if (pass.at_programmed.chatter_hertz && is_flagged(pass, Reason::chatter)) {
        text +=
            fmt::format("; it would sing at {}", frequency_text(*pass.at_programmed.chatter_hertz));
    }
    return text;
}

/// What push-off leaves of itself once it has thinned the cut, where a shop would see the
/// difference.
std::string fed_back_text(const PassReport& report, UnitSystem units) {
    constexpr double kVisible = 1e-6, kVisibleShare = 0.1;
    if (!report.fed_back_at_programmed) {
        return "";
    }
    const double error = *report.error_at_programmed, fed_back = *report.fed_back_at_programmed;
    const double visible = std::max(kVisible, kVisibleShare * std::abs(error));
    return std::abs(fed_back - error) < visible
               ? ""
               : fmt::format(" ({} once that has changed the cut)", wall_text(fed_back, units));
}

/// ": top 0.012 mm, middle 0.008 mm, foot 0.004 mm stock left"; empty where a shop would see no
/// difference along the height. @param profile  m, at the tip, in the middle, at the top
std::string along_the_wall(const std::array<double, 3>& profile, UnitSystem units) {
    constexpr double kVisible = 1e-6, kVisibleShare = 0.1;
    const auto [low, high] = std::minmax_element(profile.begin(), profile.end());
    const double largest = std::max(std::abs(*low), std::abs(*high));
    if (*high - *low < std::max(kVisible, kVisibleShare * largest)) {
        return "";
    }
    // One word for the sense where it is the same from top to foot.
    const bool one_sense = *low * *high >= 0;
    const auto told = [&](double error) {
        return one_sense ? error_text(error, units) : wall_text(error, units);
    };
    return fmt::format(" (top {}, middle {}, foot {})", told(profile[2]), told(profile[1]),
                       told(profile[0]));
}

/// The wall's error at tip, middle and top at the judged speed.
std::optional<std::array<double, 3>> profile_at_judged(const PassReport& report) {
    for (std::size_t i = 0; i < report.surface.speed.size(); ++i) {
        const std::vector<double>& profile = report.surface.profile[i];
        if (report.surface.speed[i] == report.judged_speed && profile.size() >= 3) {
            return std::array{profile.front(), profile[profile.size() / 2], profile.back()};
        }
    }
    return std::nullopt;
}

/// "; the wall's top gives 8 times what its foot does"; empty where the part hardly differs along
/// the height, or hardly gives beside the tool.
std::string softness_text(const PassReport& report) {
    constexpr double kTold = 1.5, kPartsShare = 0.15;
    const StaticResult& statics = report.statics;
    double part = 0;
    for (const GiveShare& give : statics.give) part += give.tool_side ? 0 : give.share;
    if (!(statics.work_at_tip > 0) || part < kPartsShare) {
        return "";
    }
    const double ratio = statics.work_at_top / statics.work_at_tip;
    std::string text = ratio >= kTold
                           ? fmt::format("; the wall's top gives {} times what its foot does",
                                         three_digits(std::round(10 * ratio) / 10))
                           : "";
    if (report.edge.place) {
        const double place = *report.edge.place;
        text += fmt::format("; judged {} of the path, where the part is softest",
                            place < 0.01   ? "at the start"
                            : place > 0.99 ? "at the far end"
                                           : fmt::format("{:.0f} % along", 100 * place));
    }
    return text;
}

/// "; 62 % of the tries miss it"; empty where the wall was not tried.
std::string wall_missed(const Job& job, const PassReport& report) {
    if (!report.wall) {
        return "";
    }
    const double share = share_outside(*report.wall, job.passes.at(report.pass), job.limits);
    return share > 0 ? fmt::format("; {} of the steady tries miss it", percent_text(share)) : "";
}

std::string surface_clause(const Job& job, const PassReport& report, UnitSystem units) {
    const Pass& pass = job.passes.at(report.pass);
    if (!report.error_at_programmed && report.wall && allowed_error(pass)) {
        return fmt::format("nine in ten steady tries: {} or less; {} either way is allowed{}",
                           wall_of_tries_text(*report.wall, units),
                           error_text(*allowed_error(pass), units), wall_missed(job, report));
    }
    if (!report.error_at_programmed) {
        return "not to be told of a cut that chatters";
    }
    const double error = *report.error_at_programmed;
    std::string text = report.wall ? fmt::format("nine in ten tries: {} or less; computed ",
                                                 wall_of_tries_text(*report.wall, units))
                                   : "";
    text += wall_text(error, units);
    if (const auto profile = profile_at_judged(report)) {
        text += along_the_wall(*profile, units);
    }
    text += fed_back_text(report, units) + softness_text(report);
    if (pass.leave) {
        text += fmt::format(" beside the {} to leave", length_text(*pass.leave, units));
    }
    if (pass.tolerance) {
        return text + fmt::format("; {} either way is allowed{}",
                                  error_text(*pass.tolerance / 2, units), wall_missed(job, report));
    }
    return text + "; no tolerance given, so judged as plain deflection";
}

/// ", 69 % the tool's"; empty where neither side gives.
std::string tool_share(const StaticResult& statics) {
    double tool = 0;
    for (const GiveShare& give : statics.give) {
        tool += give.tool_side ? give.share : 0;
    }
    return statics.give.empty() ? "" : fmt::format(", {} the tool's", percent_text(tool));
}

std::string deflection_clause(const PassReport& pass, UnitSystem units) {
    const bool flagged = is_flagged(pass, Reason::deflection);
    const std::string slow =
        fmt::format("turning slowly: {}{}{}{}", wall_text(pass.statics.error, units),
                    flagged ? along_the_wall(pass.statics.profile, units) : "",
                    tool_share(pass.statics), softness_text(pass));
    if (pass.error_at_programmed && flagged) {
        return fmt::format("{} at {}; {}", wall_text(*pass.error_at_programmed, units),
                           speed_text(pass.judged_speed), slow);
    }
    return slow;
}

std::string resonance_clause(const PassReport& pass, UnitSystem units) {
    if (!pass.vibration_at_programmed) {
        return "not to be told of a cut that chatters";
    }
    std::string text = fmt::format("vibrates {} square to the wall",
                                   error_text(*pass.vibration_at_programmed, units));
    if (pass.low_speed_vibration > 0) {
        text += fmt::format(", {} times that of a slow cut",
                            trimmed(*pass.vibration_at_programmed / pass.low_speed_vibration, 1));
    }
    return text;
}

std::string holding_clause(const PassReport& pass) {
    const HoldingResult& holding = pass.holding;
    const auto by_name = std::find_if(
        holding.joints.begin(), holding.joints.end(),
        [&](const JointHolding& joint) { return joint.judged && joint.joint == holding.joint; });
    const bool some = by_name != holding.joints.end();
    std::string text;
    if (holding.factor >= kHoldingCap && (holding.judged || some)) {
        text = fmt::format("nothing lets go below {:.0f} times the peak force", kHoldingCap);
    } else if (holding.judged || some) {
        // A large factor belongs to a small force, and is no leave to push harder.
        text = fmt::format("{} {} first, at {:.1f} times the peak force{}", holding.joint,
                           holding_mode_words(holding.mode), holding.factor,
                           holding.factor > kLightCut ? " of this light cut" : "");
        if (holding.less_careful > holding.factor) {
            text +=
                fmt::format(" ({:.1f} with a sharp edge and usual friction)", holding.less_careful);
        }
    }
    if (!holding.judged) {
        text += text.empty() ? "not judged" : "; the rest not judged";
        text += holding.why_not.empty() ? "" : ": " + holding.why_not;
    }
    return text;
}

std::string stress_clause(const PassReport& pass, UnitSystem units) {
    const ToolStressResult& stress = pass.tool_stress;
    if (!stress.judged) {
        return stress.why_not.empty() ? "not judged" : "not judged: " + stress.why_not;
    }
    return fmt::format("bent{} to {} of {}", stress.where.empty() ? "" : " at the " + stress.where,
                       stress_text(stress.stress, units), stress_text(stress.allowed, units));
}

std::string overspeed_clause(const Job& job, const PassReport& report) {
    const Pass& pass = job.passes.at(report.pass);
    std::string text = fmt::format("{} is above", speed_text(report.judged_speed));
    if (pass.tool < job.tools.size() && job.tools[pass.tool].speed_max &&
        report.judged_speed > *job.tools[pass.tool].speed_max) {
        return text +
               fmt::format(" the {} of the tool", speed_text(*job.tools[pass.tool].speed_max));
    }
    if (report.judged_speed > job.machine.fastest) {
        return text + fmt::format(" the machine's {}", speed_text(job.machine.fastest));
    }
    return text + " what the tool or its taper is made for";
}

std::string cutting_speed_clause(const Pass& pass, const PassReport& report, UnitSystem units) {
    std::string text = cutting_speed_text(report.cutting_speed, units);
    if (pass.cutting.cutting_speed) {
        const auto& window = *pass.cutting.cutting_speed;
        text += fmt::format(", outside {} to {} for {}", cutting_speed_text(window[0], units),
                            cutting_speed_text(window[1], units), pass.cutting.name);
    }
    return text;
}

/// Power above the speed at which the spindle's torque makes its power, torque below.
std::string power_clause(const PassReport& pass, UnitSystem units) {
    const SpindlePower& power = pass.power;
    const double given = power.available_power.value_or(0);
    return fmt::format("asks {} and {} at the cutter, sharp; the spindle gives {} and {} there",
                       power_text(power.power, units), moment_text(power.torque, units),
                       power_text(given, units),
                       moment_text(power.available_torque.value_or(0), units));
}

std::string weight_clause(const PassReport& pass, UnitSystem units) {
    const WeightResult& weight = pass.weight;
    std::string text = mass_text(weight.mass, units) + " on the table";
    if (weight.allowed) {
        text += fmt::format(" of {} carried", mass_text(*weight.allowed, units));
    }
    if (weight.tilt_moment_allowed) {
        text += fmt::format("; tilt moment {} of {}", moment_text(weight.tilt_moment, units),
                            moment_text(*weight.tilt_moment_allowed, units));
    }
    return text;
}

}  // namespace

std::string wall_of_tries_text(const WallTries& wall, UnitSystem units) {
    return wall.either_way() ? error_text(std::abs(wall.stays_under()), units) + " either way"
                             : wall_text(wall.stays_under(), units);
}

std::optional<double> held_depth(const PassReport& pass) {
    if (!pass.odds || !pass.odds->limit) {
        return std::nullopt;
    }
    const double held = pass.odds->limit->low;
    return pass.odds->at_judged < kOneInTen ? std::max(held, pass.judged_depth)
                                            : std::min(held, pass.judged_depth);
}

bool is_flagged(const PassReport& pass, Reason reason) {
    const auto& reasons = pass.verdict.reasons;
    return std::find(reasons.begin(), reasons.end(), reason) != reasons.end();
}

std::string reasons_text(const PassReport& pass) {
    std::string text;
    for (const Reason reason : pass.verdict.reasons) {
        text += fmt::format("{}{}", text.empty() ? "" : ", ", reason_name(reason));
    }
    return text;
}

std::string reason_text(const Job& job, const PassReport& report, Reason reason, UnitSystem units) {
    const Pass& pass = job.passes.at(report.pass);
    switch (reason) {
        case Reason::chatter:
            return chatter_clause(report, units);
        case Reason::resonance:
            return resonance_clause(report, units);
        case Reason::deflection:
            return deflection_clause(report, units);
        case Reason::surface_error:
            return surface_clause(job, report, units);
        case Reason::holding:
            return holding_clause(report);
        case Reason::reach:
            return reach_text(job, report, units);
        case Reason::tool_stress:
            return stress_clause(report, units);
        case Reason::whirl:
            return fmt::format("turns at {} of the tool's own first frequency",
                               percent_text(report.whirl_ratio));
        case Reason::overspeed:
            return overspeed_clause(job, report);
        case Reason::cutting_speed:
            return cutting_speed_clause(pass, report, units);
        case Reason::power:
            return power_clause(report, units);
        case Reason::weight:
            break;
    }
    return weight_clause(report, units);
}

}  // namespace standfast
