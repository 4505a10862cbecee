#pragma once

#include <map>
#include <optional>
#include <vector>

#include "fea/studies/trade/trade_cell.hpp"
#include "fea/studies/trade/trade_choice.hpp"

namespace standfast {

/// Everything about one option while it is judged.
struct TradeOptionCase {
    const Job* job = nullptr;
    Job open;
    std::vector<TradePassCase> cases;
    std::vector<TradeReach> reach;
    std::vector<PassSketches> sketches;
    DrawnSides drawn_works;  ///< by the tries of the search
    /// Pass x stickout; those searched.
    std::vector<std::vector<std::optional<SearchedCell>>> searched;
    std::vector<std::vector<std::size_t>> allowed;  ///< per tool: stickouts that may be chosen
    std::vector<std::size_t> chosen;                ///< per pass: index of its stickout
    std::vector<std::size_t> by_default;            ///< the same, without every_speed
    /// Pass x stickout; those chosen, and the shortest allowed where a longer one is chosen.
    std::vector<std::map<std::size_t, CellAnswer>> answers;
    std::vector<LeftOut> left_out;  ///< per pass: those of its tool

    const CellAnswer& answer(std::size_t pass) const { return answers[pass].at(chosen[pass]); }
};

/// Indices of the passes of a tool.
std::vector<std::size_t> passes_of(const Job& job, std::size_t tool);

// The steps of judging an option, in this order; `cases` are there already.

/// Sizes everything by pass and stickout, and asks for reach.
void begin_case(TradeOptionCase& option, const TradeGrid& grid,
                const std::vector<TradedTools>& tools, const TradeSettings& settings);

/// Sketches of every cell; of those that may not be chosen, the limit alone.
/// @param tries  of the search
void sketch_cells(TradeOptionCase& option, const std::vector<TradedTools>& tools,
                  const TradeSettings& settings, TradeTries& tries);

/// Searches the shortest stickout that may be chosen and the most promising one, then those whose
/// sketch need not be further off than one that was seen to be, each only for whether it is quicker
/// than the best before it, and chooses among them; with every_speed all others after these.
/// @param tries  of the search
void choose_stickout(TradeOptionCase& option, std::size_t tool,
                     const std::vector<TradedTools>& tools, const TradeSettings& settings,
                     TradeTries& tries);

/// Judges what was chosen with tries that had no part in the choice; of two choices, with
/// every_speed and without, the better one by these stays.
/// @param tries  others than those of the search
void tell_choice(TradeOptionCase& option, const std::vector<TradedTools>& tools,
                 const TradeSettings& settings, TradeTries& tries);

}  // namespace standfast
