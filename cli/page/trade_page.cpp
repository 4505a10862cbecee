#include "cli/page/trade_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/page/check_page.hpp"
#include "cli/page/markup.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_passes.hpp"
#include "cli/report/trade/trade_reasons.hpp"
#include "cli/report/trade/trade_ways_text.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

const TradePass* pass_of(const TradeResult& result, const std::string& tool) {
    const TradePass* weakest = nullptr;
    const auto share = [](const TradePass& pass) {
        return depth_left(pass).value_or(0) / pass.depth;
    };
    for (const TradePass& pass : result.passes) {
        if (pass.tool != tool) continue;
        if (weakest == nullptr || share(pass) < share(*weakest)) weakest = &pass;
    }
    return weakest;
}

std::string field_html(const TradePass& pass, const TradeCell& cell, UnitSystem units) {
    const bool chosen = std::abs(cell.stickout - pass.stickout) < 1e-9;
    const bool out = cell.clear == false;
    std::string words;
    if (out) {
        words = "does not reach";
    } else if (cell.usable) {
        words = depth_to_set(*cell.usable, units);
    } else if (cell.worked_out) {
        words = "nothing usable";
    } else if (cell.limit) {
        words = "edge " + depth_text(*cell.limit, units);
    } else {
        words = "no edge found";
    }
    return fmt::format("<td class=\"{}{}\">{}{}</td>", out ? "out " : "", chosen ? "chosen" : "",
                       chosen ? "chosen: " : "", html(words));
}

/// Metal over time and weight of every option, and what limits it.
Chart options_chart(const TradedJob& traded, UnitSystem units) {
    const double unit = units == UnitSystem::metric ? 1e-6 / 60 : std::pow(0.0254, 3) / 60;
    const char* name = units == UnitSystem::metric ? "cm3/min" : "in3/min";
    Chart chart;
    chart.title = "Metal over time of every option";
    chart.note = "At each pass's best speed and usable depth; the best first.";
    chart.lying = true;
    chart.x = {.name = fmt::format("metal, {}", name), .least = 0};
    ChartColumn option{.name = "option"},
        metal{.name = fmt::format("metal, {}", name), .decimals = 3};
    ChartColumn mass{.name = units == UnitSystem::metric ? "on the table, kg" : "on the table, lb",
                     .decimals = 1};
    ChartColumn level{.name = "level"}, limited{.name = "held by"};
    for (const std::size_t index : traded.ranking.order) {
        const TradeResult& result = traded.results[index];
        if (!result.failed.empty()) continue;
        const bool best = traded.ranking.best == index;
        option.words.push_back(option_name(result, units) + (best ? " (taken)" : ""));
        metal.values.emplace_back(result.removal / unit);
        mass.values.emplace_back(result.mass / (units == UnitSystem::metric ? 1 : 0.45359237));
        level.words.emplace_back(level_name(result.best_verdict.level));
        limited.words.emplace_back(limited_by_name(result.limited_by));
    }
    chart.columns = {option, metal, mass, level, limited};
    chart.series = {{.column = 1, .label = "metal over time", .kind = SeriesKind::bars}};
    return chart;
}

/// As it would be run: a row for every pass, then the sum.
void add_passes(ReportPage& page, const TradeResult& result, UnitSystem units) {
    page.add(
        "<div class=wide><table><thead><tr><th scope=col>tool</th><th scope=col>out</th>"
        "<th scope=col>pass</th><th scope=col>speed</th><th scope=col>feed</th>"
        "<th scope=col>depth</th><th scope=col>wall</th><th scope=col>held by</th></tr></thead>"
        "<tbody>\n");
    for (const TradePass& pass : result.passes) {
        const bool usable = pass.best_speed && depth_left(pass);
        const auto cell = [&](const std::string& text) {
            return fmt::format("<td>{}</td>", html(text));
        };
        page.add("<tr>" + cell(pass.tool) + cell(length_text(pass.stickout, units)) +
                 cell(pass.name) + cell(usable ? speed_text(*pass.best_speed) : "none usable") +
                 cell(usable ? feed_text(pass.feed, units) : "") +
                 cell(usable ? depth_to_set(*pass.usable, units) : "") +
                 cell(usable && pass.best_error ? wall_text(*pass.best_error, units) : "") +
                 cell(held_by_text(pass, units)) + "</tr>\n");
    }
    page.add("</tbody></table></div>\n");
    page.paragraph(sum_text(result, units) + ".");
}

void add_options(ReportPage& page, const TradedJob& traded, UnitSystem units) {
    page.heading(3, "All options, the best first");
    page.add("<ol>\n");
    for (const std::size_t index : traded.ranking.order) {
        const TradeResult& result = traded.results[index];
        std::string passes;
        for (const TradePass& pass : result.passes) {
            passes +=
                fmt::format("<li>{}</li>",
                            html(fmt::format("{}: {}", pass.name, trade_pass_text(pass, units))));
        }
        page.add(
            fmt::format("<li><details><summary>{}{}</summary><p>{}</p><ul>{}</ul></details></li>\n",
                        html(option_name(result, units)), result.as_job ? ", the job's own" : "",
                        html("At its best: " + best_level_text(result, units) +
                             ". As programmed: " + trade_option_text(result, units)),
                        passes));
    }
    page.add("</ol>\n");
}

}  // namespace

