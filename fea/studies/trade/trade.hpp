#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/solids/solid_distance.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "fea/studies/trade/finish_stock.hpp"
#include "fea/studies/trade/trade_options.hpp"

namespace standfast {

/// What stands in the way of a pass, for one option: least stickout that clears, m. None: no
/// stickout does.
struct TradeReach {
    bool judged = false;
    std::optional<double> least_stickout;
    std::vector<bool> clear;  ///< of every stickout asked about
    std::string nearest;      ///< "holder against dovetail clamp"
    std::string why_not;      ///< where not judged
};
/// Asked once for each option and pass, possibly on several threads.
/// @param stickouts  m, of the pass's tool
using TradeReachOf = std::function<TradeReach(const Job& job, std::size_t pass,
                                              const std::vector<double>& stickouts)>;

struct TradeSettings {
    StabilityMethod method = StabilityMethod::periodic;
    /// Limits by `method` at every speed of the grid for every stickout that may be taken, and each
    /// of these searched; the answer is never worse for it.
    bool every_speed = false;
    int speeds = 60;        ///< of the grid, over those that may be offered
    int draws = 128;        ///< tries that tell what was chosen, those of `check`; 0: none
    int search_draws = 24;  ///< tries to choose by; not more than `draws`
    std::uint64_t seed = 1;
    TradeReachOf reach;  ///< empty: reach is not judged
    /// For the reach of the stickouts worked out; null: only `reach` is asked.
    const SolidDistance* distance = nullptr;
};

/// One stickout of one pass.
struct TradeCell {
    double stickout = 0;           ///< m
    std::optional<bool> clear;     ///< none: reach is not judged
    std::optional<double> limit;   ///< m, at the pass's speed; none: stable as deep as searched
    std::optional<double> usable;  ///< m, that the tries leave at the best speed; none: it was not
                                   ///< searched, is not worth it, or there is none
    std::optional<SpindleSpeed> best;  ///< that speed
    bool worked_out = false;           ///< searched; else only sketched: see TradePass::left_out
    std::vector<std::optional<double>>
        limits;  ///< m, over TradePass::speeds; with every_speed only, if it may be chosen
};

/// What was left out on the word of a sketch: how much too slow the sketches of a tool's stickouts
/// turned out at worst, and how much too slow the most promising one left out would have to be to
/// win; relative, of the time that the tool's passes take, against the sketches as they turned out
/// on the whole.
struct LeftOut {
    std::optional<double> seen;    ///< none: a sketch saw no depth where there is one
    std::optional<double> needed;  ///< none: none is left out that could
};

/// What limits an option or a pass. `list`: the tool stands out as little as the list of stickouts
/// has it, though less would clear.
enum class LimitedBy { reach, rigidity, list };

/// Stickouts of a list that may not be taken, and why.
struct StickoutsOut {
    int not_clear = 0;         ///< tool, holder or spindle would come too near
    int shorter_than_job = 0;  ///< reach is not judged, so that only the job's own is known to do
    bool operator==(const StickoutsOut&) const = default;
};

/// What gives and what sings, of one pass.
struct TradeWhy {
    double tool_give = 0, work_give = 0;  ///< m/N, along the wall's normal
    std::string softest;                  ///< the member that gives most of the wall error
    double softest_share = 0;
    std::optional<double> sings_hertz;  ///< of the edge of chatter at the best speed
    bool sings_on_tool = false;
    std::string sings;      ///< the member whose strain that mode is most
    double mode_hertz = 0;  ///< that mode's own frequency
    bool operator==(const TradeWhy&) const = default;
};

/// One pass of an option, at the stickout chosen for its tool.
struct TradePass {
    std::string name, tool;
    std::size_t pass = 0;
    double stickout = 0, gauge_length = 0;  ///< m
    std::optional<bool> clear;
    std::optional<double> least_stickout;  ///< m; none: not judged, or nothing clears
    std::string nearest;
    StickoutsOut out;
    LimitedBy held_by = LimitedBy::rigidity;
    SpindleSpeed speed;  ///< at which it is judged as programmed: programmed, else the best
    double depth = 0;    ///< m, judged
    bool programmed = false;
    std::optional<double> limit;  ///< m, at that speed; none: stable as deep as searched
    std::optional<SpindleSpeed> best_speed;
    std::optional<double> best_limit;  ///< m, at the best speed
    /// m, the deepest there that check recommends with the axial depth left out; by the tries,
    /// where there are any.
    std::optional<double> usable;
    double removal = 0;           ///< m^3/s at the best speed and usable depth
    double feed = 0;              ///< m/s, there; 0: no such speed
    double share = 0;             ///< of the length that all passes cut
    std::optional<double> time;   ///< s, of cutting; none: it does not say how long it cuts
    std::optional<double> error;  ///< m, wall error at the judged speed; none: unstable
    /// m, with its sign: what nine in ten tries keep at the best speed and usable depth, without
    /// tries the computed error.
    std::optional<double> best_error;
    double push_off = 0;                     ///< m, of a slow cut
    std::optional<double> allowed_error;     ///< m
    double tool_share = 0;                   ///< of the push-off, the tool side's
    std::optional<double> probability;       ///< share of tries that chatter, as judged
    std::optional<double> best_probability;  ///< at the best speed and usable depth
    HoldingResult holding;
    Verdict verdict;       ///< as programmed
    Verdict best_verdict;  ///< at the best speed and usable depth; avoid where there is none
    TradeWhy why;
    std::optional<FinishStock> finish;  ///< none: no tolerance, nothing tried, or no usable depth
    std::vector<SpindleSpeed> speeds;   ///< of the grid
    std::vector<TradeCell> cells;       ///< by stickout
    LeftOut left_out;
    /// Told by other tries over found by those of the search; none: not both.
    std::optional<double> told_ratio;
};

/// A stickout longer than need be that wins, since its pocket of stability lies on a speed that
/// the machine has.
struct TunedStickout {
    std::string tool, pass;
    double stickout = 0, shortest = 0;              ///< m
    SpindleSpeed speed;                             ///< the best with it
    std::optional<SpindleSpeed> speed_shortest;     ///< the best with the shortest
    std::optional<double> usable, usable_shortest;  ///< m, each at its best speed
    /// m, the least within a share `within` of `speed` to either side
    std::optional<double> limit, limit_shortest;
    double within = 0;
};

struct TradeResult {
    std::string id, hold;
    std::vector<TradeVariation> variations;  ///< in what it differs from the job besides its riser
    std::vector<std::string> tiers;
    double height = 0;  ///< m, of the riser
    bool as_job = false;
    double mass = 0;        ///< kg on the table
    Verdict verdict;        ///< of the worst pass, as programmed
    std::size_t worst = 0;  ///< index into passes
    Verdict best_verdict;   ///< of the worst pass, each at its best speed and usable depth
    std::size_t worst_at_best = 0;
    double removal = 0;       ///< m^3/s over all passes; see option_removal()
    double usable_share = 0;  ///< smallest usable depth over its pass's own depth
    LimitedBy limited_by = LimitedBy::rigidity;
    std::vector<TradePass> passes;
    std::vector<TunedStickout> tuned;
    std::vector<std::string> not_judged;
    std::string failed;  ///< not empty: why nothing could be computed; then the rest is empty
};

/// What was solved; shows that nothing is solved twice.
struct TradeCount {
    std::size_t tool_sides = 0, work_sides = 0, cells = 0, worked_out = 0;
};

/// A tool at one stickout, solved.
struct TradedTool {
    ToolChain chain;
    std::shared_ptr<const SolvedSide> side;
};

/// How the tries of a trade are drawn, and the tool sides drawn so far. Options draw the same
/// factors, so that they differ by what they are and not by luck.
struct TradeTries {
    OddsOptions drawn;
    DrawnSides tools;
};

/// The study of one job: tool sides are solved once for all options, one for each tool, holder and
/// stickout; work sides once for each option, place and state; cells only combine them. Several
/// threads may ask one study at once: an option's answer depends on the job and the settings alone.
class TradeStudy {
public:
    /// @throws std::domain_error as trade_grid, and where a tool cannot be modelled
    TradeStudy(const Job& job, TradeSettings settings);

