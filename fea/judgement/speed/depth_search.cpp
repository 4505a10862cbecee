#include "fea/judgement/speed/depth_search.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/speed/best_speed.hpp"

namespace standfast {
namespace {

constexpr double kAlmost = 0.97, kLeastToWall = 0.4;
constexpr int kHeights = 5;

/// The most of so many tries that may be lost for their share, with caution, to stay below `most`.
std::size_t most_of(std::size_t tries, double most, double caution) {
    std::size_t lost = 0;
    const auto below = [&](std::size_t count) {
        const double share = static_cast<double>(count) / static_cast<double>(tries);
        return share + caution * counting_error(share, static_cast<int>(tries)) < most;
    };
    while (lost < tries && below(lost + 1)) ++lost;
    return lost;
}

bool judged_by_tries(Reason reason) {
    return reason == Reason::chatter || reason == Reason::surface_error ||
           reason == Reason::deflection;
}

/// How much shallower a cut must be for its wall to come out, as if the error went with the depth.
double toward_the_wall(const WallTries& wall, const Pass& pass, const Limits& limits) {
    std::vector<double> size;
    for (const double error : wall.error) size.push_back(std::abs(error));
    const auto inside = static_cast<std::size_t>(
        std::floor((1 - limits.chatter_probability_marginal) * static_cast<double>(size.size())));
    if (inside >= size.size()) return kAlmost;
    std::nth_element(size.begin(), size.begin() + static_cast<std::ptrdiff_t>(inside), size.end());
    const double allowed = allowed_error(pass).value_or(limits.deflection_avoid);
    return std::clamp(allowed / std::max(size[inside], 1e-12), kLeastToWall, kAlmost);
}

}  // namespace

std::vector<SpindleSpeed> speeds_about(const CutProblem& problem, SpindleSpeed speed) {
    const SpeedWindow offered = offered_window(*problem.job, problem.pass());
    const double half = problem.job->limits.least_band / 2;
    const double at = speed.radians_per_second;
    const double from = std::max(at * (1 - half), offered.from.radians_per_second);
    const double to = std::min(at * (1 + half), offered.to.radians_per_second);
    std::vector<SpindleSpeed> speeds{speed};
    if (from < at) speeds.push_back({from});
    if (to > at) speeds.push_back({to});
    return speeds;
}

SpeedLimit unknown_limit(SpindleSpeed speed) {
    SpeedLimit unknown;
    unknown.speed = speed;
    return unknown;
}

DepthSearch::DepthSearch(const CutProblem& problem, const Headings& headings,
                         const SpeedLimit& limit, const CutTries& tries, double caution)
    : problem_(problem),
      headings_(headings),
      limit_(limit),
      tries_(tries),
      caution_(caution),
      speeds_(speeds_about(problem, limit.speed)) {
    const Limits& limits = problem.job->limits;
    const std::size_t count = tries.at_stability.size();
    const double doubt = tries.rough ? doubt_in_a_search : usual_doubt;
    of_tries_ = std::make_unique<ChatterByDepth>(tries.at_stability, speeds_, doubt);
    most_chatter_ = most_of(count, limits.chatter_probability_marginal, caution);
    if (problem.method == StabilityMethod::periodic && !nothing_gives(problem)) {
        nominal_ = {delay_system(problem, headings.stability)};
        of_nominal_ = std::make_unique<ChatterByDepth>(nominal_, speeds_, doubt);
    }
    if (rubs_as_its_group(problem)) {
        fresh_ = with_fresh_edges(tries.at_stability);
        of_fresh_ = std::make_unique<ChatterByDepth>(fresh_, speeds_, doubt);
        most_fresh_ = most_of(count, limits.chatter_probability_avoid, caution);
    }
}

bool DepthSearch::chatters(double depth) {
    if (of_nominal_ && !of_nominal_->at_most(0, depth)) return true;
    if (!of_tries_->at_most(most_chatter_, depth)) return true;
    return of_fresh_ && !of_fresh_->at_most(most_fresh_, depth);
}

/// What the tries do not tell of.
bool DepthSearch::nominal_leaves(double depth) const {
    const SlowAnswer slow = slow_answer(problem_, headings_, depth, limit_.speed, kHeights);
    Tried chatter_told{.cut = TriedCut{}, .caution = 0};
    chatter_told.cut->tries = 1;
    const Verdict verdict = judge_at_speed(problem_, slow, limit_, chatter_told).verdict;
    return std::all_of(verdict.reasons.begin(), verdict.reasons.end(), judged_by_tries);
}

Tried DepthSearch::tried_at(std::size_t speed, double depth) const {
    const auto count = static_cast<double>(tries_.at_stability.size());
    const auto share = [&](std::size_t stable) { return 1 - static_cast<double>(stable) / count; };
    const std::vector<std::size_t> stable = of_tries_->stable(speed, depth);
    TriedCut cut{.tries = static_cast<int>(count),
                 .unstable = share(stable.size()),
                 .fresh_unstable = std::nullopt,
                 .wall = wall_of_tries(problem_, tries_, stable, speeds_[speed], depth)};
    if (of_fresh_) cut.fresh_unstable = share(of_fresh_->stable(speed, depth).size());
    return {.cut = std::move(cut), .caution = caution_};
}

bool DepthSearch::quiet_beside(std::size_t speed, double depth) const {
    const SlowAnswer slow = slow_answer(problem_, headings_, depth, speeds_[speed], kHeights);
    return judge_at_speed(problem_, slow, unknown_limit(speeds_[speed]), tried_at(speed, depth))
               .verdict.level == Level::unflagged;
}

DepthSearch::Asked DepthSearch::ask(double depth) {
    if (chatters(depth) || !nominal_leaves(depth)) return {};
    CutProblem within_reach = problem_;
    within_reach.distance = nullptr;  // where the tip is, neither speed nor depth decides of
    const Tried tried = tried_at(0, depth);
    const PassAnswer answer = answer_pass(within_reach, headings_, limit_, depth, tried);
    const Limits& limits = problem_.job->limits;
    bool holds = nothing_to_mend(answer, limits);
    for (std::size_t beside = 1; holds && beside < speeds_.size(); ++beside) {
        holds = quiet_beside(beside, depth);
    }
    if (holds) return {.held = tried, .shallower_by = 1};
    const std::optional<WallTries>& wall = tried.cut->wall;
    return {.held = std::nullopt,
            .shallower_by = wall ? toward_the_wall(*wall, problem_.pass(), limits) : kAlmost};
}

std::optional<HeldDepth> DepthSearch::deepest(const DepthRange& range) {
    HeldDepth last;
    const auto found = deepest_that(range, [&](double depth) {
        const Asked asked = ask(depth);
        if (asked.held) last = {depth, *asked.held};
        return asked.held ? 1.0 : std::min(asked.shallower_by, kAlmost);
    });
    return found ? std::optional(last) : std::nullopt;
}

}  // namespace standfast
