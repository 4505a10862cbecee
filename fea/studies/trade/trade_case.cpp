#include "fea/studies/trade/trade_case.hpp"

#include <algorithm>
#include <cmath>

#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

// Stickouts whose sketch comes within this of the best, or within the largest error seen in a
// sketch if that is more, are searched too; so many at most, and so many at a time.
constexpr double kMargin = 0.1;
constexpr std::size_t kMostSearched = 24, kAtOnce = 2;
// A shorter stickout need only come so near.
constexpr double kNear = 1.01;

double work_of(const TradePassCase& of) {
    return share_of_path(*of.job, of.pass) * of.cut().radial * of.usual_depth;
}

void make_room(TradeOptionCase& option, const std::vector<TradedTools>& tools) {
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        const std::size_t count = tools[option.job->passes[p].tool].size();
        option.sketches.emplace_back();
        option.sketches[p].pass = p;
        option.sketches[p].work = work_of(option.cases[p]);
        option.sketches[p].cells.resize(count);
        option.searched.emplace_back(count);
    }
}

void judge_reach(TradeOptionCase& option, const TradeGrid& grid, const TradeSettings& settings) {
    option.reach.resize(option.cases.size());
    for_each_index(option.cases.size(), [&](std::size_t p) {
        const std::size_t tool = option.job->passes[p].tool;
        std::vector<double> stickouts = grid.stickouts[tool];
        if (stickouts.empty()) stickouts = {stickout_of(option.job->tools[tool].cutter)};
        TradeReach& reach = option.reach[p];
        if (settings.reach) reach = settings.reach(*option.job, p, stickouts);
        std::vector<std::optional<bool>>& clear = option.sketches[p].clear;
        clear.assign(stickouts.size(), std::nullopt);
        for (std::size_t s = 0; reach.judged && s < clear.size(); ++s) {
            clear[s] = s < reach.clear.size() && reach.clear[s];
        }
    });
}

template <typename Item>
std::vector<Item> picked(const std::vector<Item>& all, const std::vector<std::size_t>& indices) {
    std::vector<Item> some;
    for (const std::size_t i : indices) some.push_back(all[i]);
    return some;
}

/// Stickouts that may be chosen, per tool; the longest where nothing clears, so that there are
/// figures.
void find_allowed(TradeOptionCase& option, const TradeGrid& grid) {
    for (std::size_t tool = 0; tool < grid.stickouts.size(); ++tool) {
        const std::vector<double>& stickouts = grid.stickouts[tool];
        std::vector<std::size_t> allowed{0};
        if (!stickouts.empty()) {
            allowed = allowed_stickouts(picked(option.sketches, passes_of(*option.job, tool)),
                                        stickouts, stickout_of(option.job->tools[tool].cutter));
            if (allowed.empty()) allowed = {stickouts.size() - 1};
        }
        option.allowed.push_back(std::move(allowed));
    }
}

std::optional<double> finite(double value) {
    return std::isfinite(value) ? std::optional(value) : std::nullopt;
}

/// The choice of a stickout for one tool of an option.
class StickoutChoice {
public:
    StickoutChoice(TradeOptionCase& option, std::size_t tool, const std::vector<TradedTools>& tools,
                   const TradeSettings& settings, TradeTries& tries)
        : option_(option),
          tool_(tool),
          passes_(passes_of(*option.job, tool)),
          tools_(tools),
          settings_(settings),
          tries_(tries),
          sketched_(by_promise(picked(option.cases, passes_), picked(option.sketches, passes_),
                               option.allowed[tool])) {}

    void choose() {
        const std::size_t shortest = option_.allowed[tool_].front();
        search({shortest}, HUGE_VAL);
        if (sketched_.front().index != shortest) {
            search({sketched_.front().index}, kNear * best_time());
        }
        search_all(false);
        take(option_.by_default);
        if (settings_.every_speed) search_all(true);
        take(option_.chosen);
        const std::vector<TimedStickout> sketched = as_it_turned_out(sketched_, searched_);
        for (const std::size_t p : passes_) {
            option_.left_out[p] = {.seen = finite(too_slow_at_worst(sketched, searched_)),
                                   .needed = finite(least_off(sketched))};
        }
    }

private:
    double best_time() const {
        double least = HUGE_VAL;
        for (const TimedStickout& one : searched_) least = std::min(least, one.time);
        return least;
    }

    void take(std::vector<std::size_t>& choice) {
        std::sort(searched_.begin(), searched_.end(),
                  [](const auto& a, const auto& b) { return a.index < b.index; });
        for (const std::size_t p : passes_) choice[p] = searched_[best_stickout(searched_)].index;
    }

