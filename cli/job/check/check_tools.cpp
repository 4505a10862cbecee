// The tools: what must fit into what.
#include <fmt/format.h>

#include <algorithm>

#include "cli/job/check/check_job_makes_sense.hpp"

namespace standfast {
namespace {

constexpr double kSlack = 1e-6;  // m

struct ToolPlace {
    std::string subject;  ///< tool 1 ("long finisher")
    std::string path;     ///< tool[0]
    std::string operator()(std::string_view key) const { return fmt::format("{}.{}", path, key); }
};

/// The key that settled how far the tool sticks out.
std::string stickout_path(const Reading& reading, const ToolPlace& place) {
    for (const std::string_view key :
         {"cutter.stickout", "cutter.gauge_length", "cutter.segments"}) {
        if (is_given(reading, place(key))) {
            return place(key);
        }
    }
    return place("cutter");
}

void check_overall(Reading& reading, const ToolChain& tool, const ToolPlace& place) {
    const Cutter& cutter = tool.cutter;
    if (!cutter.overall || tool.grip.kind.on_pilot) {
        return;
    }
    const double inside = *cutter.overall - cutter.stickout;
    const std::string stickout = stickout_path(reading, place);
    const std::string how_far = fmt::format("{}: it sticks out {} of {} overall", place.subject,
                                            in_mm(cutter.stickout), in_mm(*cutter.overall));
    if (inside <= kSlack) {
        contradict(reading, stickout, how_far + ", which leaves nothing to grip",
                   "a stickout shorter than the cutter", place("cutter.overall"),
                   "its overall length");
    } else if (tool.grip_least && inside < *tool.grip_least - kSlack) {
        contradict(
            reading, stickout,
            fmt::format("{}, which leaves {} in the grip, less than the least of {}", how_far,
                        in_mm(inside), in_mm(*tool.grip_least)),
            fmt::format("a stickout of at most {}", in_mm(*cutter.overall - *tool.grip_least)),
            place("grip.least"), "the least length that must be gripped");
    } else if (is_given(reading, place("grip.length")) && inside < tool.grip_length - 0.5e-3) {
        contradict(reading, stickout,
                   fmt::format("{}, which leaves {} in the grip, not {}", how_far, in_mm(inside),
                               in_mm(tool.grip_length)),
                   "overall = stickout + gripped length, or longer", place("grip.length"),
                   "the gripped length");
    }
}

void check_steps(Reading& reading, const ToolChain& tool, const ToolPlace& place) {
    const Cutter& cutter = tool.cutter;
    const std::string stickout = stickout_path(reading, place);
    const auto longer = [&](std::string_view key, double length, std::string_view what) {
        if (length > cutter.stickout + kSlack && is_given(reading, place(key))) {
            contradict(reading, place(key),
                       fmt::format("{}: {} of {} on a stickout of {}", place.subject, what,
                                   in_mm(length), in_mm(cutter.stickout)),
                       "no longer than the stickout", stickout, "how far it sticks out");
        }
    };
    longer("cutter.flute", cutter.flute_length, "a flute");
    longer("cutter.neck", cutter.neck_length, "a neck");
    if (cutter.neck_length > 0 &&
        cutter.flute_length + cutter.neck_length > cutter.stickout + kSlack &&
        cutter.flute_length <= cutter.stickout && cutter.neck_length <= cutter.stickout) {
        contradict(
            reading, place("cutter.neck"),
            fmt::format("{}: flute and neck together are {} on a stickout of {}", place.subject,
                        in_mm(cutter.flute_length + cutter.neck_length), in_mm(cutter.stickout)),
            "flute + neck within the stickout; the neck's length is counted above the flute",
            place("cutter.flute"), "the flute");
    }
}

void check_diameters(Reading& reading, const ToolChain& tool, const ToolPlace& place) {
    const Cutter& cutter = tool.cutter;
    if (cutter.corner_radius > cutter.diameter / 2 + kSlack) {
        contradict(reading, place("cutter.corner"),
                   fmt::format("{}: a corner radius of {} on a cutter of {}", place.subject,
                               in_mm(cutter.corner_radius), in_mm(cutter.diameter)),
                   "at most half the diameter, which is a ball nose", place("cutter.diameter"),
                   "its diameter");
    }
    if (cutter.neck_diameter > std::max(cutter.shank_diameter, cutter.diameter) + kSlack) {
        contradict(reading, place("cutter.neck"),
                   fmt::format("{}: a neck of {} is thicker than the shank and the cutter",
                               place.subject, in_mm(cutter.neck_diameter)),
                   "neck = [diameter, length]", place("cutter.shank"), "the shank");
    }
    if (tool.grip_least && is_given(reading, place("grip.length")) &&
        tool.grip_length < *tool.grip_least - kSlack) {
        contradict(reading, place("grip.length"),
                   fmt::format("{}: the grip is {} long, less than the least of {}", place.subject,
                               in_mm(tool.grip_length), in_mm(*tool.grip_least)),
                   "at least the least", place("grip.least"), "the least");
    }
}

/// The shank in what holds it.
void check_grip(Reading& reading, const ToolChain& tool, const ToolPlace& place) {
    const JointKind& grip = tool.grip.kind;
    const double shank = tool.cutter.shank_diameter;
    if (tool.grip.solid || !grip.holds || !(shank > 0)) {
        return;
    }
    const auto [least, greatest] = *grip.holds;
    if (shank >= least - kSlack && shank <= greatest + kSlack) {
        return;
    }
    const std::string_view what = grip.on_pilot ? "pilot" : "shank";
    const bool said = is_given(reading, place("cutter.shank"));
    contradict(
        reading, place(said ? "cutter.shank" : "cutter.diameter"),
        fmt::format(R"({}: a "{}" grip does not hold a {} of {}{})", place.subject, grip.name, what,
                    in_mm(shank), said ? "" : ", as thick as the cutter, since no shank is given"),
        fmt::format(R"(a {} of {} to {} (shank = "..."), or another grip)", what, in_mm(least),
                    in_mm(greatest)),
        place("grip"), "the grip");
}

}  // namespace

void check_tools(Reading& reading) {
    for (std::size_t i = 0; i < reading.job.tools.size(); ++i) {
        const ToolChain& tool = reading.job.tools[i];
        const ToolPlace place{numbered("tool", i, tool.name), fmt::format("tool[{}]", i)};
        if (tool.cutter.diameter <= 0) {
            continue;
        }
        check_diameters(reading, tool, place);
        if (tool.cutter.stickout > 0 && !tool.rigid && tool.modes.empty()) {
            check_grip(reading, tool, place);
            check_overall(reading, tool, place);
            check_steps(reading, tool, place);
        }
    }
}

}  // namespace standfast