std::string trade_map_html(const TradedJob& traded, const TradedStickouts& of, UnitSystem units) {
    std::string out = fmt::format(
        "<figure class=chart><figcaption>{}</figcaption><div class=wide><table "
        "class=grid><thead><tr>"
        "<th scope=col>{}</th>",
        html(fmt::format("Depth that may be recommended: {} by how far {} stands out",
                         traded.head.riser, of.tool)),
        html(traded.head.riser));
    for (const double stickout : of.stickout) {
        out += fmt::format("<th scope=col>{}</th>", html(length_text(stickout, units)));
    }
    out += "<th scope=col>held by</th></tr></thead><tbody>\n";
    for (std::size_t i = 0; i < traded.results.size(); ++i) {
        const TradeResult& result = traded.results[i];
        const TradePass* pass = pass_of(result, of.tool);
        if (pass == nullptr) continue;
        const bool best = traded.ranking.best == i;
        out += fmt::format("<tr><th scope=row>{}{}</th>", html(option_name(result, units)),
                           best ? " (taken)" : "");
        for (const double stickout : of.stickout) {
            const auto cell = std::find_if(
                pass->cells.begin(), pass->cells.end(),
                [&](const TradeCell& one) { return std::abs(one.stickout - stickout) < 1e-9; });
            out += cell == pass->cells.end() ? "<td></td>" : field_html(*pass, *cell, units);
        }
        out += fmt::format("<td>{}</td></tr>\n", limited_by_name(result.limited_by));
    }
    return out +
           "</tbody></table></div><p class=note>Hatched: does not reach. Framed: chosen with that "
           "option. A field with \"edge\" was only sketched: the edge of chatter at the pass's "
           "speed.</p></figure>\n";
}

ReportPage trade_page(const std::vector<TradedJob>& jobs, UnitSystem units) {
    std::string title;
    for (const TradedJob& traded : jobs) {
        title += (title.empty() ? "" : " / ") + traded.head.title;
    }
    ReportPage page(title);
    page.heading(1, title);
    std::vector<Assumption> assumed;
    std::vector<std::string> not_judged;
    for (const TradedJob& traded : jobs) {
        page.heading(2, jobs.size() > 1 ? traded.head.title : "What to take");
        page.add("<div class=verdict>");
        if (traded.ranking.best) {
            const TradeResult& best = traded.results[*traded.ranking.best];
            page.add("<p>" +
                     level_html(best.best_verdict.level,
                                best.passes.at(best.worst_at_best).holding.judged) +
                     "</p>\n");
            page.paragraph(best_text(traded, units));
            page.paragraph(fmt::format("At these speeds and depths: {}. As programmed: {}.",
                                       best_level_text(best, units),
                                       trade_option_text(best, units)));
            add_passes(page, best, units);
            for (const TradeReason& reason : reasons_of(traded, units)) {
                page.paragraph(fmt::format("Why, {}: {}.", reason.about, reason.text));
            }
            const std::string saw = saw_text(traded, units);
            if (!saw.empty()) page.paragraph("For the saw: " + saw + ".");
            for (const TradeReason& one : stock_of(traded, units)) {
                page.paragraph(fmt::format("Stock for {}: {}.", one.about, one.text));
            }
            for (const TradeWay& way : trade_ways(traded.results, traded.ranking)) {
                page.paragraph("Besides: " + way_text(traded, way, units) + ".");
            }
            if (const auto out = left_out_of(traded); !out.empty()) page.list(out);
            for (const TunedStickout& tuned : best.tuned) page.paragraph(tuned_text(tuned, units));
        } else {
            page.paragraph(best_text(traded, units));
        }
        page.add("</div>\n");
        if (!traded.ranking.ties.empty()) {
            page.heading(3, "Near-ties");
            std::vector<std::string> ties;
            for (const TradeTie& tie : traded.ranking.ties) {
                ties.push_back(option_name(traded.results[tie.option], units) + ": " +
                               tie_text(traded, tie, units));
            }
            page.list(ties);
        }
        page.heading(3, "Riser against stickout");
        for (const TradedStickouts& of : traded.head.stickouts) {
            if (!of.stickout.empty()) page.add(trade_map_html(traded, of, units));
        }
        page.add(options_chart(traded, units));
        add_options(page, traded, units);
        page.paragraph("How: " + method_text(traded));
        assumed.insert(assumed.end(), traded.head.assumed.begin(), traded.head.assumed.end());
        for (const std::string& item : not_judged_of(traded)) {
            if (std::find(not_judged.begin(), not_judged.end(), item) == not_judged.end()) {
                not_judged.push_back(item);
            }
        }
    }
    add_ending(page, assumed, not_judged, cautions(), units);
    return page;
}

}  // namespace standfast