    void search_all(bool every) {
        for (auto next = hopeful(every); !next.empty(); next = hopeful(every)) {
            search(next, kNear * best_time());
        }
    }

    bool is_searched(std::size_t stickout) const {
        return option_.searched[passes_.front()][stickout].has_value();
    }

    /// Of those not searched, the most promising that may still be quicker.
    std::vector<std::size_t> hopeful(bool every) const {
        const std::vector<TimedStickout> sketched = as_it_turned_out(sketched_, searched_);
        const double margin = std::max(kMargin, too_slow_at_worst(sketched, searched_));
        std::vector<std::size_t> next;
        for (const TimedStickout& one : sketched) {
            if (is_searched(one.index) || next.size() == kAtOnce) continue;
            const bool room = searched_.size() + next.size() < kMostSearched;
            const bool may_win = would_have_to_be_off(one, best_time()) < margin;
            if (every || (room && may_win)) next.push_back(one.index);
        }
        return next;
    }

    double least_off(const std::vector<TimedStickout>& sketched) const {
        double least = HUGE_VAL;
        for (const TimedStickout& one : sketched) {
            if (!is_searched(one.index)) {
                least = std::min(least, would_have_to_be_off(one, best_time()));
            }
        }
        return least;
    }

    /// @param within  s; a stickout that takes longer is given up
    void search(const std::vector<std::size_t>& stickouts, double within) {
        std::vector<JobDraws> drawn(stickouts.size());
        for (std::size_t i = 0; settings_.draws > 0 && i < stickouts.size(); ++i) {
            drawn[i] = draw_at(stickouts[i]);
        }
        std::vector<TimedStickout> found(stickouts.size());
        for_each_index(stickouts.size(), [&](std::size_t i) {
            found[i] = search_one(stickouts[i], settings_.draws > 0 ? &drawn[i] : nullptr, within);
        });
        searched_.insert(searched_.end(), found.begin(), found.end());
    }

    JobDraws draw_at(std::size_t stickout) {
        std::vector<std::size_t> at;
        for (std::size_t p = 0; p < option_.cases.size(); ++p) {
            const std::size_t tool = option_.job->passes[p].tool;
            at.push_back(tool == tool_ ? stickout : option_.allowed[tool].front());
        }
        return draw_option(option_.cases, tools_, at, tries_, option_.drawn_works);
    }

    TimedStickout search_one(std::size_t stickout, const JobDraws* drawn, double within) {
        TimedStickout one{.index = stickout};
        double to_come = 0;
        for (const std::size_t p : passes_) to_come += hoped_time(p, stickout);
        for (const std::size_t p : passes_) {
            to_come -= hoped_time(p, stickout);
            const double left = within - one.time - to_come;
            const double work = option_.sketches[p].work;
            SearchedCell& cell = option_.searched[p][stickout].emplace();
            if (left > 0) {
                const double least = std::isfinite(left) ? work / left : 0;
                cell = search_cell(option_.cases[p], tools_[tool_][stickout],
                                   option_.sketches[p].cells[stickout], drawn, settings_, least);
            }
            one.time += pass_time(work, cell.removal);
        }
        return one;
    }

    /// What a pass that is not searched yet is sure to take, with half of its hope at least.
    double hoped_time(std::size_t pass, std::size_t stickout) const {
        const double time =
            sketched_time(option_.cases[pass], option_.sketches[pass], stickout) / 2;
        return std::isfinite(time) ? time : 0;
    }

    TradeOptionCase& option_;
    std::size_t tool_ = 0;
    std::vector<std::size_t> passes_;
    const std::vector<TradedTools>& tools_;
    const TradeSettings& settings_;
    TradeTries& tries_;
    std::vector<TimedStickout> sketched_, searched_;
};

/// The shortest stickout allowed, where a longer one that was searched beside it is chosen.
std::optional<std::size_t> shorter_than_chosen(const TradeOptionCase& option, std::size_t pass) {
    const std::size_t shortest = option.allowed[option.job->passes[pass].tool].front();
    const bool shorter = shortest < option.chosen[pass] && option.searched[pass][shortest];
    return shorter ? std::optional(shortest) : std::nullopt;
}

