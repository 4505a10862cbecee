#pragma once

#include <optional>
#include <string>
#include <vector>

namespace standfast {

/// A column of a chart's table: what the chart draws is read off these very cells by page.js.
struct ChartColumn {
    std::string name;  ///< with its unit, as over the table
    int decimals = 0;
    std::vector<std::optional<double>> values = {};  ///< none: an empty cell and a gap in the line
    std::vector<std::string> words = {};  ///< a column of words instead; or in place of no value
};

enum class SeriesKind { line, points, bars };

/// A column drawn over the first one. Each has a dash, a mark and a word of its own, so that colour
/// is never needed to tell them apart.
struct ChartSeries {
    std::size_t column = 1;
    std::size_t over = 0;  ///< column of the x axis
    std::string label;
    SeriesKind kind = SeriesKind::line;
    bool right = false;                ///< against the axis on the right
    std::optional<double> where_none;  ///< height at which a missing value is drawn
};

/// A single place, a vertical range, or a horizontal line, with its word.
struct ChartMark {
    double x = 0, y = 0;
    std::optional<double> to_y;  ///< a range from y to here
    std::string label;
};
struct ChartLevel {
    double y = 0;
    std::string label;
};
/// A stretch of the x axis, hatched.
struct ChartBand {
    double from = 0, to = 0;
    bool dense = false;  ///< denser is graver
    std::string label;
};

struct ChartAxis {
    std::string name;  ///< with its unit; empty: no such axis
    bool logarithmic = false;
    std::optional<double> least, most;
};

/// A chart and the table of the same numbers under it.
struct Chart {
    std::string title;
    std::string note;  ///< one sentence: what is to be seen; also read out in place of the picture
    ChartAxis x, left, right;
    bool lying = false;  ///< bars that lie: the first column holds their names
    std::vector<ChartColumn> columns;
    std::vector<ChartSeries> series;
    std::vector<ChartMark> marks;
    std::vector<ChartLevel> levels;
    std::vector<ChartBand> bands;
};

/// The figure with its empty canvas and its table.
std::string chart_html(const Chart& chart, const std::string& id);

/// What page.js needs besides the table, as JSON.
std::string chart_json(const Chart& chart, const std::string& id);

}  // namespace standfast
