#include "fea/judgement/advice/way_out.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/judgement/advice/changed_pass.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/speed/best_speed.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr int kSpeeds = 24;
constexpr std::size_t kPaired = 4;       // changes that pairs are made of
constexpr std::size_t kTriedSets = 2;    // sets that are tried
constexpr std::size_t kTriedSpeeds = 3;  // speeds of each
constexpr std::size_t kMostChanges = 3;
constexpr double kPerChange = 0.95;
constexpr double kSame = 1e-9;

/// Changes of tool or stack, and what they might remove.
struct Set {
    std::vector<Candidate> changes;
    double hope = 0;                   ///< m^3/s, by the averaged limits
    std::vector<SpindleSpeed> speeds;  ///< the most hopeful ones
};

struct Found {
    Advice advice;
    double worth = 0;
};

bool is_structural(const Candidate& change) {
    return change.kind != AdviceKind::other_speed && change.kind != AdviceKind::less_depth;
}

/// Whether both set the same thing, so that they cannot be made together.
bool collide(const Candidate& a, const Candidate& b) {
    return std::any_of(a.set.begin(), a.set.end(), [&](const Edit& one) {
        return std::any_of(b.set.begin(), b.set.end(),
                           [&](const Edit& other) { return set_the_same(one, other); });
    });
}

std::vector<SpindleSpeed> speeds_to_rank(const ChangedPass& changed) {
    const SpeedWindow offered = offered_window(*changed.job, changed.problem.pass());
    std::vector<SpindleSpeed> speeds;
    if (offered.from < offered.to) speeds = default_speeds(offered.from, offered.to, kSpeeds);
    const auto& programmed = changed.problem.pass().speed;
    if (programmed && offered.contains(*programmed)) speeds = merge_speeds(speeds, {*programmed});
    return speeds;
}

/// What the averaged limit lets a speed remove.
double hope_at(const CutProblem& problem, const SpeedLimit& at) {
    const double margin = problem.job->limits.chatter_depth_marginal;
    const double deepest = deepest_cut(problem.tool_chain().cutter);
    const double wanted = std::min(problem.pass().axial.value_or(deepest), deepest);
    return removal_rate(problem, at.speed,
                        std::min(wanted, margin * at.limit.value_or(problem.searched_to)));
}

void rank(Set& set, const AdviceCase& given) {
    const ChangedPass changed = changed_pass(given, set.changes);
    std::vector<SpeedLimit> limits = ranking_limits(changed.problem, changed.headings.stability,
                                                    speeds_to_rank(changed), given.depth)
                                         .speeds;
    std::stable_sort(limits.begin(), limits.end(), [&](const SpeedLimit& a, const SpeedLimit& b) {
        return hope_at(changed.problem, a) > hope_at(changed.problem, b);
    });
    if (limits.empty()) return;
    set.hope = hope_at(changed.problem, limits.front());
    limits.resize(std::min(limits.size(), kTriedSpeeds));
    for (const SpeedLimit& at : limits) set.speeds.push_back(at.speed);
}

/// Ranks the sets; those that cannot be made keep no hope.
void rank_all(std::vector<Set>& sets, const AdviceCase& given) {
    for_each_index(sets.size(), [&](std::size_t i) {
        try {
            rank(sets[i], given);
        } catch (const std::domain_error&) {
            sets[i].hope = 0;
        }
    });
    std::stable_sort(sets.begin(), sets.end(),
                     [](const Set& a, const Set& b) { return a.hope > b.hope; });
}

std::vector<Set> sets_of(const AdviceCase& given, const std::vector<Candidate>& changes) {
    std::vector<Set> sets;
    for (const Candidate& change : changes) {
        if (is_structural(change)) sets.push_back({.changes = {change}, .hope = 0, .speeds = {}});
    }
    rank_all(sets, given);
    std::vector<Set> pairs;
    const std::size_t count = std::min(kPaired, sets.size());
    for (std::size_t a = 0; a < count; ++a) {
        for (std::size_t b = a + 1; b < count; ++b) {
            const Candidate &one = sets[a].changes[0], &other = sets[b].changes[0];
            if (!collide(one, other)) {
                pairs.push_back({.changes = {one, other}, .hope = 0, .speeds = {}});
            }
        }
    }
    rank_all(pairs, given);
    sets.insert(sets.end(), pairs.begin(), pairs.end());
    return sets;
}

bool differ(double a, double b) { return std::abs(a - b) > kSame * std::abs(b); }

