#include "cli/report/check/advice_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "cli/report/common/edit_lines.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

/// A size that was computed, not programmed: as it can be set on the bench. The exact value
/// stands in the JSON.
std::string size_text(double metres, UnitSystem units) {
    return units == UnitSystem::metric ? trimmed(metres * 1000, 1) + " mm"
                                       : trimmed(metres / 0.0254, 2) + " in";
}

/// The same where it is not so small that a bench's digits would round it away.
std::string size_to_set(double metres, UnitSystem units) {
    return metres > 2e-3 ? size_text(metres, units)
                         : quantity_text(metres, Quantity::length, units);
}

/// "round 120 mm" or "block 80 mm x 70 mm": the sizes that an advice sets.
std::string list_of_sizes(const Job& job, const Advice& advice, UnitSystem units) {
    std::string text;
    std::string last_key;
    for (const EditLine& line : edit_lines(job, advice.set)) {
        if (line.value.size() != 1) continue;
        const std::string key = key_of(line);
        text += key == last_key ? " x " : fmt::format("{}{} ", text.empty() ? "" : ", ", key);
        text += size_to_set(line.value.front(), units);
        last_key = key;
    }
    return text;
}

bool moves_what_is_beside(const Job& job, const Advice& advice) {
    const std::vector<EditLine> lines = edit_lines(job, advice.set);
    return std::any_of(lines.begin(), lines.end(),
                       [](const EditLine& line) { return line.value.size() > 1; });
}

/// Gauge length beside stickout: the one is set in the holder, the other at the presetter.
std::string other_stickout(const PassReport& pass, const Advice& advice, UnitSystem units) {
    const double stickout = std::get<Stickout>(advice.set.front()).stickout;
    return fmt::format("{} the stickout to {} (gauge length {})",
                       advice.kind == AdviceKind::shorter_stickout ? "Shorten" : "Lengthen",
                       size_text(stickout, units),
                       size_text(pass.gauge_length - pass.stickout + stickout, units));
}

std::string other_height(const Job& job, const Advice& advice, UnitSystem units) {
    const auto& riser = std::get<TierHeight>(advice.set.front());
    return fmt::format(
        "{} \"{}\" to {}{}", advice.kind == AdviceKind::lower_riser ? "Lower" : "Raise", riser.tier,
        size_text(riser.height, units),
        moves_what_is_beside(job, advice) ? " (what is at its side moves with its top)" : "");
}

std::string action(const Job& job, const PassReport& pass, const Advice& advice, UnitSystem units);

/// "Run 9000 rpm (1620 mm/min), take 4 mm deep instead of 6 mm and lower "riser" to 68 mm".
std::string actions(const Job& job, const PassReport& pass, const Advice& advice,
                    UnitSystem units) {
    std::string text;
    for (std::size_t i = 0; i < advice.parts.size(); ++i) {
        Advice part;
        part.kind = advice.parts[i].kind;
        part.set = advice.parts[i].set;
        std::string one = action(job, pass, part, units);
        if (i > 0) {
            one.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(one.front())));
            text += i + 1 == advice.parts.size() ? " and " : ", ";
        }
        text += one;
    }
    return text;
}

std::string action(const Job& job, const PassReport& pass, const Advice& advice, UnitSystem units) {
    if (advice.set.empty()) {
        return "Change it";
    }
    const Edit& first = advice.set.front();
    switch (advice.kind) {
        case AdviceKind::other_speed: {
            const SpindleSpeed speed = std::get<PassSpeed>(first).speed;
            return fmt::format("Run {} ({})", speed_text(speed),
                               feed_text(feed_of(job, pass, speed), units));
        }
        case AdviceKind::less_depth:
            return fmt::format("Take {} deep instead of {}",
                               depth_to_set(std::get<AxialDepth>(first).axial, units),
                               length_text(pass.judged_depth, units));
        case AdviceKind::shorter_stickout:
        case AdviceKind::longer_stickout:
            return other_stickout(pass, advice, units);
        case AdviceKind::lower_riser:
        case AdviceKind::taller_riser:
            return other_height(job, advice, units);
        case AdviceKind::stiffer_riser:
            return fmt::format("Stiffen \"{}\": {}", std::get<TierSection>(first).tier,
                               list_of_sizes(job, advice, units));
        case AdviceKind::bigger_dovetail:
            return fmt::format("Bigger dovetail under \"{}\": {}",
                               std::get<DovetailSize>(first).tier,
                               list_of_sizes(job, advice, units));
        case AdviceKind::fewer_teeth:
        case AdviceKind::more_teeth:
            return fmt::format("Use a {}-tooth cutter at the same feed per tooth",
                               std::get<ToothCount>(first).teeth);
        case AdviceKind::solid_joint:
            return fmt::format("Make \"{}\" one piece with what it stands on",
                               std::get<SolidJoint>(first).tier);
        case AdviceKind::less_radial:
            return fmt::format("Take {} of radial depth",
                               size_to_set(std::get<RadialDepth>(first).radial, units));
        case AdviceKind::several:
            return actions(job, pass, advice, units);
    }
    return "Set " + list_of_sizes(job, advice, units);
}

bool differs(std::optional<double> ratio) { return ratio && std::abs(*ratio - 1) >= 0.02; }

std::string gains(const Advice& advice) {
    std::string text;
    if (differs(advice.limit_ratio)) {
        text += fmt::format("edge of chatter {} times as deep", three_digits(*advice.limit_ratio));
    }
    if (differs(advice.error_ratio)) {
        const double change = *advice.error_ratio - 1;
        text += text.empty() ? "" : ", ";
        text += change < 1 ? fmt::format("wall error {} {}", percent_text(std::abs(change)),
                                         change < 0 ? "smaller" : "larger")
                           : fmt::format("wall error {} times as large",
                                         three_digits(*advice.error_ratio));
    }
    // What it costs or brings, where it is the way out or changes speed or depth.
    if (differs(advice.removal_ratio)) {
        const double change = *advice.removal_ratio - 1;
        text += text.empty() ? "" : ", ";
        text += fmt::format("removes {} {} a minute", percent_text(std::abs(change)),
                            change < 0 ? "less" : "more");
    }
    return text;
}

/// "then nothing flagged", "still avoid": a change that leaves the pass at its worst is no help by
/// itself.
std::string level_then(const Advice& advice, bool hold_judged) {
    const std::string_view words = level_words(advice.level, hold_judged);
    return fmt::format("{} {}", advice.level == Level::avoid ? "still" : "then", words);
}

}  // namespace

double feed_of(const Job& job, const PassReport& report, SpindleSpeed speed) {
    const Pass& pass = job.passes.at(report.pass);
    const int teeth = job.tools.at(pass.tool).cutter.teeth;
    return pass.feed_per_tooth * teeth * speed.revolutions_per_second();
}

std::string advice_text(const Job& job, const PassReport& pass, const Advice& advice,
                        UnitSystem units) {
    const std::string gained = gains(advice);
    std::string text =
        fmt::format("{}: {}{}", action(job, pass, advice, units),
                    gained.empty() ? "" : gained + "; ", level_then(advice, pass.holding.judged));
    if (advice.reach_unchecked) {
        text += ", if it still clears: not checked";
    }
    return text + ".";
}

}  // namespace standfast
