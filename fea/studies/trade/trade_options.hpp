#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/job.hpp"

namespace standfast {

// Room "studies": questions over many jobs, answered with the rooms above.

/// In what an option differs from the job besides its riser.
enum class Traded { hold, material, holder, tilt };
struct TradeVariation {
    Traded what = Traded::hold;
    std::string of;    ///< tier, tool or pass that it is about
    std::string name;  ///< of the hold, material or holder; empty for a tilt
    double tilt = 0;   ///< rad

    bool operator==(const TradeVariation&) const = default;
};

/// One way to make the part: the job with another riser, hold or material under it, with a tool in
/// another holder, with a pass that leans.
struct TradeOption {
    /// "150 mm" high, a name from the shelf, names joined by " + "; then what else differs
    std::string id;
    std::vector<std::string> tiers;          ///< names of the stack, from the table up
    double height = 0;                       ///< m, of what stands in the riser's place
    std::string hold;                        ///< name of the hold; empty: the job's own
    std::vector<TradeVariation> variations;  ///< hold included
    std::vector<std::size_t> holders;        ///< per tool, row of TradeGrid::chains
    bool as_job = false;                     ///< the job itself
    bool from_shelf = false;                 ///< its riser, or risers, stand on the shelf
    Job job;
};

/// Everything that a trade looks at.
struct TradeGrid {
    std::size_t tier = 0;              ///< whose place the risers take, in the job's own stack
    std::string tier_name;             ///< its name
    std::vector<TradeOption> options;  ///< by what else differs, then by height
    /// Per tool, at the job's stickout: as the job has it, then in the holders that are tried.
    std::vector<std::vector<ToolChain>> chains;
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
///   materials  of the tier that is traded, at every height of its own
///   holders    of a tool, and tilts of a pass: with every riser, hold and material, and with each
///              other
/// A tilt beyond the machine's, or one that leans a flank out of the wall that it finishes, is no
/// choice, and is left out with a note; so is whatever else cannot stand. Of a tool that is tried
/// in several holders, stickouts are those that every one of them can hold. The job's own stack and
/// stickouts are always among them. What is beside a tier that changes is moved by the rule of
/// fea/job/edits/beside_tier.hpp; an option that it cannot hold for is left out with a note.
/// @throws std::domain_error where there is no tier to trade, or no tier at all, where [trade]
/// names
///         a pass that is not there, or where there would be more than a thousand options
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