/// The changes of a set with those of speed and depth that the recommendation makes.
std::vector<AdvicePart> parts_of(const AdviceCase& given, const std::vector<Candidate>& changes,
                                 const Recommendation& found) {
    const Pass& pass = given.problem->pass();
    std::vector<AdvicePart> parts;
    for (const Candidate& change : changes) parts.push_back({change.kind, change.set});
    if (differ(found.speed.radians_per_second, given.speed.radians_per_second)) {
        parts.push_back({AdviceKind::other_speed, {PassSpeed{pass.name, found.speed}}});
    }
    if (differ(found.depth, given.depth)) {
        parts.push_back({AdviceKind::less_depth, {AxialDepth{pass.name, found.depth}}});
    }
    return parts;
}

/// A recommendation as advice; none where it is no two or three changes, or clears nothing.
std::optional<Found> as_advice(const AdviceCase& given, const std::vector<Candidate>& changes,
                               const CutProblem& problem, const Recommendation& found) {
    const std::vector<AdvicePart> parts = parts_of(given, changes, found);
    const bool hold_is_open = !given.answer.holding.judged && found.level == Level::marginal;
    if (found.level != Level::unflagged && !hold_is_open) return std::nullopt;
    if (parts.size() < 2 || parts.size() > kMostChanges) return std::nullopt;
    Advice advice;
    advice.kind = AdviceKind::several;
    advice.parts = parts;
    for (const AdvicePart& part : parts) {
        advice.set.insert(advice.set.end(), part.set.begin(), part.set.end());
    }
    for (const Candidate& change : changes) {
        advice.reach_unchecked = advice.reach_unchecked || change.reach_unchecked;
    }
    const double removed = removal_rate(problem, found.speed, found.depth);
    advice.removal_ratio = removed / removal_rate(*given.problem, given.speed, given.depth);
    advice.level = found.level;
    advice.clears = true;
    return Found{advice, removed * std::pow(kPerChange, static_cast<double>(parts.size()))};
}

/// The speeds of a set with those half a least band either side, by which a limit is lowered.
std::vector<SpindleSpeed> with_either_side(const Set& set, const AdviceCase& given) {
    const double half = given.problem->job->limits.least_band / 2 * (1 - kSame);
    std::vector<SpindleSpeed> speeds;
    for (const SpindleSpeed speed : set.speeds) {
        for (const double factor : {1 - half, 1.0, 1 + half}) {
            speeds = merge_speeds(speeds, {{speed.radians_per_second * factor}});
        }
    }
    return speeds;
}

/// The limits of the hopeful speeds, lowered to the smallest within half a least band.
StabilityLimits lowered_limits(const ChangedPass& changed, const Set& set,
                               const AdviceCase& given) {
    StabilityLimits limits = limits_at_heading(changed.problem, changed.headings.stability,
                                               with_either_side(set, given));
    limits.speeds = with_neighbours(limits, given.problem->job->limits.least_band);
    std::erase_if(limits.speeds, [&](const SpeedLimit& at) {
        return std::find(set.speeds.begin(), set.speeds.end(), at.speed) == set.speeds.end();
    });
    return limits;
}

/// Speed and depth for a set, tried.
std::optional<Found> tried(const Set& set, const AdviceCase& given) {
    ChangedPass changed = changed_pass(given, set.changes);
    draw_changed(changed, given);
    const auto found =
        best_speed_and_depth(changed.problem, changed.headings, lowered_limits(changed, set, given),
                             offered_window(*changed.job, changed.problem.pass()), changed.tries);
    if (!found) return std::nullopt;
    return as_advice(given, set.changes, changed.problem, *found);
}

}  // namespace

std::optional<Advice> way_out(const AdviceCase& given, const std::vector<Candidate>& changes,
                              double least) {
    std::optional<Found> best;
    const auto consider = [&](std::optional<Found> found) {
        if (found && found->worth > (best ? best->worth : 0)) best = std::move(found);
    };
    if (given.best) consider(as_advice(given, {}, *given.problem, *given.best));
    std::vector<Set> sets = sets_of(given, changes);
    std::stable_sort(sets.begin(), sets.end(),
                     [](const Set& a, const Set& b) { return a.hope > b.hope; });
    if (sets.size() > kTriedSets) sets.resize(kTriedSets);
    for (const Set& set : sets) {
        if (best && set.hope * std::pow(kPerChange, 2) <= best->worth) break;
        consider(tried(set, given));
    }
    const double before = removal_rate(*given.problem, given.speed, given.depth);
    if (!best || *best->advice.removal_ratio * before < least) return std::nullopt;
    return best->advice;
}

}  // namespace standfast
