#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/speed/at_speed.hpp"
#include "fea/judgement/speed/deepest_that.hpp"
#include "fea/judgement/tries/chatter_by_depth.hpp"

namespace standfast {

/// A depth that holds, and how it was tried.
struct HeldDepth {
    double depth = 0;  ///< m
    Tried tried;
};

/// The speed, and those half a least band to either side of it that may be offered too.
std::vector<SpindleSpeed> speeds_about(const CutProblem& problem, SpindleSpeed speed);

/// A speed whose limit nobody has looked for.
SpeedLimit unknown_limit(SpindleSpeed speed);

/// The deepest cut at one speed that holds by the tries.
///
/// A cut holds where nothing is flagged but what neither speed, depth nor stiffness mends
/// (nothing_to_mend), at the speed and half a least band to either side of it, as far as these may
/// be offered: a spindle is never at its number exactly. Chatter is asked of the nominal stack and
/// of the tries, the wall of those that are stable.
class DepthSearch {
public:
    /// @param limit    at the speed; none within: it is not known
    /// @param tries    must not be none, and outlive it
    /// @param caution  standard deviations of counting by which shares are taken to be larger
    DepthSearch(const CutProblem& problem, const Headings& headings, const SpeedLimit& limit,
                const CutTries& tries, double caution);

    /// As deepest_that().
    std::optional<HeldDepth> deepest(const DepthRange& range);

private:
    /// One depth, asked.
    struct Asked {
        std::optional<Tried> held;
        double shallower_by = 1;  ///< where it does not hold: what the wall asks for, a factor
    };
    Asked ask(double depth);
    bool chatters(double depth);
    bool nominal_leaves(double depth) const;
    Tried tried_at(std::size_t speed, double depth) const;
    bool quiet_beside(std::size_t speed, double depth) const;

    const CutProblem& problem_;
    Headings headings_;
    SpeedLimit limit_;
    const CutTries& tries_;
    double caution_ = 0;
    std::vector<SpindleSpeed> speeds_;  ///< the speed first
    std::vector<DelaySystem> nominal_, fresh_;
    std::unique_ptr<ChatterByDepth> of_nominal_, of_tries_, of_fresh_;
    std::size_t most_chatter_ = 0, most_fresh_ = 0;
};

}  // namespace standfast
