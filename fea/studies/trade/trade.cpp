#include "fea/studies/trade/trade.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>

#include "fea/judgement/answer/weight.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/studies/trade/trade_case.hpp"
#include "fea/studies/trade/trade_result.hpp"

namespace standfast {
namespace {

// Sizes closer than this are one and the same.
constexpr double kSame = 1e-6;
// What is told is tried with check's own seed, what is searched with one that nobody asks for.
constexpr std::uint64_t kOtherSeed = 0x9e3779b97f4a7c15;

std::size_t index_of(const std::vector<double>& values, double wanted) {
    for (std::size_t i = 0; i < values.size(); ++i) {
        if (std::abs(values[i] - wanted) < kSame) return i;
    }
    return 0;
}

Job without_depths(Job job) {
    for (Pass& pass : job.passes) pass.axial.reset();
    return job;
}

std::size_t count_of_different(const std::vector<std::shared_ptr<const SolvedSide>>& sides) {
    std::set<const SolvedSide*> different;
    for (const auto& side : sides) different.insert(side.get());
    return different.size();
}

}  // namespace

TradeStudy::TradeStudy(const Job& job, TradeSettings settings)
    : grid_(trade_grid(job)), settings_(std::move(settings)) {
    if (job.passes.empty()) throw std::domain_error("trade: the job has no pass");
    struct Place {
        std::size_t tool, stickout;
    };
    std::vector<Place> places;
    for (std::size_t tool = 0; tool < job.tools.size(); ++tool) {
        if (passes_of(job, tool).empty()) {
            tools_.emplace_back();
            continue;
        }
        tools_.emplace_back(std::max<std::size_t>(1, grid_.stickouts[tool].size()));
        for (std::size_t s = 0; s < tools_.back().size(); ++s) places.push_back({tool, s});
    }
    for_each_index(places.size(), [&](std::size_t i) {
        const auto [tool, s] = places[i];
        const std::vector<double>& stickouts = grid_.stickouts[tool];
        const ToolChain chain =
            stickouts.empty() ? job.tools[tool] : with_stickout(job.tools[tool], stickouts[s]);
        Job at = job;
        at.tools[tool] = chain;
        Pass pass;
        pass.tool = tool;
        tools_[tool][s] = {chain, tool_side_of(at, pass)};
    });
    count_.tool_sides = places.size();
    search_.drawn = {.draws = std::min(settings_.search_draws, settings_.draws),
                     .seed = settings_.seed + kOtherSeed};
    told_.drawn = {.draws = settings_.draws, .seed = settings_.seed};
}

TradeResult TradeStudy::option(std::size_t index) {
    const TradeOption& of = grid_.options.at(index);
    TradeResult result;
    result.id = of.id;
    result.hold = of.hold;
    result.tiers = of.tiers;
    result.height = of.height;
    result.as_job = of.as_job;
    try {
        judge(of, result);
    } catch (const std::domain_error& error) {
        result.failed = error.what();
        result.passes.clear();
    }
    return result;
}

void TradeStudy::judge(const TradeOption& of, TradeResult& result) {
    TradeOptionCase option;
    option.job = &of.job;
    option.open = without_depths(of.job);
    const std::size_t count = of.job.passes.size();
    std::vector<std::size_t> passes(count);
    std::iota(passes.begin(), passes.end(), std::size_t{0});
    const std::vector<std::shared_ptr<const SolvedSide>> work = solve_work_sides(of.job, passes);
    count_.work_sides += count_of_different(work);
    option.cases.resize(count);
    for_each_index(count, [&](std::size_t p) {
        const std::size_t tool = of.job.passes[p].tool;
        const double own = stickout_of(of.job.tools[tool].cutter);
        const TradedTool& at = tools_[tool][index_of(grid_.stickouts[tool], own)];
        option.cases[p] = trade_pass_case(of.job, option.open, p, work[p], at, settings_);
    });
    option.chosen.resize(count);
    option.by_default.resize(count);
    option.answers.resize(count);
    option.left_out.resize(count);
    begin_case(option, grid_, tools_, settings_);
    sketch_cells(option, tools_, settings_, search_);
    for (std::size_t tool = 0; tool < tools_.size(); ++tool) {
        choose_stickout(option, tool, tools_, settings_, search_);
    }
    tell_choice(option, tools_, settings_, told_);

    result.mass = stack_mass(of.job.stack, tier_frames(of.job.stack)).mass;
    for (std::size_t p = 0; p < count; ++p) {
        count_.cells += option.sketches[p].cells.size();
        for (const auto& searched : option.searched[p]) {
            count_.worked_out += static_cast<unsigned long>(searched.has_value());
        }
    }
    fill_result(result, option, grid_, tools_);
    result.tuned = tuned_stickouts(option, grid_, tools_, settings_);
}

}  // namespace standfast
