// The stack: what stands on what, and what holds it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/job/check/check_job_makes_sense.hpp"

namespace standfast {
namespace {

constexpr double kSlack = 1e-6;  // m; what rounding between inch and mm may leave

std::string path_of(std::size_t tier, std::string_view key) {
    return fmt::format("tier[{}].{}", tier, key);
}

std::string subject_of(const Stack& stack, std::size_t tier) {
    return numbered("tier", tier, stack.tiers[tier].name);
}

/// The key under which a tier's section was given.
std::string section_path(const Reading& reading, std::size_t tier) {
    for (const std::string_view key : {"round", "tube", "block", "box", "section"}) {
        if (is_given(reading, path_of(tier, key))) {
            return path_of(tier, key);
        }
    }
    return path_of(tier, "block");
}

void check_dovetail(Reading& reading, std::size_t index) {
    const Tier& tier = reading.job.stack.tiers[index];
    if (!tier.joint.dovetail || tier.lump || !is_given(reading, section_path(reading, index))) {
        return;
    }
    const Dovetail& dovetail = *tier.joint.dovetail;
    const std::string subject = subject_of(reading.job.stack, index);
    const double across = width_y(tier.shape);
    const double along = width_x(tier.shape);
    const double base = dovetail.width + 2 * dovetail.depth / std::tan(dovetail.flank);
    if (dovetail.width > across + kSlack) {
        contradict(reading, path_of(index, "joint.width"),
                   fmt::format("{}: the dovetail is {} wide, the part's foot only {}", subject,
                               in_mm(dovetail.width), in_mm(across)),
                   fmt::format("a neck of at most {}, across the dovetail (along y of the part)",
                               in_mm(across)),
                   section_path(reading, index), "the part's foot");
    } else if (base > across + 1e-3) {
        contradict(reading, path_of(index, "joint.width"),
                   fmt::format("{}: the dovetail's base would be {} wide, the part's foot is {}",
                               subject, in_mm(base), in_mm(across)),
                   "a narrower neck, less depth or a steeper flank", section_path(reading, index),
                   "the part's foot");
    }
    if (dovetail.length > along + kSlack) {
        contradict(reading, path_of(index, "joint.length"),
                   fmt::format("{}: the dovetail is {} long, the part's foot only {}", subject,
                               in_mm(dovetail.length), in_mm(along)),
                   fmt::format("a length of at most {}, along x of the part", in_mm(along)),
                   section_path(reading, index), "the part's foot");
    }
}

void check_jaws(Reading& reading, std::size_t index) {
    const Tier& tier = reading.job.stack.tiers[index];
    if (tier.joint.jaws && !tier.lump && tier.height > 0 &&
        tier.joint.jaws->grip > tier.height + kSlack) {
        contradict(reading, path_of(index, "joint.grip"),
                   fmt::format("{}: the jaws grip {} of a tier that is {} high",
                               subject_of(reading.job.stack, index), in_mm(tier.joint.jaws->grip),
                               in_mm(tier.height)),
                   "a gripped height within the tier", path_of(index, "height"),
                   "the tier's height");
    }
}

/// `at` is on the host's surface, give or take the host's own size.
void check_placement(Reading& reading, std::size_t index) {
    const Stack& stack = reading.job.stack;
    const Placement& placement = stack.tiers[index].placement;
    if (!placement.at || !placement.host || *placement.host >= index) {
        return;
    }
    const Tier& host = stack.tiers[*placement.host];
    if (host.lump || host.height <= 0) {
        return;
    }
    const Eigen::Vector3d& at = *placement.at;
    const double half_x = width_x(host.shape) / 2;
    const double half_y = width_y(host.shape) / 2;
    const double slack = 1e-4 + 0.02 * std::max({half_x, half_y, host.height});
    const bool off = std::abs(at.x()) > half_x + slack || std::abs(at.y()) > half_y + slack ||
                     at.z() < -slack || at.z() > host.height + slack;
    if (off) {
        contradict(reading, path_of(index, "at"),
                   fmt::format(R"({}: at lies off its host "{}", which is {} by {} and {} high)",
                               subject_of(stack, index), host.name, in_mm(2 * half_x),
                               in_mm(2 * half_y), in_mm(host.height)),
                   "a place on the host's surface, from the middle of the host's foot",
                   fmt::format("tier[{}]", *placement.host), "the host");
    }
}

void check_supports(Reading& reading) {
    const Stack& stack = reading.job.stack;
    for (std::size_t i = 0; i < stack.supports.size(); ++i) {
        const Support& support = stack.supports[i];
        if (support.tier >= stack.tiers.size() || stack.tiers[support.tier].height <= 0) {
            continue;
        }
        const Tier& tier = stack.tiers[support.tier];
        const double slack = 1e-4 + 0.02 * tier.height;
        if (support.at.z() < -slack || support.at.z() > tier.height + slack) {
            contradict(reading, fmt::format("support[{}].at", i),
                       fmt::format("{}: at is {} up a tier that is {} high",
                                   numbered("support", i, support.name), in_mm(support.at.z()),
                                   in_mm(tier.height)),
                       "a place on the tier, from its foot", path_of(support.tier, "height"),
                       "the tier's height");
        }
    }
}

}  // namespace

void check_stack(Reading& reading) {
    for (std::size_t i = 0; i < reading.job.stack.tiers.size(); ++i) {
        check_dovetail(reading, i);
        check_jaws(reading, i);
        check_placement(reading, i);
    }
    check_supports(reading);
}

}  // namespace standfast
