#include "fea/studies/trade/trade_options.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>
#include <utility>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/studies/trade/trade_variations.hpp"

namespace standfast {
namespace {

constexpr int kSteps = 9;
constexpr double kLeastShare = 0.4, kGreatestShare = 1.6;
constexpr double kLeastStickout = 0.6, kGreatestStickout = 1.4;
// Sizes closer than this are one and the same.
constexpr double kSame = 1e-6;

bool named_riser(const Tier& tier) {
    std::string name = tier.name;
    std::transform(name.begin(), name.end(), name.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return name.find("riser") != std::string::npos;
}

bool is_cut(const Job& job, std::size_t tier) {
    return std::any_of(job.passes.begin(), job.passes.end(),
                       [&](const Pass& pass) { return pass.tier == tier; });
}

bool carries(const Stack& stack, std::size_t tier) {
    return std::any_of(stack.tiers.begin(), stack.tiers.end(),
                       [&](const Tier& guest) { return guest.placement.host == tier; });
}

std::size_t tier_to_trade(const Job& job) {
    const std::vector<Tier>& tiers = job.stack.tiers;
    if (tiers.empty()) {
        throw std::domain_error(
            "trade: the stack has no tiers (it is rigid or known by its modes), so that there is "
            "no riser to trade");
    }
    if (job.trade && job.trade->tier) return *job.trade->tier;
    std::optional<std::size_t> found;
    for (std::size_t i = 0; i < tiers.size(); ++i) {
        if (is_cut(job, i) || !carries(job.stack, i)) continue;
        if (named_riser(tiers[i])) return i;
        if (!found || tiers[i].height > tiers[*found].height) found = i;
    }
    if (!found) {
        throw std::domain_error(
            "trade: no tier carries the part without being cut itself; [trade] tier names the one "
            "whose height is traded");
    }
    return *found;
}

/// To 5 mm, to 1 mm below 50 mm: sizes that can be had.
double round_size(double size) {
    const double step = size < 0.05 ? 1e-3 : 5e-3;
    return std::max(step, std::round(size / step) * step);
}

std::vector<double> even_steps(double low, double high, double (*rounded)(double)) {
    std::vector<double> steps;
    for (int i = 0; i < kSteps; ++i) {
        steps.push_back(rounded(low + (high - low) * i / (kSteps - 1)));
    }
    return steps;
}

double to_half_millimetre(double size) { return std::round(size * 2e3) / 2e3; }

/// Ascending, with the job's own among them and what is the same once; the job's own wins.
std::vector<double> with_own(std::vector<double> values, double own) {
    std::erase_if(values, [&](double value) { return std::abs(value - own) < kSame; });
    values.push_back(own);
    std::sort(values.begin(), values.end());
    values.erase(std::unique(values.begin(), values.end(),
                             [](double a, double b) { return std::abs(a - b) < kSame; }),
                 values.end());
    return values;
}

std::vector<double> traded_heights(const Job& job, std::size_t tier, TradeGrid& grid) {
    const double own = job.stack.tiers[tier].height;
    if (job.trade && !job.trade->heights.empty()) return with_own(job.trade->heights, own);
    if (!job.shelf.empty() || job.stack.tiers[tier].lump) return {own};
    grid.notes.push_back({.path = "trade.heights",
                          .text = "nine steps from 0.4 to 1.6 times the height of \"" +
                                  job.stack.tiers[tier].name + "\""});
    return with_own(even_steps(kLeastShare * own, kGreatestShare * own, round_size), own);
}

/// That every holder of the tool allows.
TradedRange common_range(const std::vector<ToolChain>& chains) {
    TradedRange common = traded_range(chains.front());
    for (const ToolChain& chain : chains) {
        const TradedRange range = traded_range(chain);
        common.least = std::max(common.least, range.least);
        common.greatest = std::min(common.greatest, range.greatest);
    }
    return common;
}

std::vector<double> traded_stickouts(const Job& job, std::size_t index, TradeGrid& grid) {
    const ToolChain& tool = job.tools[index];
    const double own = stickout_of(tool.cutter);
    std::vector<double> asked;
    if (job.trade) {
        asked = job.trade->stickouts;
        for (const ToolStickouts& by_tool : job.trade->by_tool) {
            if (by_tool.tool == index) asked = by_tool.stickouts;
        }
    }
    const TradedRange range = common_range(grid.chains[index]);
    if (asked.empty()) {
        asked = even_steps(std::max(range.least, kLeastStickout * own),
                           std::max(own, std::min(range.greatest, kGreatestStickout * own)),
                           to_half_millimetre);
        grid.notes.push_back({.path = "trade.stickouts.\"" + tool.name + "\"",
                              .text = tool.cutter.overall
                                          ? "nine steps from 0.6 to 1.4 times its own"
                                          : "nine steps from 0.6 times its own up to its own: no "
                                            "overall length is given"});
        std::erase_if(asked, [&](double value) {
            return value < range.least - kSame || value > range.greatest + kSame;
        });
        return with_own(std::move(asked), own);
    }
    const std::size_t count = asked.size();
    std::erase_if(asked, [&](double value) {
        // Without an overall length a list is taken at its word.
        return value < range.least - kSame ||
               (tool.cutter.overall && value > range.greatest + kSame);
    });
    if (asked.size() < count) {
        grid.notes.push_back(
            {.path = "trade.stickouts.\"" + tool.name + "\"",
             .text = std::to_string(count - asked.size()) +
                     " left out: the flutes would be in the holder, or too little of the shank"});
    }
    return with_own(std::move(asked), own);
}

std::vector<std::string> names_of(const Stack& stack) {
    std::vector<std::string> names;
    for (const Tier& tier : stack.tiers) names.push_back(tier.name);
    return names;
}

std::string in_millimetres(double size) { return to_hundredths(size * 1e3) + " mm"; }

TradeOption option_of(const std::string& id, double height, Job job) {
    TradeOption option;
    option.id = id;
    option.tiers = names_of(job.stack);
    option.height = height;
    option.holders.assign(job.tools.size(), 0);
    option.job = std::move(job);
    return option;
}

/// An option, or a note why it cannot stand.
template <typename Make>
void add_option(TradeGrid& grid, const std::string& id, const Make& make) {
    try {
        grid.options.push_back(make());
    } catch (const std::domain_error& error) {
        grid.notes.push_back(
            {.path = "trade." + id, .text = std::string("left out: ") + error.what()});
    }
}

ShelfRisers from_shelf(const Job& job, const TradeGrid& grid,
                       const std::vector<std::size_t>& rows) {
    ShelfRisers pile{.tier = grid.tier_name, .risers = {}};
    for (const std::size_t row : rows) pile.risers.push_back(job.shelf.at(row));
    return pile;
}

void add_risers(TradeGrid& grid, const Job& job) {
    const double own = job.stack.tiers[grid.tier].height;
    for (const double height : traded_heights(job, grid.tier, grid)) {
        const std::string id = in_millimetres(height);
        add_option(grid, id, [&] {
            TradeOption option =
                option_of(id, height, edited(job, TierHeight{grid.tier_name, height}));
            option.as_job = std::abs(height - own) < kSame;
            return option;
        });
    }
    std::vector<std::vector<std::size_t>> risers;
    if (job.trade) risers = job.trade->risers;
    for (std::size_t row = 0;
         risers.size() < job.shelf.size() && (!job.trade || job.trade->risers.empty()); ++row) {
        risers.push_back({row});
    }
    for (const std::vector<std::size_t>& rows : risers) {
        std::string id;
        double height = 0;
        for (const std::size_t row : rows) {
            id += (id.empty() ? "" : " + ") + job.shelf.at(row).name;
            height += job.shelf[row].height;
        }
        add_option(grid, id, [&] {
            TradeOption option = option_of(id, height, edited(job, from_shelf(job, grid, rows)));
            option.from_shelf = true;
            return option;
        });
    }
    std::stable_sort(
        grid.options.begin(), grid.options.end(),
        [](const TradeOption& a, const TradeOption& b) { return a.height < b.height; });
}

}  // namespace

bool has_stickout(const ToolChain& tool) {
    return !tool.rigid && tool.modes.empty() && stickout_of(tool.cutter) > 0;
}

TradedRange traded_range(const ToolChain& tool) {
    const Cutter& cutter = tool.cutter;
    const double own = stickout_of(cutter);
    // Common practice, no source: flutes are not gripped; the neck, if any, stays out too.
    double least = cutter.flute_length + cutter.neck_length;
    for (std::size_t i = 1; i < cutter.segments.size(); ++i) least += cutter.segments[i].length;
    const double gripped = tool.grip_least.value_or(tool.grip_length);
    const double greatest = cutter.overall ? std::max(own, *cutter.overall - gripped) : own;
    return {std::min(least, own), greatest};
}

TradeGrid trade_grid(const Job& job) {
    TradeGrid grid;
    grid.tier = tier_to_trade(job);
    grid.tier_name = job.stack.tiers[grid.tier].name;
    for (const ToolChain& tool : job.tools) grid.chains.push_back({tool});
    add_risers(grid, job);
    add_variations(grid, job);
    for (std::size_t tool = 0; tool < job.tools.size(); ++tool) {
        const bool used = std::any_of(job.passes.begin(), job.passes.end(),
                                      [&](const Pass& pass) { return pass.tool == tool; });
        grid.stickouts.push_back(used && has_stickout(job.tools[tool])
                                     ? traded_stickouts(job, tool, grid)
                                     : std::vector<double>{});
    }
    return grid;
}

}  // namespace standfast