void tell(TradeOptionCase& option, const std::vector<std::size_t>& stickout,
          const std::vector<TradedTools>& tools, const TradeSettings& settings, TradeTries& tries,
          DrawnSides& works) {
    JobDraws drawn;
    if (settings.draws > 0) drawn = draw_option(option.cases, tools, stickout, tries, works);
    std::vector<std::optional<CellAnswer>> told(option.cases.size());
    for_each_index(option.cases.size(), [&](std::size_t p) {
        if (option.answers[p].contains(stickout[p])) return;
        told[p] = tell_cell(option.cases[p], tools[option.job->passes[p].tool][stickout[p]],
                            option.sketches[p].cells[stickout[p]], *option.searched[p][stickout[p]],
                            settings.draws > 0 ? &drawn : nullptr, settings);
    });
    for (std::size_t p = 0; p < told.size(); ++p) {
        if (told[p]) option.answers[p].emplace(stickout[p], std::move(*told[p]));
    }
}

double told_time(const TradeOptionCase& option, const std::vector<std::size_t>& passes,
                 const std::vector<std::size_t>& stickout) {
    double time = 0;
    for (const std::size_t p : passes) {
        time += pass_time(option.sketches[p].work, option.answers[p].at(stickout[p]).removal);
    }
    return time;
}

/// Of the choices with every_speed and without.
void keep_the_better(TradeOptionCase& option, std::size_t tool) {
    const std::vector<std::size_t> passes = passes_of(*option.job, tool);
    if (told_time(option, passes, option.by_default) <= told_time(option, passes, option.chosen)) {
        for (const std::size_t p : passes) option.chosen[p] = option.by_default[p];
    }
}

}  // namespace

std::vector<std::size_t> passes_of(const Job& job, std::size_t tool) {
    std::vector<std::size_t> passes;
    for (std::size_t p = 0; p < job.passes.size(); ++p) {
        if (job.passes[p].tool == tool) passes.push_back(p);
    }
    return passes;
}

void begin_case(TradeOptionCase& option, const TradeGrid& grid,
                const std::vector<TradedTools>& tools, const TradeSettings& settings) {
    make_room(option, tools);
    judge_reach(option, grid, settings);
    find_allowed(option, grid);
}

void sketch_cells(TradeOptionCase& option, const std::vector<TradedTools>& tools,
                  const TradeSettings& settings, TradeTries& tries) {
    if (settings.draws > 0) {
        std::vector<std::size_t> shortest;
        for (const Pass& pass : option.job->passes) {
            shortest.push_back(option.allowed[pass.tool].front());
        }
        const JobDraws drawn =
            draw_option(option.cases, tools, shortest, tries, option.drawn_works);
        for (std::size_t p = 0; p < option.cases.size(); ++p) {
            const TradedTool& tool = tools[option.job->passes[p].tool][shortest[p]];
            option.cases[p].spread = frequency_spread(option.cases[p], tool, drawn);
        }
    }
    struct Place {
        std::size_t pass, stickout;
    };
    std::vector<Place> places;
    for (std::size_t p = 0; p < option.cases.size(); ++p) {
        for (std::size_t s = 0; s < option.sketches[p].cells.size(); ++s) places.push_back({p, s});
    }
    for_each_index(places.size(), [&](std::size_t i) {
        const auto [p, s] = places[i];
        const std::size_t tool = option.job->passes[p].tool;
        const std::vector<std::size_t>& allowed = option.allowed[tool];
        const bool rank = std::binary_search(allowed.begin(), allowed.end(), s);
        option.sketches[p].cells[s] = sketch_cell(option.cases[p], tools[tool][s], rank, settings);
    });
}

void choose_stickout(TradeOptionCase& option, std::size_t tool,
                     const std::vector<TradedTools>& tools, const TradeSettings& settings,
                     TradeTries& tries) {
    if (passes_of(*option.job, tool).empty()) return;
    StickoutChoice(option, tool, tools, settings, tries).choose();
}

void tell_choice(TradeOptionCase& option, const std::vector<TradedTools>& tools,
                 const TradeSettings& settings, TradeTries& tries) {
    DrawnSides works;
    tell(option, option.chosen, tools, settings, tries, works);
    if (option.by_default != option.chosen) {
        tell(option, option.by_default, tools, settings, tries, works);
        for (std::size_t tool = 0; tool < tools.size(); ++tool) keep_the_better(option, tool);
    }
    std::vector<std::size_t> shorter = option.chosen;
    for (std::size_t p = 0; p < shorter.size(); ++p) {
        shorter[p] = shorter_than_chosen(option, p).value_or(option.chosen[p]);
    }
    if (shorter != option.chosen) tell(option, shorter, tools, settings, tries, works);
}

}  // namespace standfast
