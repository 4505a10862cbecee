#include <algorithm>
#include <cmath>
#include <functional>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/job/edits/beside_tier.hpp"
#include "fea/job/edits/tool_edits.hpp"
#include "fea/judgement/reach/machine_reach.hpp"
#include "fea/judgement/reach/reach.hpp"
#include "fea/judgement/reach/reach_scene.hpp"

namespace standfast {
namespace {

constexpr int kGrid = 24;
constexpr double kTallestRiser = 1.0;  // m
constexpr double kFlattest = 1e-4;     // m

/// Smallest value of an ascending grid that holds, narrowed down toward the one before it.
std::optional<double> least_that(const std::vector<double>& grid, double accuracy,
                                 const std::function<bool(double)>& holds) {
    for (std::size_t i = 0; i < grid.size(); ++i) {
        if (!holds(grid[i])) continue;
        if (i == 0) return grid[0];
        double fails = grid[i - 1], works = grid[i];
        while (works - fails > accuracy) {
            const double middle = (fails + works) / 2;
            (holds(middle) ? works : fails) = middle;
        }
        return works;
    }
    return std::nullopt;
}

std::vector<double> even_grid(double from, double to, double also) {
    std::vector<double> grid;
    for (int i = 0; i <= kGrid; ++i) grid.push_back(from + (to - from) * i / kGrid);
    if (also > from && also < to) {
        grid.insert(std::upper_bound(grid.begin(), grid.end(), also), also);
    }
    return grid;
}

}  // namespace

std::optional<double> least_stickout(const Job& job, const Pass& pass,
                                     const SolidDistance& distance, const ReachOptions& options) {
    if (!why_reach_is_unknown(job, pass, options).empty()) return std::nullopt;
    const ToolChain& tool = job.tools[pass.tool];
    const double present = stickout_of(tool.cutter);
    const StickoutRange range = stickout_range(tool, pass);
    const double from = std::max(range.least, kFlattest);
    const double to = range.most.value_or(std::max(3 * present, 15 * tool.cutter.diameter));
    if (to < from) return std::nullopt;
    const ReachScene scene = reach_scene(job, pass);
    return least_that(even_grid(from, to, present), 1e-5, [&](double stickout) {
        if (machine_short_of(job, pass, stickout, options.clearance)) return false;
        const ToolChain set = with_stickout(tool, stickout);
        return nearest_gap(scene, tool_solids(job.machine, set, stickout), distance,
                           options.clearance, Search::at_first_fault)
            .clear();
    });
}

std::optional<std::size_t> riser_under(const Job& job, const Pass& pass) {
    const std::vector<Tier>& tiers = job.stack.tiers;
    if (pass.tier >= tiers.size()) return std::nullopt;
    std::optional<std::size_t> riser;
    for (auto host = tiers[pass.tier].placement.host; host && *host < tiers.size();
         host = tiers[*host].placement.host) {
        if (!tiers[*host].lump && (!riser || tiers[*host].height > tiers[*riser].height)) {
            riser = host;
        }
    }
    return riser;
}

std::optional<double> least_riser_height(const Job& job, const Pass& pass, std::size_t tier,
                                         const SolidDistance& distance,
                                         const ReachOptions& options) {
    if (tier >= job.stack.tiers.size() || !why_reach_is_unknown(job, pass, options).empty()) {
        return std::nullopt;
    }
    const std::string& name = job.stack.tiers[tier].name;
    const auto clears = [&](double height) {
        const Job changed = edited(job, TierHeight{name, height});
        const ToolChain& tool = job.tools[pass.tool];
        const double stickout = stickout_of(tool.cutter);
        if (machine_short_of(changed, pass, stickout, options.clearance)) return false;
        return nearest_gap(reach_scene(changed, pass), tool_solids(job.machine, tool, stickout),
                           distance, options.clearance, Search::at_first_fault)
            .clear();
    };
    const double least = std::max(kFlattest, least_height(job, tier));
    const auto found =
        least_that(even_grid(least, kTallestRiser, job.stack.tiers[tier].height), 1e-4, clears);
    return found && *found <= kFlattest ? 0.0 : found;
}

}  // namespace standfast
