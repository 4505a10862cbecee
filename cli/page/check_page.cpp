#include "cli/page/check_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/page/drawing.hpp"
#include "cli/page/level_markup.hpp"
#include "cli/page/markup.hpp"
#include "cli/page/moved_shape.hpp"
#include "cli/page/pass_charts.hpp"
#include "cli/report/check/advice_text.hpp"
#include "cli/report/check/indicator_proof.hpp"
#include "cli/report/check/odds_text.hpp"
#include "cli/report/check/reach_text.hpp"
#include "cli/report/check/reason_text.hpp"
#include "cli/report/check/screen.hpp"
#include "cli/report/check/side_by_side.hpp"
#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

constexpr std::size_t kModesASide = 3;

void add_verdict(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    page.add("<div class=verdict><p>" + level_html(pass.verdict.level, pass.holding.judged) +
             "</p>\n");
    page.paragraph(verdict_sentence(job, pass, units));
    if (pass.odds) page.add(dots_html(pass.odds->at_judged));
    const std::vector<std::string> odds = odds_sentences(pass, units);
    for (const std::string& sentence : odds) page.paragraph(sentence);
    page.add("</div>\n");
}

std::string figures_html(const Advice& advice, UnitSystem units) {
    std::string out = "<table><tbody>\n";
    const auto row = [&](std::string_view what, const std::string& value) {
        out += fmt::format("<tr><th scope=row>{}</th><td>{}</td></tr>\n", html(what), html(value));
    };
    for (const Edit& edit : advice.set) row(edit.path, edit_value(edit, units));
    if (advice.limit_ratio)
        row("edge of chatter, after over before", three_digits(*advice.limit_ratio));
    if (advice.error_ratio) row("wall error, after over before", three_digits(*advice.error_ratio));
    row("level then", std::string(level_name(advice.level)));
    if (advice.reach_unchecked) row("reach", "not checked with this change");
    return out + "</tbody></table>";
}

void add_advice(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    page.heading(3, "What would help");
    if (pass.advice.empty()) {
        page.paragraph(pass.verdict.level == Level::unflagged
                           ? "Nothing is flagged, so nothing was looked for."
                           : "No single change that was tried helps.");
        return;
    }
    page.add("<ol>\n");
    for (const Advice& advice : pass.advice) {
        page.add(fmt::format("<li><details><summary>{}</summary>{}</details></li>\n",
                             html(advice_text(job, pass, advice, units)),
                             figures_html(advice, units)));
    }
    page.add("</ol>\n");
}

/// Every reason that can be told of, the flagged ones marked by a word.
void add_reasons(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    static constexpr std::array kAll = {
        Reason::chatter, Reason::deflection, Reason::surface_error, Reason::resonance,
        Reason::holding, Reason::reach,      Reason::tool_stress,   Reason::power,
        Reason::whirl,   Reason::overspeed,  Reason::cutting_speed, Reason::weight};
    page.heading(3, "Why");
    page.add("<div class=wide><table class=plain><tbody>\n");
    for (const Reason reason : kAll) {
        // Their sentences say what is wrong, and nothing else.
        const bool only_flagged = reason == Reason::overspeed || reason == Reason::cutting_speed;
        if (only_flagged && !is_flagged(pass, reason)) continue;
        const std::string text = reason_text(job, pass, reason, units);
        if (text.empty()) continue;
        page.add(fmt::format("<tr><th scope=row>{}</th><td>{}</td><td>{}</td></tr>\n",
                             reason_name(reason), is_flagged(pass, reason) ? "flagged" : "",
                             html(text)));
    }
    page.add("</tbody></table></div>\n");
}

void add_speeds(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    page.heading(3, "Speeds");
    std::vector<std::string> lines;
    if (pass.best) {
        lines.push_back(fmt::format("Best found: {}, {}, {} deep: {}.",
                                    speed_text(pass.best->speed),
                                    feed_text(feed_of(job, pass, pass.best->speed), units),
                                    depth_to_set(pass.best->depth, units),
                                    level_words(pass.best->level, pass.holding.judged)));
    }
    for (const SpeedBand& band : pass.quiet_bands) {
        lines.push_back(
            fmt::format("Quiet band at {}: {} to {} rpm{}.", length_text(pass.judged_depth, units),
                        speed_number(band.from, Toward::up), speed_number(band.to, Toward::down),
                        band.limit ? "; edge of chatter " + depth_text(*band.limit, units) : ""));
    }
    if (pass.quiet_bands.empty()) {
        lines.push_back(fmt::format("No quiet band at {} within the speeds that may be run.",
                                    length_text(pass.judged_depth, units)));
    }
    for (const SpeedBand& band : pass.stay_off) {
        lines.push_back(fmt::format("Stay off at {}: {} to {} rpm ({}).",
                                    length_text(pass.judged_depth, units),
                                    speed_number(band.from, Toward::down),
                                    speed_number(band.to, Toward::up), reason_name(band.reason)));
    }
    constexpr std::size_t kOpen = 6;
    if (lines.size() > kOpen) {
        const std::vector<std::string> rest(lines.begin() + kOpen, lines.end());
        lines.resize(kOpen);
        page.list(lines);
        page.folded(fmt::format("{} more ranges", rest.size()), rest);
    } else {
        page.list(lines);
    }
    if (!pass.stability.speeds.empty()) page.add(speed_chart(pass, units));
    if (!pass.surface.speed.empty()) page.add(wall_over_speed_chart(job, pass, units));
}

