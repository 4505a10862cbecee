#include "cli/page/fit_page.hpp"

#include <fmt/format.h>

#include <cmath>

#include "cli/page/check_page.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/fit/fit_text.hpp"

namespace standfast {
namespace {

Chart measured_chart(const Job& job, const FitResult& result, UnitSystem units) {
    Chart chart;
    chart.title = "Model against measurement";
    chart.note = "Model over measured: 1 is agreement; before the fit and after it.";
    chart.lying = true;
    chart.x = {.name = "model over measured", .least = 0};
    ChartColumn name{.name = "measured"},
        before{.name = "before, model over measured", .decimals = 3};
    ChartColumn after{.name = "after, model over measured", .decimals = 3};
    ChartColumn value{.name = "measured value"}, was{.name = "model before"},
        now{.name = "model after"};
    ChartColumn odd{.name = "agrees"};
    const auto ratio = [](double model, double measured) {
        return measured != 0 ? std::optional(model / measured) : std::nullopt;
    };
    for (const FitComparison& row : result.measured) {
        name.words.push_back(
            fmt::format("{}: {}", job.measured[row.measured].name, observed_words(row.what)));
        before.values.push_back(ratio(row.before, row.value));
        after.values.push_back(ratio(row.after, row.value));
        value.words.push_back(observed_text(row.value, row.what, units));
        was.words.push_back(observed_text(row.before, row.what, units));
        now.words.push_back(observed_text(row.after, row.what, units));
        odd.words.emplace_back(row.disagrees ? "disagrees with the others" : "yes");
    }
    chart.columns = {name, before, after, value, was, now, odd};
    chart.series = {{.column = 1, .label = "before the fit", .kind = SeriesKind::bars},
                    {.column = 2, .label = "after the fit", .kind = SeriesKind::bars}};
    chart.levels.push_back({1, "agreement"});
    return chart;
}

/// Factors on a logarithmic axis would need a bar from 1; the figure and what is left of its spread
/// stand side by side instead.
Chart joints_chart(const FitResult& result) {
    Chart chart;
    chart.title = "What the joints turned out to be";
    chart.note = "Factor on what the model held before; 1: as modelled.";
    chart.lying = true;
    chart.x = {.name = "factor", .least = 0};
    ChartColumn name{.name = "of"}, factor{.name = "factor", .decimals = 3};
    ChartColumn spread{.name = "good to a factor of", .decimals = 2};
    ChartColumn prior{.name = "was good to", .decimals = 2};
    ChartColumn now{.name = "now"};
    for (const FitAdjusted& adjusted : result.adjusted) {
        if (!adjusted.seen) continue;
        const bool stiffness = adjusted.unknown.quantity == FitQuantity::stiffness;
        name.words.push_back(adjusted.unknown.name + (stiffness ? ", stiffness" : ", damping"));
        factor.values.emplace_back(adjusted.factor);
        spread.values.emplace_back(adjusted.spread);
        prior.values.emplace_back(adjusted.unknown.prior.factor);
        now.words.push_back(before_and_after(adjusted));
    }
    chart.columns = {name, factor, spread, prior, now};
    chart.series = {{.column = 1, .label = "factor", .kind = SeriesKind::bars}};
    chart.levels.push_back({1, "as modelled"});
    return chart;
}

bool any_seen(const FitResult& result) {
    for (const FitAdjusted& adjusted : result.adjusted) {
        if (adjusted.seen) return true;
    }
    return false;
}

}  // namespace

ReportPage fit_page(const Job& job, const std::string& title, const FitResult& result,
                    const std::optional<FitWithout>& without, UnitSystem units) {
    ReportPage page(title);
    page.heading(1, title);
    page.heading(2, "Measured against modelled");
    std::size_t odd = 0;
    for (const FitComparison& row : result.measured) odd += row.disagrees ? 1 : 0;
    page.add("<div class=verdict>");
    page.paragraph(odd == 0
                       ? "All measurements agree with each other and with the corrected model."
                       : fmt::format("{} of {} measured numbers disagree with the others: measure "
                                     "again; look for a base that slid, a loose joint, another "
                                     "place or direction.",
                                     odd, result.measured.size()));
    if (!any_seen(result)) {
        page.paragraph("These measurements tell none of the joints better than before.");
    }
    page.add("</div>\n");
    if (!result.measured.empty()) page.add(measured_chart(job, result, units));
    if (any_seen(result)) page.add(joints_chart(result));
    if (!result.warnings.empty()) {
        page.heading(3, "Look at");
        page.list(result.warnings);
    }
    if (without && any_seen(without->fit)) {
        page.heading(2, "Without what disagrees");
        page.add(joints_chart(without->fit));
    }
    add_ending(page, job.assumed,
               {"anything that was not measured: fit corrects joints, table, spindle, supports, "
                "tapers and grips only"},
               measuring_cautions(), units);
    return page;
}

}  // namespace standfast
