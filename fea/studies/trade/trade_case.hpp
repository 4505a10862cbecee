#pragma once

#include <optional>
#include <vector>

#include "fea/studies/trade/trade_cell.hpp"
#include "fea/studies/trade/trade_choice.hpp"

namespace standfast {

/// One tool at its stickouts.
using TradedTools = std::vector<TradedTool>;

/// Everything about one option while it is judged.
struct TradeOptionCase {
    const Job* job = nullptr;
    Job open;
    std::vector<TradePassCase> cases;
    std::vector<TradeReach> reach;
    std::vector<PassSketches> sketches;
    /// Pass x stickout; those worked out.
    std::vector<std::vector<std::optional<CellAnswer>>> answers;
    std::vector<std::vector<std::size_t>> allowed;  ///< per tool: stickouts that may be chosen
    std::vector<std::size_t> chosen;                ///< per pass: index of its stickout
    std::vector<LeftOut> left_out;                  ///< per pass: those of its tool
};

/// Indices of the passes of a tool.
std::vector<std::size_t> passes_of(const Job& job, std::size_t tool);

// The steps of judging an option, in this order; `cases` are there already.

/// Sizes everything by pass and stickout, and asks for reach.
void begin_case(TradeOptionCase& option, const TradeGrid& grid,
                const std::vector<TradedTools>& tools, const TradeSettings& settings);

/// Sketches of every cell; of those that may not be chosen, limits alone.
void sketch_cells(TradeOptionCase& option, const std::vector<TradedTools>& tools,
                  const TradeSettings& settings);

/// Works out the shortest stickout that may be chosen and the most promising one, then those whose
/// sketch need not be further off than one that was seen to be, and chooses among them.
void choose_stickout(TradeOptionCase& option, std::size_t tool, const TradedTools& tools,
                     const TradeSettings& settings);

/// The odds of chatter at the judged speed and depth of every pass, and the verdicts with them.
/// @param drawn_tools  tool sides drawn for other options, kept
void add_odds(TradeOptionCase& option, const std::vector<TradedTools>& tools,
              const TradeSettings& settings, DrawnSides& drawn_tools);

}  // namespace standfast
