#include "fea/studies/explore/setting.hpp"

#include <algorithm>
#include <stdexcept>

#include "fea/judgement/reach/reach.hpp"

namespace standfast {
namespace {

constexpr double kLowest = 0.25, kTallest = 2.5;  // of the riser as it is
constexpr double kLongest = 2;                    // of the stickout as it is
constexpr double kLeast = 1e-3;                   // m

bool carries_at_a_place(const Stack& stack, std::size_t tier) {
    const bool guest = std::any_of(stack.tiers.begin(), stack.tiers.end(), [&](const Tier& other) {
        return other.placement.host == tier && other.placement.at;
    });
    return guest || std::any_of(stack.supports.begin(), stack.supports.end(),
                                [&](const Support& support) { return support.tier == tier; });
}

/// With its place not given, a cut hangs from the top of its tier.
void hang_from_top(Job& job, Pass& pass) {
    if (!pass.from_top || pass.path.empty() || pass.tier >= job.stack.tiers.size()) return;
    double height = job.stack.tiers[pass.tier].height;
    if (pass.state) height = pass.state->height.value_or(height);
    pass.path.front().z() = height - std::min(*pass.axial, height);
}

void set_stickout(Cutter& cutter, double stickout) {
    if (!cutter.segments.empty()) {
        const double longer = stickout - stickout_of(cutter);
        if (cutter.segments.front().length + longer <= 0) {
            throw std::domain_error("explore: the stickout is shorter than the cutter's segments");
        }
        cutter.segments.front().length += longer;
    }
    cutter.stickout = stickout;
    cutter.flute_length = std::min(cutter.flute_length, stickout);
}

}  // namespace

std::optional<std::size_t> riser_of(const Job& job, const Pass& pass) {
    if (job.stack.rigid || !job.stack.modes.empty()) return std::nullopt;
    return riser_under(job, pass);
}

ExploreRanges explore_ranges(const Job& job, const Pass& pass) {
    ExploreRanges ranges;
    const std::optional<std::size_t> riser = riser_of(job, pass);
    if (!riser) {
        ranges.why_no_riser = job.stack.tiers.empty() ? "the stack is not described by tiers"
                                                      : "nothing stands under the part";
    } else if (carries_at_a_place(job.stack, *riser)) {
        ranges.why_no_riser = "something stands at a given place on it";
    } else {
        const double height = job.stack.tiers[*riser].height;
        ranges.riser_height = {std::max(kLeast, kLowest * height), kTallest * height};
    }
    const ToolChain& tool = job.tools.at(pass.tool);
    const double stickout = stickout_of(tool.cutter);
    if (tool.rigid || !tool.modes.empty() || !(stickout > 0)) {
        ranges.why_no_stickout = "the tool is not described by its sizes";
        return ranges;
    }
    Pass any_depth = pass;
    any_depth.axial.reset();
    const StickoutRange range = stickout_range(tool, any_depth);
    ranges.stickout = {std::clamp(range.least, kLeast, stickout),
                       std::max(range.most.value_or(kLongest * stickout), stickout)};
    return ranges;
}

double deepest_setting(const Job& job, const Pass& pass, double work_reach) {
    const Cutter& cutter = job.tools.at(pass.tool).cutter;
    double deepest = stickout_of(cutter);
    if (!(deepest > 0)) deepest = search_depth(cutter.flute_length, cutter.diameter);
    return work_reach > 0 ? std::min(deepest, work_reach) : deepest;
}

Job with_setting(Job job, const ExploreSetting& setting) {
    if (setting.pass >= job.passes.size()) throw std::domain_error("explore: no such pass");
    if (!(setting.depth > 0)) throw std::domain_error("explore: the depth must be > 0");
    if (!(setting.speed.radians_per_second > 0)) {
        throw std::domain_error("explore: the speed must be > 0");
    }
    Pass& pass = job.passes[setting.pass];
    pass.axial = setting.depth;
    pass.speed = setting.speed;
    hang_from_top(job, pass);
    if (setting.riser_height) {
        const std::optional<std::size_t> riser = riser_of(job, pass);
        if (!riser) throw std::domain_error("explore: there is no riser under this pass");
        job.stack.tiers[*riser].height = *setting.riser_height;
    }
    if (setting.stickout) set_stickout(job.tools.at(pass.tool).cutter, *setting.stickout);
    return job;
}

}  // namespace standfast
