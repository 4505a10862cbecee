// The passes: engagement, speed, attitude and place.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/job/check/check_job_makes_sense.hpp"
#include "cli/job/read/pass_axes.hpp"

namespace standfast {
namespace {

constexpr double kSlack = 1e-6;  // m
constexpr double kDegree = std::numbers::pi / 180;

struct PassPlace {
    std::string subject;  ///< pass 1 ("finish")
    std::string path;     ///< pass[0]
    std::string operator()(std::string_view key) const { return fmt::format("{}.{}", path, key); }
};

void check_engagement(Reading& reading, const Pass& pass, const PassPlace& place) {
    const Cutter& cutter = reading.job.tools[pass.tool].cutter;
    const std::string diameter = fmt::format("tool[{}].cutter.diameter", pass.tool);
    if (cutter.diameter <= 0) {
        return;
    }
    if (pass.radial > cutter.diameter * (1 + 1e-9)) {
        contradict(reading, place("radial"),
                   fmt::format("{}: radial depth {} with a cutter of {}", place.subject,
                               in_mm(pass.radial), in_mm(cutter.diameter)),
                   "at most the cutter's diameter", diameter, "the cutter");
    } else if (pass.milling == Milling::slot && pass.radial > 0 &&
               pass.radial < cutter.diameter * (1 - 1e-6)) {
        contradict(reading, place("radial"),
                   fmt::format("{}: a slot is as wide as the cutter, {}, but radial is {}",
                               place.subject, in_mm(cutter.diameter), in_mm(pass.radial)),
                   R"(no radial for a slot, or milling = "down" or "up")", place("milling"),
                   "the slot");
    }
    if (pass.milling == Milling::slot && is_given(reading, place("wall"))) {
        contradict(reading, place("wall"),
                   fmt::format("{}: a slot has a wall on each side", place.subject),
                   R"(feed_heading for a slot; wall with milling "down" or "up")", place("milling"),
                   "the slot");
    }
}

void check_speed(Reading& reading, const Pass& pass, const PassPlace& place) {
    const Machine& machine = reading.job.machine;
    if (machine.fastest.radians_per_second <= 0) {
        return;
    }
    const double slack = 1 + 1e-9;
    const double slowest = machine.slowest.radians_per_second / slack;
    const double fastest = machine.fastest.radians_per_second * slack;
    const std::string accepted = fmt::format("{} to {}", in_rpm(machine.slowest.radians_per_second),
                                             in_rpm(machine.fastest.radians_per_second));
    if (pass.speed &&
        (pass.speed->radians_per_second < slowest || pass.speed->radians_per_second > fastest)) {
        contradict(reading, place("speed"),
                   fmt::format("{}: {} is outside the machine's speeds", place.subject,
                               in_rpm(pass.speed->radians_per_second)),
                   accepted, "machine.speed", "the machine's speeds");
    }
    if (pass.speeds && ((*pass.speeds)[1].radians_per_second < slowest ||
                        (*pass.speeds)[0].radians_per_second > fastest)) {
        contradict(reading, place("speeds"),
                   fmt::format("{}: none of these speeds is one of the machine's", place.subject),
                   accepted, "machine.speed", "the machine's speeds");
    }
}

void check_tilt(Reading& reading, const Pass& pass, const PassPlace& place) {
    const Machine& machine = reading.job.machine;
    if (machine.kind.name.empty() && !machine.tilt_max) {
        return;
    }
    const double most = machine.tilt_max.value_or(0);
    const double tilt = std::abs(pass.tilt);
    if (tilt <= most + 1e-6) {
        return;
    }
    const std::string other =
        is_given(reading, "machine.tilt_max") ? "machine.tilt_max" : "machine.kind";
    contradict(reading, place("tilt"),
               machine.tilt_max ? fmt::format("{}: a tilt of {} is beyond the machine's {}",
                                              place.subject, in_degrees(tilt), in_degrees(most))
                                : fmt::format("{}: a tilt of {} on a machine that does not tilt",
                                              place.subject, in_degrees(tilt)),
               machine.tilt_max
                   ? fmt::format("at most {}; tilt_max under [machine] sets it", in_degrees(most))
                   : R"(tilt = "0 deg", or tilt_max under [machine] if it does tilt)",
               other, "the machine");
}

void check_wall(Reading& reading, const Pass& pass, const PassPlace& place) {
    if (!pass.wall) {
        return;
    }
    const Eigen::Vector3d spindle = spindle_in_tier(reading.job, pass);
    const double along = std::abs(spindle.dot(*pass.wall));
    if (along > std::cos(1 * kDegree)) {
        contradict(reading, place("wall"),
                   fmt::format("{}: this wall faces along the tool, so its flank cannot cut it",
                               place.subject),
                   R"(a wall that stands along the tool, as "+x" does at tilt 0; for a floor, )"
                   "feed_heading and no wall",
                   place("tilt"), "the tilt of the tool");
        return;
    }
    const std::optional<Eigen::Vector3d> run = run_of_path(pass);
    if (!run || pass.milling == Milling::slot) {
        return;
    }
    const double into = run->dot(*pass.wall);
    if (std::abs(into) > std::max(0.02 * run->norm(), 2e-5)) {
        contradict(reading, place("to"),
                   fmt::format("{}: from at to here the tool moves {} {} the wall", place.subject,
                               in_mm(std::abs(into)), into < 0 ? "into" : "away from"),
                   "an end of the path on the same finished wall", place("wall"),
                   "the wall's outward normal");
    } else if (path_sense(reading.job, pass) < 0) {
        contradict(reading, place("milling"),
                   fmt::format("{}: the path runs along the wall as {} milling does", place.subject,
                               pass.milling == Milling::down ? "up" : "down"),
                   "at and to exchanged, or the other direction of milling", place("to"),
                   "the end of the path");
    }
}

/// The section and height of the tier at that moment, and where the job says
/// them.
struct CutBody {
    SectionShape shape;
    double height = 0;
    std::string height_path;
};
CutBody body_of(const Reading& reading, const Pass& pass, const PassPlace& place) {
    const Tier& tier = reading.job.stack.tiers[pass.tier];
    CutBody body{tier.shape, tier.height, fmt::format("tier[{}].height", pass.tier)};
    if (pass.state && pass.state->shape) {
        body.shape = *pass.state->shape;
    }
    if (pass.state && pass.state->height) {
        body.height = *pass.state->height;
        body.height_path = place("state.height");
    }
    return body;
}

void check_point(Reading& reading, const Pass& pass, const PassPlace& place, const CutBody& body,
                 const Eigen::Vector3d& point, const std::string& key) {
    const double tilt_here = spindle_in_tier(reading.job, pass).z();
    const bool upright = tilt_here > std::cos(1 * kDegree);
    const double top = point.z() + (upright ? pass.axial.value_or(0) : 0);
    const double diameter = reading.job.tools[pass.tool].cutter.diameter;
    const double beyond_x = std::abs(point.x()) - width_x(body.shape) / 2;
    const double beyond_y = std::abs(point.y()) - width_y(body.shape) / 2;
    const double slack = kSlack + 1e-6 * body.height;
    if (upright && std::abs(point.z() - body.height) <= slack) {
        contradict(reading, place(key),
                   fmt::format("{}: the tip is at the part's top, {}, so that "
                               "nothing is beside the "
                               "edge",
                               place.subject, in_mm(body.height)),
                   "a tip below the top, measured from the tier's foot", body.height_path,
                   "the part's height");
    } else if (point.z() > body.height + slack) {
        contradict(reading, place(key),
                   fmt::format("{}: the cut is at {}, above the part's top at {}", place.subject,
                               in_mm(point.z()), in_mm(body.height)),
                   "a tip below the top, measured from the tier's foot", body.height_path,
                   "the part's height");
    } else if (top > body.height + slack) {
        contradict(reading, place("axial"),
                   fmt::format("{}: an axial depth of {} from {} up reaches {}, above the part's "
                               "top at {}",
                               place.subject, in_mm(*pass.axial), in_mm(point.z()), in_mm(top),
                               in_mm(body.height)),
                   fmt::format("at most {}", in_mm(body.height - point.z())), body.height_path,
                   "the part's height");
    } else if (point.z() < -diameter || beyond_x > diameter || beyond_y > diameter) {
        contradict(reading, place(key),
                   fmt::format("{}: this place is off the tier, which is {} by {} and {} high",
                               place.subject, in_mm(width_x(body.shape)),
                               in_mm(width_y(body.shape)), in_mm(body.height)),
                   "the tool's tip in the tier's axes, from the middle of its foot",
                   fmt::format("tier[{}]", pass.tier), "the tier");
    }
}

void check_path(Reading& reading, const Pass& pass, const PassPlace& place) {
    const Stack& stack = reading.job.stack;
    if (pass.tier >= stack.tiers.size() || !stack.modes.empty() || stack.rigid) {
        return;
    }
    const CutBody body = body_of(reading, pass, place);
    if (body.height <= 0) {
        return;
    }
    const bool points = is_given(reading, place("points"));
    const std::size_t before = reading.errors.size();
    for (std::size_t i = 0; i < pass.path.size() && reading.errors.size() == before; ++i) {
        const std::string key = points ? "points" : i == 0 ? "at" : "to";
        check_point(reading, pass, place, body, pass.path[i], key);
    }
}

void check_shares(Reading& reading) {
    const std::vector<Pass>& passes = reading.job.passes;
    const auto differs = [&](const Pass& pass) {
        return pass.length.has_value() != passes.front().length.has_value() ||
               pass.share.has_value() != passes.front().share.has_value();
    };
    for (std::size_t i = 0; i < passes.size(); ++i) {
        const PassPlace place{numbered("pass", i, passes[i].name), fmt::format("pass[{}]", i)};
        const bool both = passes[i].length && passes[i].share;
        if (!both && !differs(passes[i])) {
            continue;
        }
        const std::string key = passes[i].length ? "length" : passes[i].share ? "share" : "name";
        contradict(reading, place(key),
                   both ? fmt::format("{}: says both length and share", place.subject)
                        : fmt::format("{}: does not say how long it cuts as the first pass does",
                                      place.subject),
                   R"(length = "800 mm" in every pass, share = "40 %" in every pass, or neither)",
                   fmt::format("pass[0].{}", passes.front().length ? "length" : "share"),
                   "the first pass");
        return;
    }
}

}  // namespace

void check_passes(Reading& reading) {
    check_shares(reading);
    for (std::size_t i = 0; i < reading.job.passes.size(); ++i) {
        const Pass& pass = reading.job.passes[i];
        const PassPlace place{numbered("pass", i, pass.name), fmt::format("pass[{}]", i)};
        check_speed(reading, pass, place);
        check_tilt(reading, pass, place);
        if (pass.tool < reading.job.tools.size()) {
            check_engagement(reading, pass, place);
            check_wall(reading, pass, place);
            check_path(reading, pass, place);
        }
    }
}

}  // namespace standfast
