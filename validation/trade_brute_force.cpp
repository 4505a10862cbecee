// The trade held against a search of everything: of every option and every stickout that may be
// taken, every speed in steps of half a least band, each with the deepest cut that the tries leave
// within half a least band of it. Both use the same tries (those that tell, not those that the
// trade searches with) and the same judgement, so that what differs is what the trade left out.
//   validation_trade_brute_force [--draws N] [--option I] [--stickouts] JOB.toml...
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdlib>
#include <numbers>
#include <numeric>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "fea/job/edits/tool_edits.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/reach/reach.hpp"
#include "fea/judgement/speed/best_speed.hpp"
#include "fea/judgement/speed/depth_search.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/reach_fcl/fcl_distance.hpp"
#include "fea/studies/trade/trade.hpp"
#include "fea/studies/trade/trade_choice.hpp"
#include "fea/studies/trade/trade_ranking.hpp"
#include "fea/studies/trade/trade_reach.hpp"

namespace standfast {
namespace {

struct Asked {
    int draws = 32;
    std::optional<std::size_t> option;
    bool every = false;  ///< tell of every stickout
    std::vector<std::string> jobs;
};

/// m^3/s that a pass removes at its best, at one stickout.
double best_removal(const Job& job, std::size_t p, const JobSides& sides, const JobDraws& drawn) {
    CutProblem problem =
        cut_problem(job, p, sides.tool[p], sides.work[p], StabilityMethod::periodic);
    problem.draws = drawn.draws;
    problem.tool_draws = drawn.tool[p];
    problem.work_draws = drawn.work[p];
    const Headings headings = headings_of(problem);
    const CutTries tries = cut_tries(problem, headings);
    const SpeedWindow offered = offered_window(job, problem.pass());
    if (!(offered.from < offered.to)) return 0;
    const double step = 1 + job.limits.least_band / 2;
    std::vector<SpindleSpeed> speeds;
    for (double speed = offered.to.radians_per_second; speed >= offered.from.radians_per_second;
         speed /= step) {
        speeds.push_back({speed});
    }
    double worth = 0, guess = 1e-3;
    for (const SpindleSpeed speed : speeds) {
        DepthSearch search(problem, headings, unknown_limit(speed), tries, 1);
        const double most = deepest_cut(problem.tool_chain().cutter);
        const double least = 1.001 * worth / speed.radians_per_second;
        const auto held = search.deepest({.guess = guess, .most = most, .least = least});
        if (!held) continue;
        worth = speed.radians_per_second * held->depth;
        guess = held->depth;
    }
    const Pass& pass = problem.pass();
    return pass.radial * pass.feed_per_tooth * job.tools[pass.tool].cutter.teeth * worth /
           (2 * std::numbers::pi);
}

/// Least time of a tool's passes at each of its stickouts, s; HUGE_VAL where one does not clear.
struct ToolTruth {
    std::vector<double> time;
    std::vector<bool> clear;
};

struct OptionTruth {
    double removal = 0;
    std::vector<ToolTruth> tools;
    int wrong_reach = 0;
};

double work_of(const Job& job, std::size_t p) {
    const Pass& pass = job.passes[p];
    const double depth = pass.axial.value_or(job.tools[pass.tool].cutter.diameter / 2);
    return share_of_path(job, p) * pass.radial * depth;
}

OptionTruth truth_of(const TradeGrid& grid, const TradeOption& option, const TradeResult& result,
                     const SolidDistance& distance, const Asked& asked) {
    OptionTruth truth;
    double work = 0, time = 0;
    std::vector<std::size_t> all(option.job.passes.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    for (std::size_t tool = 0; tool < grid.stickouts.size(); ++tool) {
        ToolTruth one;
        const std::size_t count = std::max<std::size_t>(1, grid.stickouts[tool].size());
        one.time.assign(count, 0);
        one.clear.assign(count, true);
        bool used = false;
        for (std::size_t s = 0; s < count; ++s) {
            Job job = option.job;
            if (!grid.stickouts[tool].empty()) {
                job.tools[tool] = with_stickout(job.tools[tool], grid.stickouts[tool][s]);
            }
            for (const std::size_t p : all) {
                if (job.passes[p].tool != tool) continue;
                used = true;
                const ReachResult reach =
                    reach_of_pass(job, job.passes[p], distance, reach_options(job));
                const bool clear = !reach.judged || reach.clear;
                if (reach.judged && result.passes[p].cells[s].clear != reach.clear) {
                    ++truth.wrong_reach;
                }
                if (!clear) one.clear[s] = false;
            }
            if (!one.clear[s]) continue;
            for (Pass& pass : job.passes) pass.axial.reset();
            const JobSides sides = solve_sides(job, all);
            const JobDraws drawn = draw_job(job, all, sides, {.draws = asked.draws, .seed = 1});
            std::vector<double> times(all.size(), 0);
            for_each_index(all.size(), [&](std::size_t p) {
                if (job.passes[p].tool != tool) return;
                times[p] = pass_time(work_of(option.job, p), best_removal(job, p, sides, drawn));
            });
            one.time[s] = std::accumulate(times.begin(), times.end(), 0.0);
        }
        if (used) {
            double least = HUGE_VAL;
            for (std::size_t s = 0; s < count; ++s) {
                if (one.clear[s]) least = std::min(least, one.time[s]);
            }
            time += least;
        }
        truth.tools.push_back(one);
    }
    for (const std::size_t p : all) work += work_of(option.job, p);
    truth.removal = std::isfinite(time) && time > 0 ? work / time : 0;
    return truth;
}

/// A Stickout paragraph whose longer stickout is no quicker.
int false_paragraphs(const TradeGrid& grid, const TradeResult& result, const OptionTruth& truth) {
    int count = 0;
    for (const TunedStickout& tuned : result.tuned) {
        for (std::size_t tool = 0; tool < truth.tools.size(); ++tool) {
            const std::vector<double>& stickouts = grid.stickouts[tool];
            const auto index = [&](double wanted) {
                return static_cast<std::size_t>(
                    std::find_if(stickouts.begin(), stickouts.end(),
                                 [&](double one) { return std::abs(one - wanted) < 1e-6; }) -
                    stickouts.begin());
            };
            const std::size_t with = index(tuned.stickout), without = index(tuned.shortest);
            if (with >= stickouts.size() || without >= stickouts.size()) continue;
            count += truth.tools[tool].time[with] > truth.tools[tool].time[without] ? 1 : 0;
        }
    }
    return count;
}

/// Of every stickout: what its tool's passes remove together, and what the trade found of each.
void print_stickouts(const TradeGrid& grid, const TradeOption& option, const TradeResult& result,
                     const OptionTruth& truth) {
    for (std::size_t tool = 0; tool < truth.tools.size(); ++tool) {
        double work = 0;
        for (std::size_t p = 0; p < option.job.passes.size(); ++p) {
            if (option.job.passes[p].tool == tool) work += work_of(option.job, p);
        }
        for (std::size_t s = 0; s < grid.stickouts[tool].size(); ++s) {
            if (!truth.tools[tool].clear[s]) continue;
            fmt::print("    {:5.1f} mm all {:8.4f}", grid.stickouts[tool][s] * 1e3,
                       work / truth.tools[tool].time[s] * 6e7);
            for (const TradePass& pass : result.passes) {
                if (option.job.passes[pass.pass].tool != tool) continue;
                const TradeCell& cell = pass.cells[s];
                fmt::print("  {} {:.3f} mm at {:.0f}", cell.worked_out ? "searched" : "left out",
                           cell.usable.value_or(0) * 1e3, cell.best ? cell.best->rpm() : 0);
            }
            fmt::print("\n");
        }
    }
}

double seconds_since(std::chrono::steady_clock::time_point start) {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
}

void hold_against(const std::string& path, const Asked& asked) {
    ReadResult read = read_job(path);
    if (!read.job) {
        fmt::print("{}: cannot be read\n", path);
        return;
    }
    const Job job = std::move(*read.job);
    const std::unique_ptr<SolidDistance> distance = fcl_distance();
    TradeSettings settings;
    settings.draws = asked.draws;
    settings.reach = reach_by_distance(*distance);
    settings.distance = distance.get();
    const auto start = std::chrono::steady_clock::now();
    TradeStudy study(job, settings);
    std::vector<TradeResult> results;
    std::vector<std::size_t> options;
    for (std::size_t i = 0; i < study.grid().options.size(); ++i) {
        if (asked.option && *asked.option != i) continue;
        options.push_back(i);
        results.push_back(study.option(i));
    }
    const double traded = seconds_since(start);
    double worst = 0, best = 0, best_usable = 0;
    int wrong_reach = 0, wrong_paragraphs = 0, paragraphs = 0;
    std::vector<double> truths;
    for (std::size_t k = 0; k < options.size(); ++k) {
        const TradeOption& option = study.grid().options[options[k]];
        const OptionTruth truth = truth_of(study.grid(), option, results[k], *distance, asked);
        truths.push_back(truth.removal);
        const double loss = truth.removal > 0 ? 1 - results[k].removal / truth.removal : 0;
        worst = std::max(worst, loss);
        wrong_reach += truth.wrong_reach;
        paragraphs += static_cast<int>(results[k].tuned.size());
        wrong_paragraphs += false_paragraphs(study.grid(), results[k], truth);
        best = std::max(best, truth.removal);
        best_usable = std::max(best_usable, results[k].removal);
        fmt::print("  {:24} trade {:8.4f}  all {:8.4f} cm3/min  loss {:6.2f} %\n", option.id,
                   results[k].removal * 6e7, truth.removal * 6e7, 100 * loss);
        if (asked.every) print_stickouts(study.grid(), option, results[k], truth);
        std::fflush(stdout);
    }
    const TradeRanking ranking = rank_trade(results);
    const double winner = ranking.best ? truths[*ranking.best] : 0;
    const double of_winner = ranking.best ? results[*ranking.best].removal : 0;
    fmt::print(
        "{}: {} options; winner's loss {:.2f} % (its option's own best {:.2f} %), worst of an "
        "option {:.2f} %; reach flags wrong {}; Stickout paragraphs {}, false {}; cells {}, "
        "searched {}; trade {:.1f} s, all {:.1f} s\n",
        path, options.size(), best > 0 ? 100 * (1 - of_winner / best) : 0,
        best > 0 ? 100 * (1 - winner / best) : 0, 100 * worst, wrong_reach, paragraphs,
        wrong_paragraphs, study.count().cells, study.count().worked_out, traded,
        seconds_since(start) - traded);
}

}  // namespace
}  // namespace standfast

int main(int count, char** words) {
    standfast::Asked asked;
    for (int i = 1; i < count; ++i) {
        const std::string word = words[i];
        if (word == "--draws" && i + 1 < count) {
            asked.draws = std::atoi(words[++i]);
        } else if (word == "--option" && i + 1 < count) {
            asked.option = static_cast<std::size_t>(std::atoi(words[++i]));
        } else if (word == "--stickouts") {
            asked.every = true;
        } else {
            asked.jobs.push_back(word);
        }
    }
    for (const std::string& job : asked.jobs) standfast::hold_against(job, asked);
    return asked.jobs.empty() ? 2 : 0;
}
