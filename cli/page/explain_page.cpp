#include "cli/page/explain_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/page/check_page.hpp"
#include "cli/page/drawing.hpp"
#include "cli/page/markup.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/explain/explain_words.hpp"

namespace standfast {
namespace {

double decibels(double power, double loudest) {
    return 10 * std::log10(std::max(power / loudest, 1e-12));
}

Chart modes_chart(const Explanation& explanation) {
    Chart chart;
    chart.title = "Whose vibration it is, by the model";
    chart.note = "Share of each mode in what both sides do at that frequency.";
    chart.lying = true;
    chart.x = {.name = "share, %", .least = 0, .most = 100};
    ChartColumn mode{.name = "mode"}, share{.name = "share, %", .decimals = 1};
    for (const CauseMode& cause : explanation.modes) {
        mode.words.push_back(fmt::format("{} {}", cause.tool_side ? "tool" : "stack",
                                         frequency_text(cause.mode.frequency_hertz)));
        share.values.emplace_back(cause.share * 100);
    }
    chart.columns = {mode, share};
    chart.series = {{.column = 1, .label = "share of the vibration", .kind = SeriesKind::bars}};
    return chart;
}

void add_lines_table(ReportPage& page, const SoundFinding& finding) {
    std::vector<HeardLine> lines = finding.lines;
    std::stable_sort(lines.begin(), lines.end(), [](const HeardLine& a, const HeardLine& b) {
        return a.line.power > b.line.power;
    });
    page.add(
        "<div class=wide><table class=plain><thead><tr><th scope=col>Line</th><th "
        "scope=col>Where from</th><th scope=col>Multiple</th><th scope=col>Below the loudest, "
        "dB</th></tr></thead><tbody>\n");
    constexpr std::size_t kMost = 60;
    for (std::size_t i = 0; i < std::min(kMost, lines.size()); ++i) {
        const HeardLine& heard = lines[i];
        page.add(fmt::format("<tr><td>{}</td><td>{}</td><td>{}</td><td>{:.1f}</td></tr>\n",
                             line_text(heard.line.frequency), source_name(heard.source),
                             heard.order ? trimmed(*heard.order, 1) : "",
                             -decibels(heard.line.power, lines.front().line.power)));
    }
    page.add("</tbody></table></div>\n");
}

}  // namespace

Chart spectrum_chart(const SoundFinding& finding) {
    constexpr std::size_t kMost = 700;
    Chart chart;
    chart.title = "What was heard";
    chart.note =
        "Level against the loudest line. Lines are named where they come from; of several "
        "frequencies that share a place on the screen the loudest is shown.";
    chart.x = {.name = "frequency, Hz", .least = 0};
    chart.left = {.name = "level, dB", .least = -80, .most = 5};
    const PowerSpectrum& spectrum = finding.spectrum;
    double loudest = 0, highest = 0;
    for (const double power : spectrum.power) loudest = std::max(loudest, power);
    for (const HeardLine& heard : finding.lines) {
        loudest = std::max(loudest, heard.line.power);
        highest = std::max(highest, heard.line.frequency);
    }
    if (!(loudest > 0)) loudest = 1;
    const double shown = std::clamp(1.3 * highest, 1000.0, 12000.0);
    chart.x.most = std::ceil(shown / 500) * 500;
    const auto entries = std::min<std::size_t>(
        spectrum.power.size(),
        spectrum.step > 0 ? static_cast<std::size_t>(*chart.x.most / spectrum.step) + 1 : 0);
    const std::size_t bin = std::max<std::size_t>(1, (entries + kMost - 1) / kMost);
    struct Row {
        double hertz = 0, level = 0;
        std::optional<LineSource> source;
    };
    std::vector<Row> rows;
    for (std::size_t from = 0; from < entries; from += bin) {
        const auto first = spectrum.power.begin() + static_cast<std::ptrdiff_t>(from);
        const auto last =
            spectrum.power.begin() + static_cast<std::ptrdiff_t>(std::min(from + bin, entries));
        const auto peak = std::max_element(first, last);
        const auto entry = static_cast<std::size_t>(peak - spectrum.power.begin());
        rows.push_back({spectrum.frequency(entry), decibels(*peak, loudest), std::nullopt});
    }
    std::vector<LineSource> sources;
    for (const HeardLine& heard : finding.lines) {
        if (heard.line.frequency > *chart.x.most) continue;
        rows.push_back({heard.line.frequency, decibels(heard.line.power, loudest), heard.source});
        if (std::find(sources.begin(), sources.end(), heard.source) == sources.end()) {
            sources.push_back(heard.source);
        }
    }
    std::stable_sort(rows.begin(), rows.end(),
                     [](const Row& a, const Row& b) { return a.hertz < b.hertz; });
    // A column for each source, so that its lines have a mark and a word of their own.
    chart.columns = {{.name = "Hz", .decimals = 1}, {.name = "level, dB", .decimals = 1}};
    chart.series = {{.column = 1, .label = "spectrum"}};
    for (const LineSource source : sources) {
        chart.series.push_back({.column = chart.columns.size(),
                                .label = std::string(source_name(source)),
                                .kind = SeriesKind::points});
        chart.columns.push_back({.name = std::string(source_name(source)) + ", dB", .decimals = 1});
    }
    for (const Row& row : rows) {
        chart.columns[0].values.emplace_back(row.hertz);
        chart.columns[1].values.emplace_back(row.level);
        for (std::size_t i = 0; i < sources.size(); ++i) {
            const bool own = row.source == sources[i];
            chart.columns[i + 2].values.push_back(own ? std::optional(row.level) : std::nullopt);
        }
    }
    return chart;
}

ReportPage explain_page(const Explained& explained, UnitSystem units) {
    ReportPage page(explained.title);
    const Explanation& explanation = explained.explanation;
    page.heading(1, explained.title);
    page.heading(2, "Pass " + explained.job.passes[explained.pass].name);
    page.add("<div class=verdict>");
    page.add(fmt::format("<p><strong>{}, {}</strong></p>\n",
                         html(cause_name(explained.evidence.cause)),
                         html(sureness_words(explained.evidence.confidence))));
    page.paragraph(finding_sentence(explained, units));
    page.paragraph(model_sentence(explained, units));
    page.add("</div>\n");
    page.heading(3, "What would cure it");
    std::vector<std::string> cured;
    for (const Cure& cure : explanation.cures) cured.push_back(cure_text(explained, cure, units));
    if (cured.empty()) cured.emplace_back("Nothing that was tried gains more than 3 %.");
    page.list(cured);
    if (explained.recording) {
        page.heading(3, "The recording");
        page.add(spectrum_chart(explained.recording->finding));
        add_lines_table(page, explained.recording->finding);
    }
    if (!explanation.modes.empty()) {
        page.heading(3, "Whose vibration it is");
        page.add(modes_chart(explanation));
        std::vector<std::string> modes;
        for (const CauseMode& mode : explanation.modes) modes.push_back(mode_text(mode));
        page.list(modes);
    }
    page.heading(3, "The set-up");
    page.add(drawing_html(explained.job, explanation.report, units));
    page.heading(3, "By ear");
    page.list(rules_of_the_trade());
    add_ending(page, explained.job.assumed, explain_limits(explained), cautions(), units);
    return page;
}

}  // namespace standfast
