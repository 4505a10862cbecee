#include "fea/studies/trade_choice.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

constexpr double kSame = 1e-6;
constexpr double kTie = 1.03;

struct Score {
    std::size_t index = 0;
    bool avoid = false;
    double time = 0;
};

Score sketched_score(const std::vector<TradePassCase>& cases,
                     const std::vector<PassSketches>& passes, std::size_t index) {
    Score score{.index = index};
    for (std::size_t p = 0; p < passes.size(); ++p) {
        const CellSketch& cell = passes[p].cells[index];
        const TradePassCase& of = cases[p];
        const double per_depth = of.job->passes[of.pass].radial * of.feed_per_revolution;
        const double turns = cell.worth / (2 * std::numbers::pi);
        score.avoid = score.avoid || cell.level == Level::avoid;
        score.time += pass_time(passes[p].section, per_depth * turns);
    }
    return score;
}

bool better(const Score& a, const Score& b) {
    if (a.avoid != b.avoid) return !a.avoid;
    return a.time < b.time;
}

}  // namespace

double pass_time(double section, double removal) {
    return removal > 0 ? section / removal : HUGE_VAL;
}

std::vector<std::size_t> allowed_stickouts(const std::vector<PassSketches>& passes,
                                           const std::vector<double>& stickouts, double own) {
    std::vector<std::size_t> allowed;
    for (std::size_t s = 0; s < stickouts.size(); ++s) {
        const bool fits = std::all_of(passes.begin(), passes.end(), [&](const PassSketches& pass) {
            return pass.clear[s].value_or(stickouts[s] >= own - kSame);
        });
        if (fits) allowed.push_back(s);
    }
    return allowed;
}

std::vector<std::size_t> short_list(const std::vector<TradePassCase>& cases,
                                    const std::vector<PassSketches>& passes,
                                    const std::vector<std::size_t>& allowed, double margin,
                                    std::size_t most) {
    if (allowed.empty()) return {};
    std::vector<Score> scores;
    for (const std::size_t index : allowed) scores.push_back(sketched_score(cases, passes, index));
    std::stable_sort(scores.begin(), scores.end(), better);
    std::vector<std::size_t> list{allowed.front()};
    for (const Score& score : scores) {
        if (list.size() >= most) break;
        const bool near =
            score.avoid == scores.front().avoid && score.time <= scores.front().time * (1 + margin);
        if (near && score.index != allowed.front()) list.push_back(score.index);
    }
    std::sort(list.begin(), list.end());
    return list;
}

std::size_t best_stickout(const std::vector<WorkedStickout>& worked) {
    std::size_t best = 0;
    const auto avoid = [&](std::size_t i) { return worked[i].level == Level::avoid; };
    for (std::size_t i = 1; i < worked.size(); ++i) {
        const bool safer = avoid(best) && !avoid(i);
        const bool quicker = avoid(best) == avoid(i) && worked[i].time * kTie < worked[best].time;
        if (safer || quicker) best = i;
    }
    return best;
}

}  // namespace standfast
