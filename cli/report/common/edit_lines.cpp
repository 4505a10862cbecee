#include "cli/report/common/edit_lines.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "fea/job/edits/apply_edits.hpp"

namespace standfast {
namespace {

using Lines = std::vector<EditLine>;

std::string tier_path(const std::string& name, std::string_view key) {
    return fmt::format(R"(tier."{}".{})", name, key);
}
std::string tool_path(const std::string& name, std::string_view key) {
    return fmt::format(R"(tool."{}".{})", name, key);
}
std::string pass_path(const std::string& name, std::string_view key) {
    return fmt::format(R"(pass."{}".{})", name, key);
}

EditLine length(std::string path, double metres) {
    return {.path = std::move(path), .value = {metres}, .quantity = Quantity::length, .text = {}};
}
EditLine angle(std::string path, double radians) {
    return {.path = std::move(path), .value = {radians}, .quantity = Quantity::angle, .text = {}};
}
EditLine number(std::string path, double value) {
    return {.path = std::move(path), .value = {value}, .quantity = Quantity::number, .text = {}};
}
EditLine word(std::string path, std::string text) {
    return {.path = std::move(path),
            .value = {},
            .quantity = Quantity::number,
            .text = std::move(text)};
}
EditLine place(std::string path, const Eigen::Vector3d& at) {
    return {.path = std::move(path),
            .value = {at.x(), at.y(), at.z()},
            .quantity = Quantity::length,
            .text = {}};
}

void add_if_moved(Lines& lines, std::string path, const Eigen::Vector3d& before,
                  const Eigen::Vector3d& after) {
    if (before != after) lines.push_back(place(std::move(path), after));
}

void add_moved_tiers(Lines& lines, const Stack& before, const Stack& after) {
    for (std::size_t i = 0; i < after.tiers.size(); ++i) {
        const Tier &was = before.tiers[i], &is = after.tiers[i];
        if (is.placement.at) {
            add_if_moved(lines, tier_path(is.name, "at"), *was.placement.at, *is.placement.at);
        }
        for (std::size_t k = 0; k < is.side.size(); ++k) {
            add_if_moved(lines, tier_path(is.name, fmt::format(R"(side."{}".at)", is.side[k].name)),
                         was.side[k].at, is.side[k].at);
        }
    }
    for (std::size_t i = 0; i < after.supports.size(); ++i) {
        add_if_moved(lines, fmt::format(R"(support."{}".at)", after.supports[i].name),
                     before.supports[i].at, after.supports[i].at);
    }
}

/// A pass that hangs from its tier's top needs no place.
void add_moved_passes(Lines& lines, const Job& before, const Job& after) {
    for (std::size_t i = 0; i < after.passes.size(); ++i) {
        const Pass &was = before.passes[i], &is = after.passes[i];
        const bool ends_only = is.path.size() <= 2;
        for (std::size_t k = 0; !is.from_top && k < is.path.size(); ++k) {
            const std::string key =
                ends_only ? std::string(k == 0 ? "at" : "to") : fmt::format("points[{}]", k);
            add_if_moved(lines, pass_path(is.name, key), was.path[k], is.path[k]);
        }
        if (is.state && is.state->height && is.state->height != was.state->height) {
            lines.push_back(length(pass_path(is.name, "state.height"), *is.state->height));
        }
    }
}

/// Whatever an edit of a tier that stays moves with it.
void add_moved(Lines& lines, const Job& job, const Edit& edit) {
    const Job after = edited(job, edit);
    add_moved_tiers(lines, job.stack, after.stack);
    add_moved_passes(lines, job, after);
}

/// The sizes of a shape under the keys of the job file: round, tube[0], block[1] ...
struct SizeNames {
    std::string_view word;
    std::vector<double> size;
};
SizeNames sizes_of(const RoundShape& s) { return {"round", {s.diameter}}; }
SizeNames sizes_of(const TubeShape& s) { return {"tube", {s.outer, s.inner}}; }
SizeNames sizes_of(const BlockShape& s) { return {"block", {s.x, s.y}}; }
SizeNames sizes_of(const BoxShape& s) { return {"box", {s.x, s.y, s.wall}}; }
SizeNames sizes_of(const GeneralShape&) { return {"section", {}}; }
SizeNames sizes_of(const SectionShape& shape) {
    return std::visit([](const auto& one) { return sizes_of(one); }, shape);
}

void add_sizes(Lines& lines, const std::string& tier, std::string_view prefix,
               const SectionShape& before, const SectionShape& after) {
    const SizeNames was = sizes_of(before), is = sizes_of(after);
    for (std::size_t i = 0; i < is.size.size(); ++i) {
        if (was.word == is.word && was.size[i] == is.size[i]) continue;
        const std::string key = is.size.size() == 1 ? fmt::format("{}{}", prefix, is.word)
                                                    : fmt::format("{}{}[{}]", prefix, is.word, i);
        lines.push_back(length(tier_path(tier, key), is.size[i]));
    }
}

Lines lines_of(const Job& job, const TierHeight& edit) {
    Lines lines{length(tier_path(edit.tier, "height"), edit.height)};
    add_moved(lines, job, edit);
    return lines;
}

Lines lines_of(const Job& job, const TierSection& edit) {
    const Tier& before = job.stack.tiers[tier_named(job, edit.tier)];
    Lines lines;
    add_sizes(lines, edit.tier, "", before.shape, edit.shape);
    if (edit.top) {
        add_sizes(lines, edit.tier, "top.", before.top.value_or(GeneralShape{}), *edit.top);
    }
    add_moved(lines, job, edit);
    return lines;
}

Lines lines_of(const Job&, const TierMaterial& edit) {
    return {word(tier_path(edit.tier, "material"), edit.material.name)};
}
Lines lines_of(const Job&, const TierHold&) { return {}; }
Lines lines_of(const Job&, const ShelfRisers&) { return {}; }
Lines lines_of(const Job&, const ToolHolder&) { return {}; }
Lines lines_of(const Job&, const SolidJoint& edit) {
    return {word(tier_path(edit.tier, "joint"), "solid")};
}
Lines lines_of(const Job&, const JointLoss& edit) {
    return {number(tier_path(edit.tier, "joint.loss"), edit.loss)};
}
Lines lines_of(const Job&, const DovetailSize& edit) {
    Lines lines;
    if (edit.width) lines.push_back(length(tier_path(edit.tier, "joint.width"), *edit.width));
    if (edit.length) lines.push_back(length(tier_path(edit.tier, "joint.length"), *edit.length));
    return lines;
}

/// A grip whose length the job gives is written anew where less is left inside; else it follows.
Lines lines_of(const Job& job, const Stickout& edit) {
    Lines lines{length(tool_path(edit.tool, "cutter.stickout"), edit.stickout)};
    const std::size_t index = tool_named(job, edit.tool);
    const ToolChain &was = job.tools[index], is = edited(job, Edit(edit)).tools[index];
    if (!was.grip_full && is.grip_length != was.grip_length) {
        lines.push_back(length(tool_path(edit.tool, "grip.length"), is.grip_length));
    }
    return lines;
}

Lines lines_of(const Job&, const GripLoss& edit) {
    return {number(tool_path(edit.tool, "grip.loss"), edit.loss)};
}
Lines lines_of(const Job&, const ToothCount& edit) {
    return {number(tool_path(edit.tool, "cutter.teeth"), edit.teeth)};
}
Lines lines_of(const Job&, const ToothPitch& edit) {
    Lines lines;
    for (std::size_t i = 0; i < edit.pitch.size(); ++i) {
        lines.push_back(
            angle(tool_path(edit.tool, fmt::format("cutter.pitch[{}]", i)), edit.pitch[i]));
    }
    return lines;
}
Lines lines_of(const Job&, const PassSpeed& edit) {
    return {{.path = pass_path(edit.pass, "speed"),
             .value = {edit.speed.radians_per_second},
             .quantity = Quantity::rotational_speed,
             .text = {}}};
}
Lines lines_of(const Job&, const AxialDepth& edit) {
    return {length(pass_path(edit.pass, "axial"), edit.axial)};
}
Lines lines_of(const Job&, const RadialDepth& edit) {
    return {length(pass_path(edit.pass, "radial"), edit.radial)};
}
Lines lines_of(const Job&, const FeedPerTooth& edit) {
    return {length(pass_path(edit.pass, "feed"), edit.feed)};
}
Lines lines_of(const Job& job, const PassTilt& edit) {
    Lines lines{angle(pass_path(edit.pass, "tilt"), edit.tilt)};
    const std::size_t index = pass_named(job, edit.pass);
    const auto was = job.passes[index].feed_heading,
               is = edited(job, Edit(edit)).passes[index].feed_heading;
    if (is && is != was) lines.push_back(angle(pass_path(edit.pass, "feed_heading"), *is));
    return lines;
}

}  // namespace

std::vector<EditLine> edit_lines(const Job& job, const Edit& edit) {
    return std::visit([&](const auto& one) { return lines_of(job, one); }, edit);
}

std::vector<EditLine> edit_lines(const Job& job, const std::vector<Edit>& edits) {
    Lines all;
    for (const Edit& edit : edits) {
        for (EditLine& line : edit_lines(job, edit)) all.push_back(std::move(line));
    }
    return all;
}

std::string line_value(const EditLine& line, UnitSystem units) {
    if (!line.text.empty()) return line.text;
    if (line.value.size() == 1) return exact_text(line.value.front(), line.quantity, units);
    std::string list;
    for (const double value : line.value) {
        list += fmt::format(R"({}"{}")", list.empty() ? "" : ", ",
                            exact_text(value, line.quantity, units));
    }
    return "[" + list + "]";
}

std::string key_of(const EditLine& line) {
    const std::string key = line.path.substr(line.path.rfind('"') + 1);
    const std::size_t dot = key.rfind('.');
    return key.substr(dot + 1, key.find('[') - dot - 1);
}

}  // namespace standfast
