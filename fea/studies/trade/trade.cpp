#include "fea/studies/trade/trade.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <set>
#include <stdexcept>

#include "fea/job/edits/apply_edits.hpp"
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

/// Place of a tool's own stickout among those that are tried, where there are any; it is always one
/// of them.
std::size_t place_of_own(const std::vector<double>& stickouts, double own) {
    if (stickouts.empty()) return 0;
    for (std::size_t i = 0; i < stickouts.size(); ++i) {
        if (std::abs(stickouts[i] - own) < kSame) return i;
    }
    throw std::logic_error("trade: a tool's own stickout is not among those that are tried");
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
        std::size_t tool, holder, stickout;
    };
    std::vector<Place> places;
    tools_.resize(job.tools.size());
    for (std::size_t tool = 0; tool < job.tools.size(); ++tool) {
        if (passes_of(job, tool).empty()) continue;
        const std::size_t stickouts = std::max<std::size_t>(1, grid_.stickouts[tool].size());
        for (std::size_t holder = 0; holder < grid_.chains[tool].size(); ++holder) {
            tools_[tool].emplace_back(stickouts);
            for (std::size_t s = 0; s < stickouts; ++s) places.push_back({tool, holder, s});
        }
    }
    for_each_index(places.size(), [&](std::size_t i) {
        const auto [tool, holder, s] = places[i];
        const std::vector<double>& stickouts = grid_.stickouts[tool];
        Job at = job;
        at.tools[tool] = grid_.chains[tool][holder];
        if (!stickouts.empty()) at = edited(at, Stickout{at.tools[tool].name, stickouts[s]});
        const Pass& pass = at.passes[passes_of(at, tool).front()];
        tools_[tool][holder][s] = {at.tools[tool], tool_side_of(at, pass)};
    });
    count_.tool_sides = places.size();
    search_.drawn = {.draws = std::min(settings_.search_draws, settings_.draws),
                     .seed = settings_.seed + kOtherSeed};
    told_.drawn = {.draws = settings_.draws, .seed = settings_.seed};
}

/// Its tools at their stickouts, each in the option's holder.
std::vector<TradedTools> TradeStudy::tools_of(const TradeOption& of) const {
    std::vector<TradedTools> tools(tools_.size());
    for (std::size_t tool = 0; tool < tools.size(); ++tool) {
        if (!tools_[tool].empty()) tools[tool] = tools_[tool].at(of.holders[tool]);
    }
    return tools;
}

TradeCount TradeStudy::count() const {
    const std::lock_guard guard(kept_);
    return count_;
}

TradeResult TradeStudy::option(std::size_t index) const {
    const TradeOption& of = grid_.options.at(index);
    TradeResult result;
    result.id = of.id;
    result.hold = of.hold;
    result.variations = of.variations;
    result.tiers = of.tiers;
    result.height = of.height;
    result.as_job = of.as_job;
    try {
        const TradeCount solved = judge(of, result);
        const std::lock_guard guard(kept_);
        count_.work_sides += solved.work_sides;
        count_.cells += solved.cells;
        count_.worked_out += solved.worked_out;
    } catch (const std::domain_error& error) {
        result.failed = error.what();
        result.passes.clear();
    }
    return result;
}

/// What an option's tries begin with: the tool sides that options before it drew. They do not
/// depend on the stack, unless an overlay says that errors of the two hang together.
TradeTries TradeStudy::tries_for(const Job& job, const TradeTries& kept) const {
    if (job.fitted) return {.drawn = kept.drawn, .tools = {}};
    const std::lock_guard guard(kept_);
    return kept;
}

void TradeStudy::keep_tries(const Job& job, TradeTries& used, TradeTries& kept) const {
    if (job.fitted) return;
    const std::lock_guard guard(kept_);
    kept.tools.merge(used.tools);
}

TradeCount TradeStudy::judge(const TradeOption& of, TradeResult& result) const {
    TradeCount solved;
    const std::vector<TradedTools> tools = tools_of(of);
    TradeOptionCase option;
    option.job = &of.job;
    option.open = without_depths(of.job);
    const std::size_t count = of.job.passes.size();
    std::vector<std::size_t> passes(count);
    std::iota(passes.begin(), passes.end(), std::size_t{0});
    const std::vector<std::shared_ptr<const SolvedSide>> work = solve_work_sides(of.job, passes);
    solved.work_sides = count_of_different(work);
    option.cases.resize(count);
    for_each_index(count, [&](std::size_t p) {
        const std::size_t tool = of.job.passes[p].tool;
        const double own = stickout_of(of.job.tools[tool].cutter);
        const TradedTool& at = tools[tool][place_of_own(grid_.stickouts[tool], own)];
        option.cases[p] = trade_pass_case(of.job, option.open, p, work[p], at, settings_);
    });
    option.chosen.resize(count);
    option.by_default.resize(count);
    option.answers.resize(count);
    option.left_out.resize(count);
    TradeTries search = tries_for(of.job, search_), told = tries_for(of.job, told_);
    begin_case(option, grid_, tools, settings_);
    sketch_cells(option, tools, settings_, search);
    for (std::size_t tool = 0; tool < tools.size(); ++tool) {
        choose_stickout(option, tool, tools, settings_, search);
    }
    tell_choice(option, tools, settings_, told);
    keep_tries(of.job, search, search_);
    keep_tries(of.job, told, told_);

    result.mass = stack_mass(of.job.stack, tier_frames(of.job.stack)).mass;
    for (std::size_t p = 0; p < count; ++p) {
        solved.cells += option.sketches[p].cells.size();
        for (const auto& searched : option.searched[p]) {
            solved.worked_out += static_cast<std::size_t>(searched.has_value());
        }
    }
    fill_result(result, option, grid_, tools);
    result.tuned = tuned_stickouts(option, grid_, tools, settings_);
    return solved;
}

}  // namespace standfast
