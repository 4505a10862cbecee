#include "fea/judgement/speed/best_speed.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/speed/depth_search.hpp"

namespace standfast {
namespace {

// Just inside the threshold at which chatter is flagged.
constexpr double kInside = 0.999;
constexpr std::size_t kLookedAt = 12;
// So many of the speeds found with a few tries are tried with all, until one keeps so much of what
// it is worth by these.
constexpr std::size_t kConfirmed = 3;
constexpr double kGood = 0.9;
constexpr int kHeights = 5;
constexpr double kCaution = 1;
constexpr double kCautionOfAFew = 0.5;  // a quarter of the tries err by twice as much
constexpr double kDoubted = 0.985;      // so much less deep where all tries deny what some held
constexpr int kMostDoubts = 8;

/// Reach is flagged for what stands in the way, not for a cut deeper than the flutes.
bool tool_is_in_the_way(const PassAnswer& answer) {
    return judge_reach_level(answer.reach).level != Level::unflagged;
}

bool what_was_judged_holds(const PassAnswer& answer, const Limits& limits) {
    return answer.holding.joint.empty() || answer.holding.factor >= limits.holding_marginal;
}

/// Depth at the edge of what the nominal stack allows: with margin where nothing is tried, since
/// the tries see to that themselves.
double stable_depth(const CutProblem& problem, const SpeedLimit& limit, const CutTries& tries) {
    const double deepest = deepest_cut(problem.tool_chain().cutter);
    const Limits& limits = problem.job->limits;
    const double margin =
        (tries.none() ? limits.chatter_depth_marginal : limits.chatter_depth_avoid) * kInside;
    return limit.limit ? std::min(deepest, margin * *limit.limit) : deepest;
}

/// How the cut was tried, where it holds.
std::optional<Tried> tries_hold(const CutProblem& problem, const Headings& headings,
                                const SpeedLimit& limit, double depth, const CutTries& tries,
                                double caution) {
    Tried tried{.cut = std::nullopt, .caution = caution};
    if (!tries.none()) {
        const double most = problem.job->limits.chatter_probability_marginal;
        tried.cut = try_cut(problem, tries, limit.speed, depth, most);
        if (!tried.cut) return std::nullopt;
    }
    CutProblem within_reach = problem;
    within_reach.distance = nullptr;  // where the tip is, neither speed nor depth decides of
    const PassAnswer answer = answer_pass(within_reach, headings, limit, depth, tried);
    return nothing_to_mend(answer, problem.job->limits) ? std::optional(tried) : std::nullopt;
}

Recommendation recommended(const CutProblem& problem, const Headings& headings,
                           const SpeedLimit& limit, double depth, const Tried& tried) {
    return {limit.speed, depth, answer_pass(problem, headings, limit, depth, tried).verdict.level,
            limit.limit};
}

/// The programmed depth, or down to three digits, so that what is told is what was judged.
double told_depth(const CutProblem& problem, double depth) {
    if (depth == problem.pass().axial) return depth;
    const double step = std::pow(10, std::floor(std::log10(depth)) - 2);
    return step * std::floor(depth / step + 1e-9);
}

/// Where nothing is tried: by the limit and what else the nominal stack says.
std::optional<Recommendation> nominal_depth(const CutProblem& problem, const Headings& headings,
                                            const SpeedLimit& limit, double most) {
    const auto asked = [&](double depth) {
        constexpr double kLess = 0.97;
        const SlowAnswer slow = slow_answer(problem, headings, depth, limit.speed, kHeights);
        const bool quiet = judge_at_speed(problem, slow, limit).verdict.level == Level::unflagged;
        return quiet && tries_hold(problem, headings, limit, depth, {}, 0) ? 1.0 : kLess;
    };
    const auto found = deepest_that({.guess = most, .most = most}, asked);
    if (!found) return std::nullopt;
    return recommended(problem, headings, limit, told_depth(problem, *found), {});
}

/// Whether a depth that was found holds by all tries, each asked again, at the speed and beside it.
std::optional<Tried> confirmed(const CutProblem& problem, const Headings& headings,
                               const SpeedLimit& limit, double depth, const CutTries& tries) {
    const auto tried = tries_hold(problem, headings, limit, depth, tries, kCaution);
    if (!tried) return std::nullopt;
    const std::vector<SpindleSpeed> speeds = speeds_about(problem, limit.speed);
    const bool beside = std::all_of(speeds.begin() + 1, speeds.end(), [&](SpindleSpeed speed) {
        return quiet_at(problem, headings, tries, unknown_limit(speed), depth);
    });
    return beside ? tried : std::nullopt;
}

/// @param guess  m, where the search begins
std::optional<Recommendation> tried_depth(const CutProblem& problem, const Headings& headings,
                                          const SpeedLimit& limit, const CutTries& tries,
                                          const DepthRange& range) {
    DepthSearch search(problem, headings, limit, tries, kCaution);
    const auto found = search.deepest(range);
    if (!found) return std::nullopt;
    double depth = told_depth(problem, found->depth);
    for (int doubt = 0; doubt < kMostDoubts; ++doubt) {
        if (const auto tried = confirmed(problem, headings, limit, depth, tries)) {
            return recommended(problem, headings, limit, depth, *tried);
        }
        depth = told_depth(problem, kDoubted * depth);
    }
    return std::nullopt;
}

/// The programmed depth, or the deepest that the edge leaves.
double most_depth(const CutProblem& problem, const SpeedLimit& limit, const CutTries& tries) {
    const double most = stable_depth(problem, limit, tries);
    return std::min(most, problem.pass().axial.value_or(most));
}

std::optional<Recommendation> depth_at(const CutProblem& problem, const Headings& headings,
                                       const SpeedLimit& limit, const CutTries& tries,
                                       double guess) {
    const double most = most_depth(problem, limit, tries);
    if (tries.none()) return nominal_depth(problem, headings, limit, most);
    return tried_depth(problem, headings, limit, tries, {.guess = guess, .most = most});
}

double worth_of(const Recommendation& r) { return r.speed.radians_per_second * r.depth; }

/// What the edge, and the tries of the programmed depth, leave to hope for at each speed.
std::vector<HopedSpeed> hopes_of(const CutProblem& problem,
                                 const std::vector<SpeedLimit>& candidates, const CutTries& tries,
                                 const ChatterOdds* odds) {
    std::vector<HopedSpeed> hopes;
    for (const SpeedLimit& at : candidates) {
        const double most = most_depth(problem, at, tries);
        const auto lost = odds != nullptr ? unstable_at(*odds, at.speed) : std::nullopt;
        hopes.push_back({.speed = at.speed, .depth = most * (1 - lost.value_or(0)), .most = most});
    }
    return hopes;
}

/// The most hopeful speeds, a spread of the rest in case those are ruled out, and the pass's own,
/// where less depth may do.
std::vector<SpeedLimit> looked_at(const CutProblem& problem, std::vector<SpeedLimit> candidates) {
    std::stable_sort(candidates.begin(), candidates.end(),
                     [&](const SpeedLimit& a, const SpeedLimit& b) {
                         return a.speed.radians_per_second * most_depth(problem, a, {}) >
                                b.speed.radians_per_second * most_depth(problem, b, {});
                     });
    if (candidates.size() <= kLookedAt) return candidates;
    const std::size_t first = kLookedAt / 2, rest = candidates.size() - first;
    std::vector<SpeedLimit> some(candidates.begin(),
                                 candidates.begin() + static_cast<std::ptrdiff_t>(first));
    for (std::size_t i = 0; i < kLookedAt - first; ++i) {
        some.push_back(candidates[first + i * rest / (kLookedAt - first)]);
    }
    const auto is_own = [&](const SpeedLimit& at) { return at.speed == problem.pass().speed; };
    const auto own = std::find_if(candidates.begin(), candidates.end(), is_own);
    if (own != candidates.end() && std::none_of(some.begin(), some.end(), is_own)) {
        some.push_back(*own);
    }
    return some;
}

/// The best of speeds whose limits are known, where nothing is tried.
std::optional<Recommendation> nominal_speed(const CutProblem& problem, const Headings& headings,
                                            const std::vector<SpeedLimit>& candidates) {
    std::optional<Recommendation> best;
    for (const SpeedLimit& at : looked_at(problem, candidates)) {
        const double most = most_depth(problem, at, {});
        if (best && at.speed.radians_per_second * most <= worth_of(*best)) continue;
        const auto one = nominal_depth(problem, headings, at, most);
        if (one && (!best || worth_of(*one) > worth_of(*best))) best = one;
    }
    return best;
}

}  // namespace

std::vector<SpeedLimit> with_neighbours(const StabilityLimits& limits, double least_band) {
    std::vector<SpeedLimit> lowered = limits.speeds;
    for (SpeedLimit& at : lowered) {
        const double reach = at.speed.radians_per_second * least_band / 2;
        for (const SpeedLimit& other : limits.speeds) {
            const double away =
                std::abs(other.speed.radians_per_second - at.speed.radians_per_second);
            if (away > reach || !other.limit) continue;
            at.limit = at.limit ? std::min(*at.limit, *other.limit) : *other.limit;
        }
    }
    return lowered;
}

double deepest_cut(const Cutter& cutter) {
    return cutter.flute_length > 0 ? cutter.flute_length : 5 * cutter.diameter;
}

bool quiet_at(const CutProblem& problem, const Headings& headings, const CutTries& tries,
              const SpeedLimit& limit, double depth) {
    Tried tried{.cut = std::nullopt, .caution = kCaution};
    if (!tries.none()) {
        tried.cut = try_cut(problem, tries, limit.speed, depth,
                            problem.job->limits.chatter_probability_marginal);
        if (!tried.cut) return false;
    }
    const SlowAnswer slow = slow_answer(problem, headings, depth, limit.speed, kHeights);
    return judge_at_speed(problem, slow, limit, tried).verdict.level == Level::unflagged;
}

bool nothing_to_mend(const PassAnswer& answer, const Limits& limits) {
    return std::all_of(answer.verdict.reasons.begin(), answer.verdict.reasons.end(),
                       [&](Reason reason) {
                           return reason == Reason::weight ||
                                  (reason == Reason::reach && tool_is_in_the_way(answer)) ||
                                  (reason == Reason::holding && !answer.holding.judged &&
                                   what_was_judged_holds(answer, limits));
                       });
}

std::optional<Recommendation> best_depth_at(const CutProblem& problem, const Headings& headings,
                                            const SpeedLimit& limit, const CutTries& tries) {
    const double most = most_depth(problem, limit, tries);
    if (tries.none() || problem.pass().axial) {
        return depth_at(problem, headings, limit, tries, most);
    }
    const CutTries few = a_few(tries);
    DepthSearch search(problem, headings, limit, few, few.rough ? kCautionOfAFew : kCaution);
    const auto roughly = search.deepest({.guess = most / 2, .most = most});
    return depth_at(problem, headings, limit, tries, roughly ? roughly->depth : most / 4);
}

SpeedLimit limit_about(const CutProblem& problem, double heading, SpindleSpeed speed) {
    const std::vector<SpeedLimit> limits =
        limits_at_heading(problem, heading, speeds_about(problem, speed)).speeds;
    SpeedLimit least = limits.front();
    for (const SpeedLimit& one : limits) {
        if (one.limit && (!least.limit || *one.limit < *least.limit)) least.limit = one.limit;
    }
    return least;
}

std::optional<Recommendation> confirmed_speed(const CutProblem& problem, const Headings& headings,
                                              const std::vector<HeldSpeed>& found,
                                              const CutTries& tries) {
    std::optional<Recommendation> best;
    for (std::size_t i = 0; i < std::min(found.size(), kConfirmed); ++i) {
        if (best && kGood * found[i].worth() <= worth_of(*best)) break;
        const SpeedLimit limit = limit_about(problem, headings.stability, found[i].speed);
        const auto one = depth_at(problem, headings, limit, tries, found[i].depth);
        if (one && (!best || worth_of(*one) > worth_of(*best))) best = one;
    }
    return best;
}

std::optional<Recommendation> best_speed_and_depth(const CutProblem& problem,
                                                   const Headings& headings,
                                                   const StabilityLimits& limits,
                                                   const SpeedWindow& offered,
                                                   const CutTries& tries, const ChatterOdds* odds) {
    std::vector<SpeedLimit> candidates = with_neighbours(limits, problem.job->limits.least_band);
    std::erase_if(candidates, [&](const SpeedLimit& at) { return !offered.contains(at.speed); });
    if (tries.none()) return nominal_speed(problem, headings, candidates);
    const std::vector<HopedSpeed> hopes = hopes_of(problem, candidates, tries, odds);
    const CutTries few = a_few(tries);
    const double caution = few.rough ? kCautionOfAFew : kCaution;
    return confirmed_speed(problem, headings,
                           search_speeds(problem, headings, {.hopes = hopes}, few, caution), tries);
}

}  // namespace standfast