std::string times_text(double factor) {
    return factor >= 1 ? fmt::format("{:.0f} times", factor) : three_digits(factor) + " times";
}

std::string mode_caption(const MovedShape& mode) {
    std::string text = fmt::format("{} {}, damping {} %", mode.tool_side ? "Tool" : "Stack",
                                   frequency_text(mode.hertz), three_digits(mode.damping * 100));
    std::string shares;
    for (const auto& [member, share] : mode.shares) {
        if (shares.size() > 60 || share < 0.05) break;
        shares += fmt::format("{}{} {}", shares.empty() ? ": " : ", ", member, percent_text(share));
    }
    return text + shares;
}

void add_shapes(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    page.heading(3, "How it bends and rings");
    const MovedShapes shapes = moved_shapes(job, pass, kModesASide);
    page.add("<div class=pictures>\n");
    const auto add = [&](const MovedShape& shape, const std::string& caption) {
        const double factor = drawing_factor(shape);
        page.add("<figure>" + moved_svg(job, pass, shape, factor, caption) + "<figcaption>" +
                 html(caption) + "</figcaption></figure>\n");
    };
    if (!shapes.under_force.pieces.empty()) {
        const double factor = drawing_factor(shapes.under_force);
        add(shapes.under_force,
            fmt::format("Under the mean cutting force, drawn {} as large; at most {}",
                        times_text(factor), error_text(shapes.under_force.most(), units)));
    }
    for (const MovedShape& mode : shapes.modes) add(mode, mode_caption(mode));
    page.add("</div>\n");
    if (!shapes.why_not.empty()) page.paragraph("Not drawn: " + shapes.why_not + ".");
    page.add(
        "<div class=wide><table class=plain><thead><tr><th scope=col>Side</th><th "
        "scope=col>Rings at</th><th scope=col>Damping ratio, %</th><th scope=col>Whose "
        "strain</th></tr></thead><tbody>\n");
    for (const bool tool : {false, true}) {
        for (const ReportedMode& mode : tool ? pass.tool_modes : pass.work_modes) {
            std::string shares;
            for (const auto& [member, share] : mode.strain_share) {
                if (share < 0.01) continue;
                shares +=
                    fmt::format("{}{} {}", shares.empty() ? "" : ", ", member, percent_text(share));
            }
            page.add(fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
                                 tool ? "tool" : "stack", frequency_text(mode.frequency_hertz),
                                 three_digits(mode.damping_ratio * 100), html(shares)));
        }
    }
    page.add("</tbody></table></div>\n");
}

void add_reach(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    page.heading(3, "Reach");
    page.paragraph(reach_text(job, pass, units) + ".");
}

void add_proof(ReportPage& page, const PassReport& pass, UnitSystem units) {
    page.heading(3, "How to prove it");
    for (const std::string& sentence : proof_sentences(pass, units)) page.paragraph(sentence);
}

std::string cut_words(const Job& job, const PassReport& pass, UnitSystem units) {
    const Pass& cut = job.passes[pass.pass];
    return fmt::format("{}: {}, {}; {} deep, {} radial, {}", pass.tool,
                       speed_text(pass.judged_speed),
                       feed_text(feed_of(job, pass, pass.judged_speed), units),
                       length_text(pass.judged_depth, units), length_text(cut.radial, units),
                       milling_words(cut.milling));
}

void table_head(ReportPage& page, const std::vector<PagedJob>& jobs) {
    page.add("<div class=wide><table class=plain><thead><tr><th></th>");
    for (const PagedJob& job : jobs) {
        page.add(fmt::format("<th scope=col>{}</th>", html(job.report->title)));
    }
    page.add("</tr></thead><tbody>\n");
}

void add_rows(ReportPage& page, const std::vector<ComparedRow>& rows) {
    for (const ComparedRow& row : rows) {
        page.add(fmt::format("<tr><th scope=row>{}</th>", html(row.what)));
        for (const std::string& value : row.values) page.add("<td>" + html(value) + "</td>");
        page.add("</tr>\n");
    }
    page.add("</tbody></table></div>\n");
}

