#include "fea/judgement/speed/best_speed.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace standfast {
namespace {

// Just inside the threshold at which chatter is flagged.
constexpr double kInside = 0.999;
constexpr double kStep = 6.0 / 7, kShallowest = 0.02;
constexpr double kLeastDepth = 50e-6;  // m: less is no cut that a shop takes
constexpr std::size_t kLookedAt = 12, kTried = 6;
constexpr int kHeights = 5;
constexpr double kCaution = 1;
constexpr double kCautionOfAFew = 0.7;
constexpr std::size_t kStepsDown = 3;

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

bool judged_by_tries(Reason reason) {
    return reason == Reason::chatter || reason == Reason::surface_error ||
           reason == Reason::deflection;
}

/// Without trying it: whether the nominal stack leaves the cut a chance.
bool worth_trying(const CutProblem& problem, const Headings& headings, const SpeedLimit& limit,
                  double depth, const CutTries& tries) {
    const Verdict verdict =
        judge_at_speed(problem, slow_answer(problem, headings, depth, limit.speed, kHeights), limit)
            .verdict;
    if (tries.none()) return verdict.level == Level::unflagged;
    return std::all_of(verdict.reasons.begin(), verdict.reasons.end(), judged_by_tries);
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

/// Down to what can be programmed and told: tenths of a millimetre, of shallow cuts hundredths.
double told_depth(double depth) {
    constexpr double kShallowBelow = 1e-3;
    const double step = depth < kShallowBelow ? 1e-5 : 1e-4;
    const double down = step * std::floor(depth / step + 1e-9);
    return down > 0 ? down : depth;
}

/// Depths from `most` down, each a seventh less than the one before.
std::vector<double> depths_below(double most) {
    std::vector<double> depths;
    for (double depth = most; depth >= kShallowest * most; depth *= kStep) {
        depths.push_back(told_depth(depth));
    }
    return depths;
}

/// Depths worth trying at one speed, the deepest first: the programmed one where the nominal stack
/// leaves it a chance, else steps below it.
struct Row {
    SpeedLimit limit;
    std::vector<double> depths;
};

Row row_at(const CutProblem& problem, const Headings& headings, const SpeedLimit& limit,
           const CutTries& tries) {
    Row row{.limit = limit, .depths = {}};
    const auto add = [&](double depth) {
        const bool deeper = !row.depths.empty() && depth >= row.depths.back();
        if (depth >= kLeastDepth && !deeper &&
            worth_trying(problem, headings, limit, depth, tries)) {
            row.depths.push_back(depth);
        }
    };
    double most = stable_depth(problem, limit, tries);
    if (problem.pass().axial) {
        if (*problem.pass().axial <= most) add(*problem.pass().axial);
        most = std::min(most, *problem.pass().axial);
    }
    for (const double depth : depths_below(most)) add(depth);
    return row;
}

/// The deepest of a row that a few of the tries leave, by halving: a shallower cut of the same kind
/// holds if a deeper one does, as a rule.
std::optional<std::size_t> deepest_by_a_few(const CutProblem& problem, const Headings& headings,
                                            const Row& row, const CutTries& few) {
    std::optional<std::size_t> held;
    std::size_t from = 0, to = row.depths.size();
    while (from < to) {
        const std::size_t middle = from == 0 && !held ? 0 : (from + to) / 2;
        if (tries_hold(problem, headings, row.limit, row.depths[middle], few, kCautionOfAFew)) {
            held = to = middle;
        } else {
            from = middle + 1;
        }
    }
    return held;
}

/// The first from there down that all tries leave.
std::optional<Recommendation> held_by_all(const CutProblem& problem, const Headings& headings,
                                          const Row& row, std::size_t from, const CutTries& tries) {
    const std::size_t end = std::min(row.depths.size(), from + kStepsDown);
    for (std::size_t i = from; i < end; ++i) {
        const double depth = row.depths[i];
        if (const auto tried = tries_hold(problem, headings, row.limit, depth, tries, kCaution)) {
            return recommended(problem, headings, row.limit, depth, *tried);
        }
    }
    return std::nullopt;
}

/// What the tries of the programmed depth leave of a speed's promise.
double promise_by_odds(const ChatterOdds* odds, SpindleSpeed speed) {
    const auto share = odds != nullptr ? unstable_at(*odds, speed) : std::nullopt;
    return share ? 1 - *share : 1;
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
    const Row row = row_at(problem, headings, limit, tries);
    const auto held = deepest_by_a_few(problem, headings, row, a_few(tries));
    return held ? held_by_all(problem, headings, row, *held, tries) : std::nullopt;
}

std::optional<Recommendation> best_speed_and_depth(const CutProblem& problem,
                                                   const Headings& headings,
                                                   const StabilityLimits& limits,
                                                   const SpeedWindow& offered,
                                                   const CutTries& tries, const ChatterOdds* odds) {
    std::vector<SpeedLimit> candidates = with_neighbours(limits, problem.job->limits.least_band);
    std::erase_if(candidates, [&](const SpeedLimit& at) { return !offered.contains(at.speed); });
    const auto hoped = [&](const SpeedLimit& at) {
        const double depth = stable_depth(problem, at, tries);
        const double wanted = problem.pass().axial.value_or(depth);
        return at.speed.radians_per_second * std::min(depth, wanted);
    };
    const auto promise = [&](const SpeedLimit& at) {
        return hoped(at) * promise_by_odds(odds, at.speed);
    };
    std::stable_sort(
        candidates.begin(), candidates.end(),
        [&](const SpeedLimit& a, const SpeedLimit& b) { return promise(a) > promise(b); });
    const std::size_t most = tries.none() ? kLookedAt : kTried;
    if (candidates.size() > most) {
        // The most hopeful ones, and a spread of the rest in case those are ruled out.
        const std::size_t first = most / 2;
        std::vector<SpeedLimit> looked_at(candidates.begin(),
                                          candidates.begin() + static_cast<std::ptrdiff_t>(first));
        const std::size_t rest = candidates.size() - first;
        for (std::size_t i = 0; i < most - first; ++i) {
            looked_at.push_back(candidates[first + i * rest / (most - first)]);
        }
        // The pass's own speed, where less depth may do.
        const auto own =
            std::find_if(candidates.begin(), candidates.end(),
                         [&](const SpeedLimit& at) { return at.speed == problem.pass().speed; });
        const bool among =
            std::any_of(looked_at.begin(), looked_at.end(),
                        [&](const SpeedLimit& at) { return at.speed == problem.pass().speed; });
        if (own != candidates.end() && !among) looked_at.push_back(*own);
        candidates = looked_at;
    }
    struct Found {
        Row row;
        std::size_t held = 0;
        double removal = 0;
    };
    std::vector<Found> found;
    const CutTries few = a_few(tries);
    double most_removed = 0;
    for (const SpeedLimit& at : candidates) {
        if (hoped(at) <= most_removed) continue;
        const Row row = row_at(problem, headings, at, tries);
        const auto held = deepest_by_a_few(problem, headings, row, few);
        if (!held) continue;
        found.push_back({row, *held, at.speed.radians_per_second * row.depths[*held]});
        most_removed = std::max(most_removed, found.back().removal);
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Found& a, const Found& b) { return a.removal > b.removal; });
    std::optional<Recommendation> best;
    const auto removal = [](const Recommendation& r) {
        return r.speed.radians_per_second * r.depth;
    };
    for (const Found& one : found) {
        if (best && one.removal <= removal(*best)) break;
        const auto all = held_by_all(problem, headings, one.row, one.held, tries);
        if (all && (!best || removal(*all) > removal(*best))) best = all;
    }
    return best;
}

}  // namespace standfast
