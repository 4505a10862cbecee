#include "fea/judgement/advice.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <stdexcept>
#include <utility>

#include "fea/judgement/advice_candidates.hpp"
#include "fea/judgement/edits.hpp"
#include "fea/judgement/sides.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr double kLeastGain = 1.03;

/// A pass with a change made.
struct Changed {
    PassAnswer answer;
    double depth = 0;
    double searched_to = 0;
};

Changed answer_changed(const AdviceCase& given, const Candidate& candidate) {
    const CutProblem& before = *given.problem;
    const Job job = with_edits(*before.job, candidate.set);
    const Pass& pass = job.passes[before.pass_index];
    CutProblem problem = before;
    problem.job = &job;
    if (candidate.changes_tool || candidate.changes_work) {
        problem = cut_problem(
            job, before.pass_index, candidate.changes_tool ? tool_side_of(job, pass) : before.tool,
            candidate.changes_work ? work_side_of(job, pass) : before.work, before.method);
        problem.distance = before.distance;
    } else {
        problem.cut = rigid_cut(job, pass, 0);
    }
    const SpindleSpeed speed = pass.speed.value_or(given.speed);
    const double depth = pass.axial.value_or(given.depth);
    const std::vector<SpindleSpeed> compared =
        pass.speed ? std::vector{speed} : representative_speeds(job, pass);
    const Headings headings = given.answer.headings.searched
                                  ? judged_headings(problem, compared, depth)
                                  : given.answer.headings;
    const SpeedLimit limit = limits_at_heading(problem, headings.stability, {speed}).speeds[0];
    return {answer_pass(problem, headings, limit, depth), depth, problem.searched_to};
}

double depth_margin(const PassAnswer& answer, double depth, double searched_to) {
    return answer.at.limit.limit.value_or(searched_to) / depth;
}

std::optional<double> limit_ratio(const PassAnswer& before, const PassAnswer& after) {
    if (!before.at.limit.limit || !after.at.limit.limit) return std::nullopt;
    return *after.at.limit.limit / *before.at.limit.limit;
}

std::optional<double> error_ratio(const PassAnswer& before, const PassAnswer& after) {
    if (!before.at.motion || !after.at.motion) return std::nullopt;
    const double was = std::abs(before.at.motion->largest_error);
    if (was == 0) return std::nullopt;
    return std::abs(after.at.motion->largest_error) / was;
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
    const double margin = depth_margin(after.answer, after.depth, after.searched_to) /
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

/// A change must not buy its gain with something that is judged.
bool worsens(const AdviceCase& given, const Changed& after) {
    if (after.answer.verdict.level > given.answer.verdict.level) return true;
    if (given.answer.reach.clear && !after.answer.reach.clear) return true;
    if (gets_there(given.answer, after.answer)) return false;
    const Finding error_before =
        given.answer.at.motion ? judge_error(given.answer.at.motion->largest_error,
                                             given.problem->pass(), given.problem->job->limits)
                               : Finding{Level::avoid, Reason::surface_error};
    if (!after.answer.at.motion) return given.answer.at.motion.has_value();
    return judge_error(after.answer.at.motion->largest_error, given.problem->pass(),
                       given.problem->job->limits)
               .level > error_before.level;
}

struct Gain {
    double gain = 1;
    Advice advice;
};

/// The change tried out; none where it does not fit the stack or tool, or does not help.
std::optional<Gain> gain_by(const AdviceCase& given, const Candidate& candidate) {
    Changed after;
    try {
        after = answer_changed(given, candidate);
    } catch (const std::domain_error&) {
        return std::nullopt;
    }
    const double gain = gain_of(given, after);
    if (gain < kLeastGain || worsens(given, after)) return std::nullopt;
    return Gain{gain,
                {.kind = candidate.kind,
                 .set = candidate.set,
                 .limit_ratio = limit_ratio(given.answer, after.answer),
                 .error_ratio = error_ratio(given.answer, after.answer),
                 .level = after.answer.verdict.level,
                 .reach_unchecked = candidate.reach_unchecked}};
}

}  // namespace

std::vector<Advice> advise(const AdviceCase& given) {
    const std::vector<Candidate> candidates = advice_candidates(given);
    std::vector<std::optional<Gain>> gains(candidates.size());
    for_each_index(candidates.size(),
                   [&](std::size_t i) { gains[i] = gain_by(given, candidates[i]); });
    std::vector<Gain> helpful;
    for (const std::optional<Gain>& gain : gains) {
        if (gain) helpful.push_back(*gain);
    }
    std::stable_sort(helpful.begin(), helpful.end(),
                     [](const Gain& a, const Gain& b) { return a.gain > b.gain; });
    std::vector<Advice> advice;
    advice.reserve(helpful.size());
    for (Gain& gain : helpful) advice.push_back(std::move(gain.advice));
    return advice;
}

}  // namespace standfast
