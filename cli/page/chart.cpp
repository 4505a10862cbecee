#include "cli/page/chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/page/markup.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

std::string cell(const ChartColumn& column, std::size_t row) {
    if (row < column.values.size() && column.values[row] && std::isfinite(*column.values[row])) {
        const std::string number = fmt::format("{:.{}f}", *column.values[row], column.decimals);
        // -0.000 says nothing that 0.000 does not.
        return number.find_first_not_of("-0.") == std::string::npos && number.starts_with('-')
                   ? number.substr(1)
                   : number;
    }
    return row < column.words.size() ? html(column.words[row]) : std::string();
}

std::size_t rows_of(const Chart& chart) {
    std::size_t rows = 0;
    for (const ChartColumn& column : chart.columns) {
        rows = std::max({rows, column.values.size(), column.words.size()});
    }
    return rows;
}

/// End tags of rows and cells may be left out in HTML, which halves the table.
std::string table_html(const Chart& chart) {
    std::string out = "<table class=numbers><thead><tr>";
    for (const ChartColumn& column : chart.columns) {
        out += fmt::format("<th scope=col>{}</th>", html(column.name));
    }
    out += "</tr></thead><tbody>\n";
    for (std::size_t row = 0; row < rows_of(chart); ++row) {
        out += "<tr>";
        for (const ChartColumn& column : chart.columns) out += "<td>" + cell(column, row);
        out += '\n';
    }
    return out + "</tbody></table>";
}

Json number(const std::optional<double>& value) {
    return value && std::isfinite(*value) ? Json(*value) : Json(nullptr);
}

Json axis_json(const ChartAxis& axis) {
    return {{"name", axis.name},
            {"log", axis.logarithmic},
            {"least", number(axis.least)},
            {"most", number(axis.most)}};
}

std::string_view kind_name(SeriesKind kind) {
    return kind == SeriesKind::line ? "line" : kind == SeriesKind::points ? "points" : "bars";
}

}  // namespace

std::string chart_html(const Chart& chart, const std::string& id) {
    return fmt::format(
        "<figure class=chart id={0}><figcaption>{1}</figcaption>\n"
        "<div class=canvas><canvas tabindex=0 role=img aria-label=\"{1}. {2} The table below holds "
        "the same numbers.\"></canvas></div>\n"
        "<p class=note>{2}</p>\n"
        "<details class=same><summary>The same numbers as a table</summary><div "
        "class=wide>{3}</div></details></figure>\n",
        id, html(chart.title), html(chart.note), table_html(chart));
}

std::string chart_json(const Chart& chart, const std::string& id) {
    Json json = {{"id", id},
                 {"title", chart.title},
                 {"lying", chart.lying},
                 {"x", axis_json(chart.x)},
                 {"left", axis_json(chart.left)},
                 {"right", axis_json(chart.right)},
                 {"series", Json::array()},
                 {"marks", Json::array()},
                 {"levels", Json::array()},
                 {"bands", Json::array()}};
    for (const ChartSeries& series : chart.series) {
        json["series"].push_back({{"column", series.column},
                                  {"over", series.over},
                                  {"label", series.label},
                                  {"kind", kind_name(series.kind)},
                                  {"right", series.right},
                                  {"whereNone", number(series.where_none)}});
    }
    for (const ChartMark& mark : chart.marks) {
        json["marks"].push_back({{"x", number(mark.x)},
                                 {"y", number(mark.y)},
                                 {"toY", number(mark.to_y)},
                                 {"label", mark.label}});
    }
    for (const ChartLevel& level : chart.levels) {
        json["levels"].push_back({{"y", number(level.y)}, {"label", level.label}});
    }
    for (const ChartBand& band : chart.bands) {
        json["bands"].push_back({{"from", number(band.from)},
                                 {"to", number(band.to)},
                                 {"dense", band.dense},
                                 {"label", band.label}});
    }
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace standfast
