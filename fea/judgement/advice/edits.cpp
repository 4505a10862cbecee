#include "fea/judgement/advice/edits.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <type_traits>
#include <variant>

namespace standfast {
namespace {

struct EditPath {
    std::string table, name, key;
};

[[noreturn]] void refuse(const Edit& edit, const std::string& why) {
    throw std::domain_error("edit: \"" + edit.path + "\" " + why);
}

EditPath split(const Edit& edit) {
    const std::size_t open = edit.path.find(".\"");
    const std::size_t close = edit.path.find("\".", open + 2);
    if (open == std::string::npos || close == std::string::npos) {
        refuse(edit, "is not of the form table.\"name\".key");
    }
    return {edit.path.substr(0, open), edit.path.substr(open + 2, close - open - 2),
            edit.path.substr(close + 2)};
}

template <typename Named>
Named& named(std::vector<Named>& list, const EditPath& path, const Edit& edit) {
    const auto found = std::find_if(list.begin(), list.end(),
                                    [&](const Named& one) { return one.name == path.name; });
    if (found == list.end()) refuse(edit, "names nothing in this job");
    return *found;
}

/// The sizes of a shape under the keys of the job file: round, tube[0], block[1] ...
struct SizeNames {
    std::string word;
    std::vector<double*> size;
};
SizeNames sizes_of(RoundShape& s) { return {"round", {&s.diameter}}; }
SizeNames sizes_of(TubeShape& s) { return {"tube", {&s.outer, &s.inner}}; }
SizeNames sizes_of(BlockShape& s) { return {"block", {&s.x, &s.y}}; }
SizeNames sizes_of(BoxShape& s) { return {"box", {&s.x, &s.y, &s.wall}}; }
SizeNames sizes_of(GeneralShape&) { return {"section", {}}; }

std::string size_key(const SizeNames& sizes, std::size_t index) {
    return sizes.size.size() == 1 ? sizes.word : sizes.word + "[" + std::to_string(index) + "]";
}

bool set_size(SectionShape& shape, const std::string& key, double value) {
    const SizeNames sizes = std::visit([](auto& s) { return sizes_of(s); }, shape);
    for (std::size_t i = 0; i < sizes.size.size(); ++i) {
        if (size_key(sizes, i) != key) continue;
        *sizes.size[i] = value;
        return true;
    }
    return false;
}

void edit_pass(Pass& pass, const EditPath& path, const Edit& edit) {
    if (path.key == "speed") {
        pass.speed = SpindleSpeed{edit.value};
    } else if (path.key == "axial") {
        pass.axial = edit.value;
    } else if (path.key == "radial") {
        pass.radial = edit.value;
    } else if (path.key == "feed") {
        pass.feed_per_tooth = edit.value;
    } else {
        refuse(edit, "is no key that advice edits");
    }
}

/// "cutter.pitch[2]": one of the angles between teeth; even ones where none are given yet.
bool edit_pitch(Cutter& cutter, const std::string& key, double value) {
    for (std::size_t i = 0; i < static_cast<std::size_t>(cutter.teeth); ++i) {
        if (key != "cutter.pitch[" + std::to_string(i) + "]") continue;
        if (cutter.pitch.empty()) {
            cutter.pitch.assign(static_cast<std::size_t>(cutter.teeth),
                                2 * std::numbers::pi / cutter.teeth);
        }
        cutter.pitch.at(i) = value;
        return true;
    }
    return false;
}

void edit_tool(ToolChain& tool, const EditPath& path, const Edit& edit) {
    Cutter& cutter = tool.cutter;
    if (path.key == "cutter.stickout") {
        cutter.stickout = edit.value;
    } else if (path.key == "cutter.teeth") {
        cutter.teeth = static_cast<int>(std::lround(edit.value));
    } else if (path.key == "cutter.segments[0].length" && !cutter.segments.empty()) {
        cutter.stickout += edit.value - cutter.segments.front().length;
        cutter.segments.front().length = edit.value;
    } else if (path.key == "grip.loss") {
        tool.grip.given.loss = edit.value;
    } else if (!edit_pitch(cutter, path.key, edit.value)) {
        refuse(edit, "is no key that advice edits");
    }
}

bool edit_joint(Joint& joint, const EditPath& path, const Edit& edit) {
    if (path.key == "joint" && edit.text == "solid") {
        joint = Joint{};
        joint.solid = true;
        return true;
    }
    if (path.key == "joint.loss") {
        joint.given.loss = edit.value;
        return true;
    }
    if (!joint.dovetail) return false;
    if (path.key == "joint.width") joint.dovetail->width = edit.value;
    if (path.key == "joint.length") joint.dovetail->length = edit.value;
    return path.key == "joint.width" || path.key == "joint.length";
}

void edit_tier(Tier& tier, const EditPath& path, const Edit& edit) {
    const std::string top = "top.";
    if (path.key == "height") {
        tier.height = edit.value;
        return;
    }
    if (edit_joint(tier.joint, path, edit)) return;
    const bool of_top = path.key.rfind(top, 0) == 0 && tier.top;
    const bool done = of_top ? set_size(*tier.top, path.key.substr(top.size()), edit.value)
                             : set_size(tier.shape, path.key, edit.value);
    if (!done) refuse(edit, "is no key that advice edits");
}

/// Sizes after scaling: outlines grow, walls stay.
RoundShape scaled(const RoundShape& s, double f) { return {s.diameter * f}; }
TubeShape scaled(const TubeShape& s, double f) {
    return {s.outer * f, s.outer * f - (s.outer - s.inner)};
}
BlockShape scaled(const BlockShape& s, double f) { return {s.x * f, s.y * f}; }
BoxShape scaled(const BoxShape& s, double f) { return {s.x * f, s.y * f, s.wall}; }
GeneralShape scaled(const GeneralShape& s, double) { return s; }

void add_scaled(std::vector<Edit>& edits, const Tier& tier, const SectionShape& shape,
                const std::string& prefix, double factor) {
    SectionShape before = shape;
    SectionShape after =
        std::visit([&](const auto& s) -> SectionShape { return scaled(s, factor); }, shape);
    const SizeNames old_sizes = std::visit([](auto& s) { return sizes_of(s); }, before);
    const SizeNames new_sizes = std::visit([](auto& s) { return sizes_of(s); }, after);
    for (std::size_t i = 0; i < new_sizes.size.size(); ++i) {
        if (*new_sizes.size[i] != *old_sizes.size[i]) {
            edits.push_back({tier_path(tier, prefix + size_key(new_sizes, i)), *new_sizes.size[i],
                             Quantity::length, ""});
        }
    }
}

}  // namespace

std::string pass_path(const Pass& pass, const std::string& key) {
    return "pass.\"" + pass.name + "\"." + key;
}
std::string tool_path(const ToolChain& tool, const std::string& key) {
    return "tool.\"" + tool.name + "\"." + key;
}
std::string tier_path(const Tier& tier, const std::string& key) {
    return "tier.\"" + tier.name + "\"." + key;
}

std::vector<Edit> scaled_section(const Tier& tier, double factor) {
    std::vector<Edit> edits;
    add_scaled(edits, tier, tier.shape, "", factor);
    if (tier.top) add_scaled(edits, tier, *tier.top, "top.", factor);
    return edits;
}

Job with_edits(Job job, const std::vector<Edit>& edits) {
    for (const Edit& edit : edits) {
        const EditPath path = split(edit);
        if (path.table == "pass") {
            edit_pass(named(job.passes, path, edit), path, edit);
        } else if (path.table == "tool") {
            edit_tool(named(job.tools, path, edit), path, edit);
        } else if (path.table == "tier") {
            edit_tier(named(job.stack.tiers, path, edit), path, edit);
        } else {
            refuse(edit, "is in no table that advice edits");
        }
    }
    return job;
}

}  // namespace standfast
