#include "fea/studies/explore/explored_answer.hpp"

#include <algorithm>
#include <utility>

#include "fea/cutting/forces.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/speed/push_off.hpp"
#include "fea/judgement/tries/pass_odds.hpp"

namespace standfast {
namespace {

constexpr std::size_t kSpeedsAStep = 6;
constexpr int kListedModes = 6;
constexpr int kHeights = 9;

/// Of the strip's speeds those that may be offered, nearest to the setting's own last, so that
/// these come first. Slow speeds beyond them would cost most and help nobody.
std::vector<SpindleSpeed> speeds_to_judge(const ExploredCut& cut) {
    const SpindleSpeed judged = cut.setting.speed;
    const SpeedWindow offered = offered_window(*cut.job, cut.problem.pass());
    std::vector<SpindleSpeed> speeds = strip_speeds(*cut.job, cut.setting);
    std::erase_if(speeds,
                  [&](SpindleSpeed speed) { return speed != judged && !offered.contains(speed); });
    const auto away = [&](SpindleSpeed speed) {
        const double ratio = speed.radians_per_second / judged.radians_per_second;
        return std::max(ratio, 1 / ratio);
    };
    std::stable_sort(speeds.begin(), speeds.end(),
                     [&](SpindleSpeed a, SpindleSpeed b) { return away(a) > away(b); });
    return speeds;
}

template <typename List, typename Item>
void insert_by_speed(List& list, Item item) {
    const auto place =
        std::lower_bound(list.begin(), list.end(), item,
                         [](const Item& a, const Item& b) { return a.speed < b.speed; });
    list.insert(place, std::move(item));
}

}  // namespace

ExploredAnswer::ExploredAnswer(ExploredCut cut, const OddsOptions& odds)
    : cut_(std::move(cut)), odds_(odds) {
    const CutProblem& problem = cut_.problem;
    const Pass& pass = problem.pass();
    speeds_left_ = speeds_to_judge(cut_);
    report_.name = pass.name;
    report_.tool = problem.tool_chain().name;
    report_.pass = problem.pass_index;
    report_.gauge_length = gauge_length(problem.tool_chain());
    report_.stickout = problem.tool_chain().cutter.stickout;
    report_.engagement = problem.cut.engagement;
    report_.law = problem.cut.law;
    report_.programmed_speed = pass.speed;
    report_.judged_speed = cut_.setting.speed;
    report_.judged_depth = cut_.setting.depth;
}

ExploredAnswer::Step ExploredAnswer::next() {
    const Step step = after_;
    switch (step) {
        case Step::edge:
            find_edge();
            after_ = Step::level;
            break;
        case Step::level:
            judge();
            after_ = Step::speeds;
            break;
        case Step::speeds:
            judge_some_speeds();
            if (speeds_left_.empty()) after_ = Step::done;
            break;
        case Step::done:
            break;
    }
    return step;
}

void ExploredAnswer::find_edge() {
    const CutProblem& problem = cut_.problem;
    const SpindleSpeed speed = report_.judged_speed;
    const double depth = report_.judged_depth;
    headings_ = headings_of(problem);
    report_.feed_heading = headings_.stability;
    report_.error_heading = headings_.error;
    report_.worst_heading = headings_.searched;
    report_.tool_modes = reported_modes(*problem.tool, kListedModes);
    report_.work_modes = reported_modes(*problem.work, kListedModes);
    report_.edge = edge_report(problem, depth, report_.tool_modes, report_.work_modes);
    report_.stability = limits_at_heading(problem, headings_.stability, {speed});
    report_.at_programmed = report_.stability.speeds.front();
    report_.stability.speeds.clear();
    report_.statics = push_off(problem, headings_.error, depth);
    RigidCut cut = problem.cut;
    cut.depth = depth;
    report_.tooth_passing_hertz = tooth_passing_hertz(speed, cut.cutter.teeth());
    report_.mean_force = mean_force(cut);
    report_.peak_force = peak_force(cut);
    report_.cutting_speed = cutting_speed_of(problem.tool_chain().cutter, speed);
}

void ExploredAnswer::judge() {
    CutProblem& problem = cut_.problem;
    if (odds_.draws > 0) {
        JobSides sides;
        sides.tool.resize(cut_.job->passes.size());
        sides.work.resize(cut_.job->passes.size());
        sides.tool[problem.pass_index] = problem.tool;
        sides.work[problem.pass_index] = problem.work;
        const JobDraws drawn = draw_job(*cut_.job, {problem.pass_index}, sides, odds_);
        problem.draws = drawn.draws;
        problem.tool_draws = drawn.tool[problem.pass_index];
        problem.work_draws = drawn.work[problem.pass_index];
        if (report_.stability.fallback.empty()) tries_ = cut_tries(problem, headings_);
    }
    const SpindleSpeed slowest =
        std::min(speeds_left_.empty() ? report_.judged_speed
                                      : *std::min_element(speeds_left_.begin(), speeds_left_.end()),
                 report_.judged_speed);
    slow_ = slow_answer(problem, headings_, report_.judged_depth, slowest, kHeights);
    report_.low_speed_vibration = slow_.slow_vibration;
    if (!tries_.none()) {
        OddsOptions here = odds_;
        here.least_speeds = 1;
        const auto odds = pass_odds(problem, tries_, headings_.stability, report_.judged_speed,
                                    report_.judged_depth, {report_.judged_speed}, here);
        report_.odds = *odds;
        slow_.odds = odds;
    }
    PassAnswer answer =
        judge_cut(problem, headings_, tries_, report_.at_programmed, report_.judged_depth);
    report_.verdict = std::move(answer.verdict);
    report_.statics = std::move(answer.statics);
    if (answer.at.motion) {
        report_.error_at_programmed = answer.at.motion->largest_error;
        report_.vibration_at_programmed = answer.at.motion->peak_to_peak;
        report_.waviness_at_programmed = answer.at.motion->waviness;
    }
    report_.in_corner = std::move(answer.in_corner);
    report_.holding = std::move(answer.holding);
    report_.tool_stress = std::move(answer.tool_stress);
    report_.weight = answer.weight;
    report_.reach = std::move(answer.reach);
    report_.whirl_ratio = answer.whirl_ratio;
    report_.power = answer.power;
    if (answer.tried) report_.wall = std::move(answer.tried->wall);
}

void ExploredAnswer::judge_some_speeds() {
    const CutProblem& problem = cut_.problem;
    std::vector<SpindleSpeed> speeds;
    while (!speeds_left_.empty() && speeds.size() < kSpeedsAStep) {
        speeds.push_back(speeds_left_.back());
        speeds_left_.pop_back();
    }
    if (!tries_.none()) {
        OddsOptions here = odds_;
        here.least_speeds = 1;
        const ChatterOdds odds =
            chatter_odds(tries_.at_stability, speeds, report_.judged_speed, report_.judged_depth,
                         {problem.job->limits.chatter_probability_marginal,
                          problem.job->limits.chatter_probability_avoid},
                         here);
        ChatterOdds all = *report_.odds;
        for (std::size_t i = 0; i < odds.speed.size(); ++i) {
            const auto place = std::lower_bound(all.speed.begin(), all.speed.end(), odds.speed[i]);
            if (place != all.speed.end() && *place == odds.speed[i]) continue;
            all.unstable.insert(all.unstable.begin() + (place - all.speed.begin()),
                                odds.unstable[i]);
            all.speed.insert(place, odds.speed[i]);
        }
        report_.odds = all;
        slow_.odds = std::make_shared<const ChatterOdds>(std::move(all));
    }
    const SpeedWindow offered = offered_window(*problem.job, problem.pass());
    for (SpeedLimit& limit : limits_at_heading(problem, headings_.stability, speeds).speeds) {
        const AtSpeed at = judge_at_speed(problem, slow_, limit);
        insert_by_speed(report_.speeds, SpeedLevel{.speed = limit.speed,
                                                   .level = at.verdict.level,
                                                   .reasons = at.verdict.reasons,
                                                   .offered = offered.contains(limit.speed)});
        insert_by_speed(report_.stability.speeds, std::move(limit));
    }
}

}  // namespace standfast
