#include "fea/judgement/advice/advice.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "fea/judgement/advice/advice_candidates.hpp"
#include "fea/judgement/advice/changed_pass.hpp"
#include "fea/judgement/advice/way_out.hpp"
#include "fea/judgement/speed/best_speed.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr double kLeastGain = 1.03;
constexpr double kCaution = 1;
constexpr std::size_t kMostTried = 6;
// A single change that leaves less than this of the metal removed is no way out by itself if two
// together remove so much more.
constexpr double kGivesUpMuch = 0.8, kWorthTwo = 1.2;

/// A pass with a change made, judged by the nominal stack.
struct Changed {
    ChangedPass pass;
    PassAnswer answer;
    SpindleSpeed speed;
    double depth = 0;
};

Changed answer_changed(const AdviceCase& given, const Candidate& candidate) {
    Changed after;
    after.pass = changed_pass(given, {candidate});
    const CutProblem& problem = after.pass.problem;
    after.speed = problem.pass().speed.value_or(given.speed);
    after.depth = problem.pass().axial.value_or(given.depth);
    const SpeedLimit limit =
        limits_at_heading(problem, after.pass.headings.stability, {after.speed}).speeds[0];
    after.answer = answer_pass(problem, after.pass.headings, limit, after.depth);
    return after;
}

double depth_margin(const PassAnswer& answer, double depth, double searched_to) {
    return answer.at.limit.limit.value_or(searched_to) / depth;
}

std::optional<double> limit_ratio(const PassAnswer& before, const PassAnswer& after) {
    if (!before.at.limit.limit || !after.at.limit.limit) return std::nullopt;
    return *after.at.limit.limit / *before.at.limit.limit;
}

/// What nine in ten tries stay under, or the nominal error where nothing was tried: m, > 0.
std::optional<double> told_error(const PassAnswer& answer) {
    if (answer.tried && answer.tried->wall) return std::abs(answer.tried->wall->stays_under());
    if (answer.tried || !answer.at.motion) return std::nullopt;
    return std::abs(answer.at.motion->largest_error);
}

std::optional<double> error_ratio(const PassAnswer& before, const PassAnswer& after) {
    const std::optional<double> was = told_error(before), is = told_error(after);
    if (!was || !is || *was == 0) return std::nullopt;
    return *is / *was;
}

/// A tool that does not get to its cut has nothing else to gain first.
constexpr double kGetsThere = 100;

constexpr double kNoGain = 1;

bool cannot_get_there(const PassAnswer& answer) {
    return !answer.verdict.reasons.empty() && answer.verdict.reasons.front() == Reason::reach &&
           answer.reach.judged && !answer.reach.clear;
}

bool gets_there(const PassAnswer& before, const PassAnswer& after) {
    return before.reach.judged && !before.reach.clear && after.reach.clear;
}

/// Gain in what the verdict complains of first; 1 is none.
double gain_of(const AdviceCase& given, const Changed& after) {
    const PassAnswer& before = given.answer;
    const double margin = depth_margin(after.answer, after.depth, after.pass.problem.searched_to) /
                          depth_margin(before, given.depth, given.problem->searched_to);
    if (gets_there(before, after.answer)) return kGetsThere * margin;
    if (cannot_get_there(before)) return kNoGain;
    switch (before.verdict.reasons.empty() ? Reason::chatter : before.verdict.reasons.front()) {
        case Reason::surface_error:
        case Reason::deflection:
        case Reason::resonance: {
            const std::optional<double> ratio = error_ratio(before, after.answer);
            return ratio && *ratio > 0 ? 1 / *ratio : margin;
        }
        case Reason::holding:
            // Where holding is not judged at all there is nothing to gain in it.
            if (!before.holding.judged || before.holding.factor <= 0) return margin;
            return after.answer.holding.factor / before.holding.factor;
        case Reason::tool_stress:
            return before.tool_stress.stress / std::max(after.answer.tool_stress.stress, 1e-300);
        case Reason::whirl:
            return before.whirl_ratio / std::max(after.answer.whirl_ratio, 1e-300);
        case Reason::power:
            return before.power.ratio / std::max(after.answer.power.ratio, 1e-300);
        default:
            return margin;
    }
}

bool complains_of_wall(const PassAnswer& answer) {
    if (answer.verdict.reasons.empty()) return false;
    const Reason first = answer.verdict.reasons.front();
    return first == Reason::surface_error || first == Reason::deflection;
}

Level wall_level(const AdviceCase& given, const PassAnswer& answer) {
    const Pass& pass = given.problem->pass();
    const Limits& limits = given.problem->job->limits;
    if (answer.tried && answer.tried->wall) {
        return judge_wall_tries(*answer.tried->wall, pass, limits).level;
    }
    if (!answer.at.motion) return Level::avoid;
    return judge_error(answer.at.motion->largest_error, pass, limits).level;
}

/// A change must not buy its gain with something that is judged.
bool worsens(const AdviceCase& given, const PassAnswer& after) {
    if (after.verdict.level > given.answer.verdict.level) return true;
    if (given.answer.reach.clear && !after.reach.clear) return true;
    if (gets_there(given.answer, after)) return false;
    return wall_level(given, after) > wall_level(given, given.answer);
}