void add_side_by_side(ReportPage& page, const std::vector<PagedJob>& jobs, UnitSystem units) {
    std::vector<ComparedJob> compared;
    for (const PagedJob& job : jobs) compared.push_back({job.job, job.report});
    const SideBySide both = side_by_side(compared, units);
    page.heading(2, "Side by side");
    page.heading(3, "What is different");
    table_head(page, jobs);
    add_rows(page, both.differences);
    if (both.differences.empty()) {
        page.paragraph("Nothing among sizes, materials, joints, tools and passes.");
    }
    for (const ComparedPass& pass : both.passes) {
        page.heading(3, "What it does to pass " + pass.name);
        table_head(page, jobs);
        add_rows(page, pass.rows);
    }
}

void add_passes_list(ReportPage& page, const Job& job, const JobReport& report, UnitSystem units) {
    page.add(
        "<div class=wide><table class=plain><thead><tr><th scope=col>Verdict</th><th "
        "scope=col>Pass</th><th scope=col>Why</th></tr></thead><tbody>\n");
    for (const std::size_t index : worst_first(report)) {
        const PassReport& pass = report.passes[index];
        page.add(fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td></tr>\n",
                             level_html(pass.verdict.level, pass.holding.judged), html(pass.name),
                             html(verdict_sentence(job, pass, units))));
    }
    page.add("</tbody></table></div>\n");
}

std::vector<std::string> all_not_judged(const JobReport& report) {
    std::vector<std::string> all;
    const auto add = [&](const std::vector<std::string>& items) {
        for (const std::string& item : items) {
            if (std::find(all.begin(), all.end(), item) == all.end()) all.push_back(item);
        }
    };
    for (const PassReport& pass : report.passes) add(pass.not_judged);
    add(report.not_judged);
    return all;
}

}  // namespace

void add_pass(ReportPage& page, const Job& job, const PassReport& pass, UnitSystem units) {
    page.heading(2, "Pass " + pass.name);
    page.paragraph(cut_words(job, pass, units));
    add_verdict(page, job, pass, units);
    add_advice(page, job, pass, units);
    add_reasons(page, job, pass, units);
    page.heading(3, "The set-up");
    page.add(drawing_html(job, pass, units));
    add_reach(page, job, pass, units);
    add_speeds(page, job, pass, units);
    page.heading(3, "The wall");
    page.add(wall_over_height_chart(pass, units));
    page.heading(3, "Where it gives");
    if (!pass.statics.give.empty()) page.add(give_chart(pass));
    if (const std::optional<Chart> unknowns = unknowns_chart(pass)) page.add(*unknowns);
    add_shapes(page, job, pass, units);
    page.add(receptance_chart(job, pass, units));
    add_proof(page, pass, units);
}

void add_ending(ReportPage& page, const std::vector<Assumption>& assumed,
                const std::vector<std::string>& not_judged,
                const std::vector<std::string>& cautions_of, UnitSystem units) {
    page.heading(2, "Cautions");
    page.list(cautions_of);
    page.heading(2, "Not judged");
    page.list(not_judged);
    if (assumed.empty()) return;
    page.heading(2, "Assumed");
    page.add(fmt::format(
        "<details><summary>{} things that the job did not say</summary>\n<p><label>Search: <input "
        "type=search data-search=assumed></label></p><div class=wide><table class=plain "
        "id=assumed><thead><tr><th scope=col>Key</th><th scope=col>Value</th><th "
        "scope=col>Source</th></tr></thead><tbody>\n",
        assumed.size()));
    for (const Assumption& of : assumed) {
        std::string value = of.value ? quantity_text(*of.value, of.quantity, units) : "";
        if (!of.text.empty()) value += (value.empty() ? "" : ", ") + of.text;
        page.add(fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td></tr>\n", html(of.path),
                             html(value), html(of.source)));
    }
    page.add("</tbody></table></div></details>\n");
}

ReportPage check_page(const std::vector<PagedJob>& jobs, UnitSystem units) {
    std::string title;
    for (const PagedJob& job : jobs) title += (title.empty() ? "" : " / ") + job.report->title;
    ReportPage page(title);
    page.heading(1, title);
    if (jobs.size() > 1) add_side_by_side(page, jobs, units);
    std::vector<Assumption> assumed;
    std::vector<std::string> not_judged;
    for (const PagedJob& job : jobs) {
        if (jobs.size() > 1) page.heading(2, "Set-up: " + job.report->title);
        if (jobs.size() == 1 || job.report->passes.size() > 1) {
            add_passes_list(page, *job.job, *job.report, units);
        }
        for (const std::size_t index : worst_first(*job.report)) {
            add_pass(page, *job.job, job.report->passes[index], units);
        }
        for (Assumption of : job.report->assumed) {
            if (jobs.size() > 1) of.path = job.report->title + ": " + of.path;
            assumed.push_back(std::move(of));
        }
        for (const std::string& item : all_not_judged(*job.report)) {
            if (std::find(not_judged.begin(), not_judged.end(), item) == not_judged.end()) {
                not_judged.push_back(item);
            }
        }
    }
    add_ending(page, assumed, not_judged, cautions(), units);
    return page;
}

}  // namespace standfast
