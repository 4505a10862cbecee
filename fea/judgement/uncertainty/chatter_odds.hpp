#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"

namespace standfast {

/// How sure the answer is, given how well joints, machine and material are known: the delay
/// equation solved for many draws of them. It speaks of our ignorance of one stack, not of a scrap
/// rate.
struct OddsOptions {
    int draws = 128;  ///< 0: none
    std::uint64_t seed = 1;
    int least_speeds = 48;
};

/// 10 % and 90 % quantiles over the draws.
struct DrawnRange {
    double low = 0, high = 0;
};

/// Share of the variance that one unknown explains.
struct Influence {
    std::string group;
    double share = 0;
};

struct ChatterOdds {
    int draws = 0;
    std::uint64_t seed = 0;
    std::vector<SpindleSpeed> speed;  ///< ascending; where it was computed
    std::vector<double> unstable;     ///< share of draws unstable at the depth
    /// Largest and root-mean-square difference between a computed share and what linear
    /// interpolation in 1/rpm between its neighbours had said, over the refined speeds.
    double interpolation_worst = 0, interpolation_rms = 0;
    double at_judged = 0;
    SpindleSpeed judged = {};
    /// At the judged speed with a fresh edge, whose flank does not rub; none where rubbing is not
    /// that of the material's group.
    std::optional<double> fresh_edge;
    /// m, its computed edge of chatter there; none also where it is stable as deep as was searched.
    std::optional<double> fresh_limit;
    double sampling_error = 0;  ///< one standard deviation of at_judged by counting
    std::optional<DrawnRange> first_tool_hertz, first_stack_hertz;
    DrawnRange push_off;  ///< m, magnitude of the static wall error
    /// m, edge of chatter at the judged speed, a quantile that lies deeper than was searched at
    /// that depth; none where nine in ten draws are stable as deep as searched
    std::optional<DrawnRange> limit;
    int limit_draws = 0;                ///< how many of the draws the limit was searched for
    std::vector<Influence> influences;  ///< of ln |multiplier| at the judged speed; largest first
};

/// Share of draws unstable at each speed (depth_stability.hpp); speeds and draws are worked on in
/// parallel.
std::vector<double> unstable_share(const std::vector<DelaySystem>& draws,
                                   const std::vector<SpindleSpeed>& speeds, double depth);

/// The same at one speed, given up as soon as the share is known not to be less than `most`: none.
/// Draws are worked on one after the other.
std::optional<double> unstable_share_below(const std::vector<DelaySystem>& draws,
                                           SpindleSpeed speed, double depth, double most);

/// Speeds are `start` first, then midpoints (in 1/rpm) of intervals whose ends fall on different
/// sides of a threshold, until `least_speeds` are reached and no such interval is wider than 2 %,
/// or 1.5 x least_speeds are. At the judged speed all draws are asked; at the others a quarter of
/// them, and a second one where these do not nearly agree (where there are 96 draws or more).
ChatterOdds chatter_odds(const std::vector<DelaySystem>& draws, std::vector<SpindleSpeed> start,
                         SpindleSpeed judged, double depth, const std::vector<double>& thresholds,
                         const OddsOptions& options);

/// Share of draws unstable at a speed, by linear interpolation in 1/rpm; none beyond the computed
/// speeds or between two that are further than 15 % apart.
std::optional<double> unstable_at(const ChatterOdds& odds, SpindleSpeed speed);

/// Shares of variance of `value` over the draws by linear regression on the logarithms of the
/// factors; what the line leaves over is "together and bends".
std::vector<Influence> influences_on(const Eigen::VectorXd& value, const Draws& draws);

DrawnRange ten_to_ninety(std::vector<double> values);

}  // namespace standfast
