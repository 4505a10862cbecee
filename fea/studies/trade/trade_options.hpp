#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/job.hpp"

namespace standfast {

// Room "studies": questions over many jobs, answered with the rooms above.

/// One way to stand the part: the job with another riser, or another hold.
struct TradeOption {
    std::string id;  ///< "150 mm" high, a name from the shelf, names joined by " + "
    std::vector<std::string> tiers;  ///< names of the stack, from the table up
    double height = 0;               ///< m, of what stands in the riser's place
    std::string hold;                ///< name of the hold; empty: the job's own
    bool as_job = false;             ///< the job's own stack
    Job job;
};

/// Everything that a trade looks at.
struct TradeGrid {
    std::size_t tier = 0;              ///< whose place the risers take, in the job's own stack
    std::string tier_name;             ///< its name
    std::vector<TradeOption> options;  ///< by hold, then by height
    std::vector<std::vector<double>> stickouts;  ///< m, per tool, ascending; empty: not traded
    std::vector<Assumption> notes;               ///< what was not said and was chosen
};

/// The options and stickouts of a job, with defaults for what its [trade] leaves out:
///   tier       the one with "riser" in its name, else the tallest that carries others and is not
///              cut itself
///   heights    nine even steps from 0.4 to 1.6 times the tier's own, unless [trade] gives heights
///              or there is a shelf
///   risers     every row of the shelf alone
///   stickouts  nine even steps from 0.6 to 1.4 times the tool's own, within what traded_range()
///              allows; never longer than the job's without an overall length
/// The job's own stack and stickouts are always among them. What is beside a tier that changes is
/// moved by the rule of fea/job/edits/beside_tier.hpp; an option that it cannot hold for is left
/// out with a note.
/// @throws std::domain_error where there is no tier to trade, or no tier at all
TradeGrid trade_grid(const Job& job);

/// Least and greatest stickout of a tool, m: its flutes stay out of the holder, and so much shank
/// stays in as the grip needs (its least length, or what it holds now). Without an overall length
/// the greatest is the present one.
struct TradedRange {
    double least = 0, greatest = 0;
};
TradedRange traded_range(const ToolChain& tool);

/// Whether the stickout of a tool can be traded: neither rigid nor known by its modes.
bool has_stickout(const ToolChain& tool);

}  // namespace standfast