    const TradeGrid& grid() const { return grid_; }
    /// Judges one option. Independent of every other, so that options can be shared out.
    TradeResult option(std::size_t index) const;
    /// What was solved so far.
    TradeCount count() const;

private:
    TradeCount judge(const TradeOption& of, TradeResult& result) const;
    std::vector<std::vector<TradedTool>> tools_of(const TradeOption& of) const;
    TradeTries tries_for(const Job& job, const TradeTries& kept) const;
    void keep_tries(const Job& job, TradeTries& used, TradeTries& kept) const;

    TradeGrid grid_;
    TradeSettings settings_;
    /// Tool x holder x stickout; rows as in TradeGrid::chains.
    std::vector<std::vector<std::vector<TradedTool>>> tools_;
    mutable std::mutex kept_;  // guards what options leave for those after them
    mutable TradeTries search_, told_;
    mutable TradeCount count_;
};

/// Share of the length that all passes cut: by what they say of their path, else equal.
double share_of_path(const Job& job, std::size_t pass);

/// Metal removed over time when every pass cuts its share of the length at its own programmed
/// section, in as many steps of its usable depth as that takes (fractions of a step count): sum of
/// what is removed over sum of that over removal. 0 where a pass has no usable depth.
double option_removal(const Job& job, const std::vector<TradePass>& passes);

}  // namespace standfast
