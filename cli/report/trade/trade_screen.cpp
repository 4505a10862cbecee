#include "cli/report/trade/trade_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "cli/report/check/ending_sections.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_passes.hpp"
#include "cli/report/trade/trade_reasons.hpp"
#include "cli/report/trade/trade_table.hpp"
#include "cli/report/trade/trade_ways_text.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostTies = 3;
constexpr std::size_t kMostGroups = 4;

Paragraph take_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section;
    section.entries.push_back({.lead = "", .text = printable(best_text(traded, options.units))});
    if (!traded.ranking.best) {
        return section;
    }
    const TradeResult& best = traded.results[*traded.ranking.best];
    const std::string levels =
        fmt::format("At these speeds and depths: {}. As programmed: {}.",
                    best_level_text(best, options.units), trade_option_text(best, options.units));
    section.entries.push_back({.lead = "", .text = printable(levels)});
    return section;
}

Paragraph why_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "Why", .entries = {}};
    for (const TradeReason& reason : reasons_of(traded, options.units)) {
        section.entries.push_back(
            {.lead = printable(reason.about), .text = printable(reason.text)});
    }
    return section;
}

Paragraph saw_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "For the saw", .entries = {}};
    const std::string text = saw_text(traded, options.units);
    if (!text.empty()) section.entries.push_back({.lead = "", .text = printable(text)});
    return section;
}

Paragraph stock_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "Stock", .entries = {}};
    for (const TradeReason& one : stock_of(traded, options.units)) {
        section.entries.push_back({.lead = printable(one.about), .text = printable(one.text)});
    }
    return section;
}

Paragraph left_out_section(const TradedJob& traded) {
    Paragraph section{.label = "Left out", .entries = {}};
    for (const std::string& text : left_out_of(traded)) {
        section.entries.push_back({.lead = "", .text = printable(text)});
    }
    return section;
}

/// How the best compares with what the job has.
Paragraph against_job(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "Against", .entries = {}};
    if (!traded.ranking.best) {
        return section;
    }
    const TradeResult& best = traded.results[*traded.ranking.best];
    for (const TradeResult& own : traded.results) {
        if (!own.as_job || &own == &best || !own.failed.empty()) {
            continue;
        }
        std::string text = fmt::format("the job's own, {}: ", option_name(own, options.units));
        text += own.removal > 0
                    ? fmt::format("{} times the metal", three_digits(best.removal / own.removal))
                    : std::string("which has no usable depth");
        const double mass = best.mass - own.mass;
        if (std::abs(mass) >= 0.05) {
            text += fmt::format(", {} {}", mass_text(std::abs(mass), options.units),
                                mass > 0 ? "heavier" : "lighter");
        }
        section.entries.push_back({.lead = "", .text = printable(text)});
    }
    return section;
}

Paragraph tie_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "Near-ties", .entries = {}};
    const std::size_t count = std::min(kMostTies, traded.ranking.ties.size());
    for (std::size_t i = 0; i < count; ++i) {
        const TradeTie& tie = traded.ranking.ties[i];
        const std::size_t more = traded.ranking.ties.size() - count;
        std::string text = tie_text(traded, tie, options.units);
        if (i + 1 == count && more > 0) {
            text += fmt::format(" (and {} more: --json)", more);
        }
        section.entries.push_back(
            {.lead = printable(option_name(traded.results[tie.option], options.units)),
             .text = printable(text)});
    }
    return section;
}

Paragraph stickout_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "Stickout", .entries = {}};
    if (!traded.ranking.best) {
        return section;
    }
    const TradeResult& best = traded.results[*traded.ranking.best];
    for (const TunedStickout& tuned : best.tuned) {
        section.entries.push_back(
            {.lead = "", .text = printable(tuned_text(tuned, options.units))});
    }
    if (!section.entries.empty()) {
        return section;
    }
    for (std::size_t i = 0; i < traded.results.size(); ++i) {
        const TradeResult& result = traded.results[i];
        if (!result.tuned.empty() && i != *traded.ranking.best && section.entries.empty()) {
            section.entries.push_back(
                {.lead = "",
                 .text = printable(fmt::format("on {}: {}", option_name(result, options.units),
                                               tuned_text(result.tuned.front(), options.units)))});
        }
    }
    return section;
}

/// What else than the riser's height was tried.
Paragraph ways_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "Besides", .entries = {}};
    for (const TradeWay& way : trade_ways(traded.results, traded.ranking)) {
        section.entries.push_back(
            {.lead = "", .text = printable(way_text(traded, way, options.units))});
    }
    return section;
}

/// What a row's first reason is, so that neighbours with the same one share a line.
std::string reason_key(const TradeResult& result) {
    if (!result.failed.empty()) {
        return "failed";
    }
    const TradePass& worst = result.passes.at(result.worst_at_best);
    const Verdict& verdict = worst.best_verdict;
    const std::string reason(verdict.reasons.empty() ? "nothing"
                                                     : reason_name(verdict.reasons.front()));
    return fmt::format("{}/{}/{}", level_name(verdict.level), reason, worst.name);
}

