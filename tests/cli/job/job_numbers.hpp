#pragma once

// Every number of a job with its name, so that two jobs can be compared without a word on which
// of their members matter.

#include <gtest/gtest.h>

#include <cmath>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "fea/job/job.hpp"

namespace standfast::testing {

using Numbers = std::vector<std::pair<std::string, double>>;

inline void add(Numbers& list, const std::string& name, double value) {
    list.emplace_back(name, value);
}
inline void add(Numbers& list, const std::string& name, const Eigen::Vector3d& value) {
    for (int i = 0; i < 3; ++i) add(list, name + "." + std::to_string(i), value[i]);
}
inline void add(Numbers& list, const std::string& name, const std::array<double, 2>& value) {
    add(list, name + ".0", value[0]);
    add(list, name + ".1", value[1]);
}
inline void add(Numbers& list, const std::string& name, SpindleSpeed value) {
    add(list, name, value.radians_per_second);
}
inline void add(Numbers& list, const std::string& name, const SectionShape& shape) {
    add(list, name + ".kind", static_cast<double>(shape.index()));
    add(list, name + ".x", width_x(shape));
    add(list, name + ".y", width_y(shape));
    add(list, name + ".area", material_area(shape));
}

template <typename T>
void add(Numbers& list, const std::string& name, const std::optional<T>& value) {
    if (value) add(list, name, *value);
}

inline void add(Numbers& list, const std::string& name, const JointNumbers& given) {
    add(list, name + ".lateral", given.lateral);
    add(list, name + ".vertical", given.vertical);
    add(list, name + ".tilting", given.tilting);
    add(list, name + ".twisting", given.twisting);
    add(list, name + ".loss", given.loss);
}

inline void add(Numbers& list, const std::string& name, const Joint& joint) {
    add(list, name + ".solid", joint.solid ? 1 : 0);
    add(list, name + ".given", joint.given);
    add(list, name + ".kind.lateral", joint.kind.lateral);
    add(list, name + ".preload", joint.preload);
    if (joint.screws) {
        add(list, name + ".screws", joint.screws->count);
        add(list, name + ".size", joint.screws->diameter);
        add(list, name + ".torque", joint.screws->torque);
    }
    if (joint.dovetail) {
        add(list, name + ".length", joint.dovetail->length);
        add(list, name + ".width", joint.dovetail->width);
        add(list, name + ".flank", joint.dovetail->flank);
        add(list, name + ".depth", joint.dovetail->depth);
        add(list, name + ".clamp", joint.dovetail->clamp);
    }
    if (joint.jaws) {
        add(list, name + ".length", joint.jaws->length);
        add(list, name + ".width", joint.jaws->width);
        add(list, name + ".grip", joint.jaws->grip);
        add(list, name + ".clamp", joint.jaws->clamp);
    }
    add(list, name + ".stiffness_adjust", joint.stiffness_adjust);
    add(list, name + ".loss_adjust", joint.loss_adjust);
}

inline void add(Numbers& list, const std::string& name, const Tier& tier) {
    add(list, name + ".shape", tier.shape);
    add(list, name + ".top", tier.top);
    add(list, name + ".height", tier.height);
    add(list, name + ".youngs", tier.material.youngs_modulus);
    add(list, name + ".density", tier.material.density);
    add(list, name + ".joint", tier.joint);
    add(list, name + ".host", tier.placement.host ? double(*tier.placement.host) : -1);
    add(list, name + ".at", tier.placement.at);
    add(list, name + ".lean", tier.placement.lean);
    add(list, name + ".heading", tier.placement.heading);
    add(list, name + ".spin", tier.placement.spin);
    for (const SideMass& side : tier.side) {
        add(list, name + ".side.mass", side.mass);
        add(list, name + ".side.at", side.at);
    }
}

inline void add(Numbers& list, const std::string& name, const ToolChain& tool) {
    for (const HolderStep& step : tool.holder) {
        add(list, name + ".holder.round", step.diameter);
        add(list, name + ".holder.to", step.diameter_to);
        add(list, name + ".holder.length", step.length);
    }
    add(list, name + ".taper", tool.taper);
    add(list, name + ".grip", tool.grip);
    add(list, name + ".grip_length", tool.grip_length);
    add(list, name + ".grip_least", tool.grip_least);
    add(list, name + ".speed_max", tool.speed_max);
    const Cutter& cutter = tool.cutter;
    add(list, name + ".diameter", cutter.diameter);
    add(list, name + ".teeth", cutter.teeth);
    add(list, name + ".helix", cutter.helix);
    add(list, name + ".corner", cutter.corner_radius);
    add(list, name + ".flute", cutter.flute_length);
    add(list, name + ".shank", cutter.shank_diameter);
    add(list, name + ".stickout", cutter.stickout);
    add(list, name + ".overall", cutter.overall);
    add(list, name + ".runout", cutter.runout);
}

inline void add(Numbers& list, const std::string& name, const Pass& pass) {
    add(list, name + ".tool", static_cast<double>(pass.tool));
    add(list, name + ".tier", static_cast<double>(pass.tier));
    for (const Eigen::Vector3d& point : pass.path) add(list, name + ".path", point);
    add(list, name + ".wall", pass.wall);
    add(list, name + ".feed_heading", pass.feed_heading);
    add(list, name + ".tilt", pass.tilt);
    add(list, name + ".turn", pass.turn);
    add(list, name + ".milling", static_cast<double>(pass.milling));
    add(list, name + ".radial", pass.radial);
    add(list, name + ".axial", pass.axial);
    add(list, name + ".feed", pass.feed_per_tooth);
    add(list, name + ".speed", pass.speed);
    add(list, name + ".tolerance", pass.tolerance);
    add(list, name + ".leave", pass.leave);
}

inline Numbers numbers_of(const Job& job) {
    Numbers list;
    add(list, "machine.slowest", job.machine.slowest);
    add(list, "machine.fastest", job.machine.fastest);
    add(list, "machine.carry_max", job.machine.carry_max);
    add(list, "machine.table", job.machine.table.given);
    add(list, "machine.table.kind", job.machine.kind.lateral);
    add(list, "machine.table.diameter", job.machine.table.diameter);
    add(list, "machine.spindle", job.machine.spindle.given);
    add(list, "machine.spindle.kind", job.machine.spindle_kind.lateral);
    for (const Tier& tier : job.stack.tiers) add(list, "tier " + tier.name, tier);
    for (const ToolChain& tool : job.tools) add(list, "tool " + tool.name, tool);
    for (const Pass& pass : job.passes) add(list, "pass " + pass.name, pass);
    for (const Assumption& assumption : job.assumed) {
        add(list, "assumed " + assumption.path, assumption.value.value_or(0));
    }
    return list;
}

/// Every number of one job is that of the other, within a relative tolerance.
inline void expect_same_job(const Job& expected, const Job& got, double tolerance) {
    const Numbers a = numbers_of(expected);
    const Numbers b = numbers_of(got);
    ASSERT_EQ(a.size(), b.size());
    for (std::size_t i = 0; i < a.size(); ++i) {
        EXPECT_EQ(a[i].first, b[i].first);
        EXPECT_NEAR(a[i].second, b[i].second, tolerance * std::abs(a[i].second) + 1e-300)
            << a[i].first;
    }
}

}  // namespace standfast::testing
