#include "fea/studies/trade/trade_variations.hpp"

#include <cmath>
#include <cstddef>
#include <functional>
#include <numbers>
#include <optional>
#include <stdexcept>
#include <utility>
#include <vector>

#include "fea/job/edits/apply_edits.hpp"

namespace standfast {
namespace {

constexpr double kSame = 1e-6;  // rad; angles closer than this are one and the same
constexpr std::size_t kMostOptions = 1000;

std::vector<Edit> edits_of(const TradeHold& hold, const std::string& tier) {
    std::vector<Edit> edits;
    if (hold.joint) edits.emplace_back(TierHold{tier, *hold.joint});
    if (hold.material) edits.emplace_back(TierMaterial{tier, *hold.material});
    if (hold.shape) edits.emplace_back(TierSection{tier, *hold.shape, std::nullopt});
    if (hold.height) edits.emplace_back(TierHeight{tier, *hold.height});
    return edits;
}

/// A way to vary every option that stands so far.
struct Variation {
    TradeVariation said;
    std::string words;  ///< after an option's id
    std::vector<Edit> edits;
    std::optional<std::size_t> tool;  ///< whose holder it is
    std::size_t chain = 0;            ///< its row of TradeGrid::chains
};

TradeOption varied(const TradeOption& option, const Variation& by) {
    TradeOption other = option;
    other.id += ", " + by.words;
    other.job = edited(option.job, by.edits);
    other.as_job = false;
    if (by.said.what == Traded::hold) other.hold = by.said.name;
    other.variations.push_back(by.said);
    if (by.tool) other.holders[*by.tool] = by.chain;
    return other;
}

void leave_out(TradeGrid& grid, const std::string& what, const std::string& why) {
    grid.notes.push_back({.path = "trade." + what, .text = "left out: " + why});
}

void require_few(std::size_t count) {
    if (count > kMostOptions) {
        throw std::domain_error("trade: " + std::to_string(count) + " choices, more than " +
                                std::to_string(kMostOptions) +
                                ": fewer heights, holds, materials, holders or tilts");
    }
}

/// Every option that stands so far under each of the variations, after those without.
void vary(TradeGrid& grid, const std::vector<Variation>& variations,
          const std::function<bool(const TradeOption&)>& fits = nullptr) {
    const std::vector<TradeOption> before = grid.options;
    require_few(before.size() * (1 + variations.size()));
    for (const Variation& by : variations) {
        for (const TradeOption& option : before) {
            if (fits && !fits(option)) continue;
            try {
                grid.options.push_back(varied(option, by));
            } catch (const std::domain_error& error) {
                leave_out(grid, option.id + ", " + by.words, error.what());
            }
        }
    }
}

/// Whether a variation can be made on the job itself; a note where not.
bool can_be(TradeGrid& grid, const Job& job, const Variation& by) {
    try {
        edited(job, by.edits);
        return true;
    } catch (const std::domain_error& error) {
        leave_out(grid, by.words, error.what());
        return false;
    }
}

void add_holds(TradeGrid& grid, const Job& job) {
    std::vector<Variation> variations;
    for (const TradeHold& hold : job.trade->holds) {
        const std::string tier = job.stack.tiers.at(hold.tier).name;
        variations.push_back({.said = {Traded::hold, tier, hold.name, 0},
                              .words = hold.name,
                              .edits = edits_of(hold, tier),
                              .tool = std::nullopt,
                              .chain = 0});
    }
    vary(grid, variations);
}

/// Of the traded tier itself; what stands on the shelf is what it is.
void add_materials(TradeGrid& grid, const Job& job) {
    std::vector<Variation> variations;
    for (const Material& material : job.trade->materials) {
        if (material.name == job.stack.tiers[grid.tier].material.name) continue;
        Variation by{.said = {Traded::material, grid.tier_name, material.name, 0},
                     .words = material.name,
                     .edits = {TierMaterial{grid.tier_name, material}},
                     .tool = std::nullopt,
                     .chain = 0};
        if (can_be(grid, job, by)) variations.push_back(std::move(by));
    }
    vary(grid, variations, [](const TradeOption& option) { return !option.from_shelf; });
}

void add_holders(TradeGrid& grid, const Job& job) {
    for (const ToolHolders& holders : job.trade->holders) {
        const ToolChain& tool = job.tools.at(holders.tool);
        const bool alone = job.trade->holders.size() == 1;
        std::vector<Variation> variations;
        for (const std::size_t row : holders.holders) {
            const ShelfHolder& holder = job.holders.at(row);
            Variation by{.said = {Traded::holder, tool.name, holder.name, 0},
                         .words = (alone ? "" : tool.name + " in ") + holder.name,
                         .edits = {ToolHolder{tool.name, holder}},
                         .tool = holders.tool,
                         .chain = grid.chains[holders.tool].size()};
            if (!can_be(grid, job, by)) continue;
            grid.chains[holders.tool].push_back(edited(job, by.edits).tools[holders.tool]);
            variations.push_back(std::move(by));
        }
        vary(grid, variations);
    }
}

std::string in_degrees(double angle) {
    return to_hundredths(angle * 180 / std::numbers::pi) + " deg";
}

bool machine_leans(const Machine& machine, double tilt) {
    return !machine.tilt_max || std::abs(tilt) <= *machine.tilt_max + kSame;
}

void add_tilts(TradeGrid& grid, const Job& job) {
    for (const PassTilts& tilts : job.trade->tilts) {
        const Pass& pass = job.passes[pass_named(job, tilts.pass)];
        const bool alone = job.trade->tilts.size() == 1;
        std::vector<Variation> variations;
        for (const double tilt : tilts.tilts) {
            if (std::abs(tilt - pass.tilt) < kSame) continue;
            Variation by{.said = {Traded::tilt, pass.name, "", tilt},
                         .words = (alone ? "tilt " : pass.name + " at ") + in_degrees(tilt),
                         .edits = {PassTilt{pass.name, tilt}},
                         .tool = std::nullopt,
                         .chain = 0};
            if (!machine_leans(job.machine, tilt)) {
                leave_out(grid, by.words, "beyond the tilt of the machine");
            } else if (can_be(grid, job, by)) {
                variations.push_back(std::move(by));
            }
        }
        vary(grid, variations);
    }
}

}  // namespace

void add_variations(TradeGrid& grid, const Job& job) {
    if (!job.trade) return;
    add_holds(grid, job);
    add_materials(grid, job);
    add_holders(grid, job);
    add_tilts(grid, job);
}

std::string to_hundredths(double value) {
    std::string text = std::to_string(std::round(value * 1e2) / 1e2);
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
    return text;
}

}  // namespace standfast
