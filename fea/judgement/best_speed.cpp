#include "fea/judgement/best_speed.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

// Just inside the threshold at which chatter is flagged.
constexpr double kInside = 0.999;
constexpr int kDepthSteps = 8;
constexpr std::size_t kTried = 12;
constexpr int kHeights = 5;

/// Limit at each speed, lowered to the smallest within half a least band.
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

double stable_depth(const CutProblem& problem, const SpeedLimit& limit) {
    const double deepest = deepest_cut(problem.tool_chain().cutter);
    const double margin = problem.job->limits.chatter_depth_marginal * kInside;
    return limit.limit ? std::min(deepest, margin * *limit.limit) : deepest;
}

Level level_at(const CutProblem& problem, const Headings& headings, const SpeedLimit& limit,
               double depth) {
    return judge_at_speed(problem, slow_answer(problem, headings, depth, limit.speed, kHeights),
                          limit)
        .verdict.level;
}

}  // namespace

double deepest_cut(const Cutter& cutter) {
    return cutter.flute_length > 0 ? cutter.flute_length : 5 * cutter.diameter;
}

std::optional<Recommendation> best_depth_at(const CutProblem& problem, const Headings& headings,
                                            const SpeedLimit& limit) {
    const auto recommended = [&](double depth) {
        return Recommendation{limit.speed, depth, Level::unflagged, limit.limit};
    };
    double most = stable_depth(problem, limit);
    if (problem.pass().axial) {
        const double wanted = *problem.pass().axial;
        if (wanted <= most && level_at(problem, headings, limit, wanted) == Level::unflagged) {
            return recommended(wanted);
        }
        most = std::min(most, wanted);
    }
    for (int step = kDepthSteps; step >= 1; --step) {
        const double depth = most * step / kDepthSteps;
        if (level_at(problem, headings, limit, depth) == Level::unflagged) {
            return recommended(depth);
        }
    }
    return std::nullopt;
}

std::optional<Recommendation> best_speed_and_depth(const CutProblem& problem,
                                                   const Headings& headings,
                                                   const StabilityLimits& limits,
                                                   const SpeedWindow& offered) {
    std::vector<SpeedLimit> candidates = with_neighbours(limits, problem.job->limits.least_band);
    std::erase_if(candidates, [&](const SpeedLimit& at) { return !offered.contains(at.speed); });
    const auto hoped = [&](const SpeedLimit& at) {
        const double depth = stable_depth(problem, at);
        const double wanted = problem.pass().axial.value_or(depth);
        return at.speed.radians_per_second * std::min(depth, wanted);
    };
    std::stable_sort(candidates.begin(), candidates.end(),
                     [&](const SpeedLimit& a, const SpeedLimit& b) { return hoped(a) > hoped(b); });
    if (candidates.size() > kTried) {
        // The most hopeful ones, and a spread of the rest in case those are ruled out.
        std::vector<SpeedLimit> tried(candidates.begin(), candidates.begin() + kTried / 2);
        const std::size_t rest = candidates.size() - kTried / 2;
        for (std::size_t i = 0; i < kTried / 2; ++i) {
            tried.push_back(candidates[kTried / 2 + i * rest / (kTried / 2)]);
        }
        candidates = tried;
    }
    std::optional<Recommendation> best;
    const auto removal = [](const Recommendation& r) {
        return r.speed.radians_per_second * r.depth;
    };
    for (const SpeedLimit& at : candidates) {
        if (best && hoped(at) <= removal(*best)) continue;
        const std::optional<Recommendation> found = best_depth_at(problem, headings, at);
        if (found && (!best || removal(*found) > removal(*best))) best = found;
    }
    return best;
}

}  // namespace standfast