struct Gain {
    double gain = kNoGain;
    Changed after;
    Candidate candidate;
};

/// The change by the nominal stack; none where it does not fit the stack or tool, or does not help.
std::optional<Gain> nominal_gain(const AdviceCase& given, const Candidate& candidate) {
    Gain gain;
    try {
        gain.after = answer_changed(given, candidate);
    } catch (const std::domain_error&) {
        return std::nullopt;
    }
    gain.candidate = candidate;
    gain.gain = gain_of(given, gain.after);
    if (given.tries.none()) {
        if (gain.gain < kLeastGain || worsens(given, gain.after.answer)) return std::nullopt;
        return gain;
    }
    if (given.answer.reach.clear && !gain.after.answer.reach.clear) return std::nullopt;
    // A nominal wall error may be small because it crosses zero there: the tries tell.
    if (gain.gain < kLeastGain && !complains_of_wall(given.answer)) return std::nullopt;
    return gain;
}

/// The same with the tries of the pass; false where it does not help after all.
bool holds_with_tries(const AdviceCase& given, Gain& gain) {
    if (given.tries.none()) return true;
    draw_changed(gain.after.pass, given);
    const CutProblem& problem = gain.after.pass.problem;
    gain.after.answer = judge_cut(problem, gain.after.pass.headings, gain.after.pass.tries,
                                  gain.after.answer.at.limit, gain.after.depth, kCaution);
    gain.gain = gain_of(given, gain.after);
    return gain.gain >= kLeastGain && !worsens(given, gain.after.answer);
}

Advice advice_of(const AdviceCase& given, const Gain& gain) {
    const PassAnswer& after = gain.after.answer;
    return {
        .kind = gain.candidate.kind,
        .set = gain.candidate.set,
        .parts = {},
        .removal_ratio = removal_rate(gain.after.pass.problem, gain.after.speed, gain.after.depth) /
                         removal_rate(*given.problem, given.speed, given.depth),
        .limit_ratio = limit_ratio(given.answer, after),
        .error_ratio = error_ratio(given.answer, after),
        .level = after.verdict.level,
        .clears = nothing_to_mend(after, given.problem->job->limits),
        .reach_unchecked = gain.candidate.reach_unchecked};
}

bool costs_nothing_to_try(const Candidate& candidate) {
    return candidate.kind == AdviceKind::other_speed || candidate.kind == AdviceKind::less_depth;
}

/// Those that gain most by the nominal stack; a speed and a depth were found by the tries already.
std::vector<Gain> promising(const AdviceCase& given, const std::vector<Candidate>& candidates) {
    std::vector<std::optional<Gain>> gains(candidates.size());
    for_each_index(candidates.size(),
                   [&](std::size_t i) { gains[i] = nominal_gain(given, candidates[i]); });
    std::vector<Gain> list;
    for (std::optional<Gain>& gain : gains) {
        if (gain) list.push_back(std::move(*gain));
    }
    std::stable_sort(list.begin(), list.end(), [](const Gain& a, const Gain& b) {
        const bool first = costs_nothing_to_try(a.candidate),
                   other = costs_nothing_to_try(b.candidate);
        return first != other ? first : a.gain > b.gain;
    });
    if (!given.tries.none() && list.size() > kMostTried) list.resize(kMostTried);
    return list;
}

/// Single changes that help, with what they gain; better levels first, then greater gains.
std::vector<Advice> single_changes(const AdviceCase& given,
                                   const std::vector<Candidate>& candidates) {
    std::vector<Gain> helpful = promising(given, candidates);
    std::vector<char> holds(helpful.size(), 0);
    for_each_index(helpful.size(),
                   [&](std::size_t i) { holds[i] = holds_with_tries(given, helpful[i]) ? 1 : 0; });
    std::vector<Gain> kept;
    for (std::size_t i = 0; i < helpful.size(); ++i) {
        if (holds[i] != 0) kept.push_back(std::move(helpful[i]));
    }
    std::stable_sort(kept.begin(), kept.end(), [](const Gain& a, const Gain& b) {
        const Level first = a.after.answer.verdict.level, other = b.after.answer.verdict.level;
        return first != other ? first < other : a.gain > b.gain;
    });
    std::vector<Advice> advice;
    for (const Gain& gain : kept) advice.push_back(advice_of(given, gain));
    return advice;
}

}  // namespace

Advised advise(const AdviceCase& given) {
    const std::vector<Candidate> candidates = advice_candidates(given);
    Advised advised{.list = single_changes(given, candidates)};
    if (nothing_to_mend(given.answer, given.problem->job->limits)) return advised;
    double removed = 0;  // by the single change that clears the pass and removes most
    for (const Advice& advice : advised.list) {
        if (advice.clears) removed = std::max(removed, *advice.removal_ratio);
    }
    if (removed < kGivesUpMuch) {
        const double before = removal_rate(*given.problem, given.speed, given.depth);
        if (auto together = way_out(given, candidates, kWorthTwo * removed * before)) {
            advised.list.insert(advised.list.begin(), std::move(*together));
        }
    }
    advised.nothing_reaches = std::none_of(advised.list.begin(), advised.list.end(),
                                           [](const Advice& advice) { return advice.clears; });
    return advised;
}

}  // namespace standfast