Paragraph others_section(const TradedJob& traded, const ScreenOptions& options) {
    Paragraph section{.label = "The others", .entries = {}};
    std::size_t from = 0;
    const std::vector<TradeResult>& results = traded.results;
    while (from < results.size()) {
        std::size_t to = from;
        while (to + 1 < results.size() && results[to + 1].variations == results[from].variations &&
               reason_key(results[to + 1]) == reason_key(results[from])) {
            ++to;
        }
        const bool flagged =
            !results[from].failed.empty() || results[from].best_verdict.level != Level::unflagged;
        const bool only_best = from == to && traded.ranking.best == from;
        if (flagged && !only_best) {
            const std::string name =
                from == to ? option_name(results[from], options.units)
                           : fmt::format("{} to {}", option_name(results[from], options.units),
                                         option_name(results[to], options.units));
            section.entries.push_back(
                {.lead = printable(name),
                 .text = printable(best_level_text(results[from], options.units) +
                                   (from == to ? "" : " (the first of them)"))});
        }
        from = to + 1;
    }
    if (section.entries.size() > kMostGroups) {
        const std::size_t more = section.entries.size() - kMostGroups;
        section.entries.resize(kMostGroups);
        section.entries.push_back({.lead = "", .text = fmt::format("and {} more: --json", more)});
    }
    return section;
}

Paragraph how_section(const TradedJob& traded) {
    return {.label = "How", .entries = {{.lead = "", .text = method_text(traded)}}};
}

Ending ending_of(const TradedJob& traded) {
    Ending ending{.not_judged = {},
                  .never_judged = traded.head.not_judged,
                  .assumed = traded.head.assumed,
                  .verdict = {}};
    for (const std::string& item : not_judged_of(traded)) {
        if (std::ranges::find(ending.never_judged, item) == ending.never_judged.end()) {
            ending.not_judged.push_back(item);
        }
    }
    if (traded.ranking.best) ending.verdict = traded.results[*traded.ranking.best].best_verdict;
    return ending;
}

std::string mark_line(const TradedJob& traded, const ScreenOptions& options) {
    if (!traded.ranking.best) {
        return inked("## NOTHING FITS", Ink::avoid, options.page.color);
    }
    const TradeResult& best = traded.results[*traded.ranking.best];
    const bool held = holding_judged(best);
    const Level level = best.best_verdict.level;
    const std::string mark = fmt::format("{} {}", trade_hatch(best), level_words(level, held));
    return inked(mark, level_ink(level, held), options.page.color) + "  " +
           inked(printable(option_name(best, options.units) + ", " +
                           stickouts_text(best, options.units)),
                 Ink::strong, options.page.color);
}

std::string title_line(const TradedJob& traded, const ScreenOptions& options) {
    const std::string name = inked("standfast", Ink::faint, options.page.color);
    const std::string title = printable(traded.head.title);
    return fmt::format(
        "{}  {}\n", name,
        shortened(title, static_cast<std::size_t>(std::max(8, options.page.width - 11))));
}

}  // namespace

std::string trade_screen(const TradedJob& traded, const ScreenOptions& options) {
    std::string text = title_line(traded, options);
    std::size_t stickouts = 0;
    for (const TradedStickouts& tool : traded.head.stickouts) {
        stickouts = std::max(stickouts, tool.stickout.size());
    }
    text += fmt::format("{} choices for \"{}\", up to {} stickouts a tool\n", traded.results.size(),
                        printable(traded.head.riser), stickouts);
    text += mark_line(traded, options) + "\n";
    std::vector<Paragraph> above{take_section(traded, options)};
    text += set_out(above, options.page) + "\n";
    if (traded.ranking.best) {
        text += trade_passes(traded.results[*traded.ranking.best], options) + "\n";
    }
    text += trade_table(traded, options);
    text +=
        "     > taken, = the job's own; .. nothing flagged, // marginal, ## avoid,\n"
        "     each at its own best speeds and depths; \"set\": as programmed\n\n";
    std::vector<Paragraph> below{why_section(traded, options),      saw_section(traded, options),
                                 stock_section(traded, options),    against_job(traded, options),
                                 ways_section(traded, options),     tie_section(traded, options),
                                 stickout_section(traded, options), left_out_section(traded),
                                 others_section(traded, options),   how_section(traded)};
    for (Paragraph& section : ending_sections(ending_of(traded), options)) {
        below.push_back(std::move(section));
    }
    std::erase_if(below, [](const Paragraph& section) { return section.entries.empty(); });
    return text + set_out(below, options.page);
}

std::string trade_quiet(const TradedJob& traded, const ScreenOptions& options) {
    return mark_line(traded, options) + "\n" +
           set_out({Paragraph{.label = "", .entries = {{.lead = "", .text = short_caution()}}}},
                   Page{.width = options.page.width, .gutter = 0, .color = options.page.color});
}

}  // namespace standfast
