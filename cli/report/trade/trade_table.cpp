#include "cli/report/trade/trade_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostRows = 13;

/// The best, the job's own and the nearest to the best by height, in the options' order.
std::vector<std::size_t> rows_to_show(const TradedJob& traded) {
    std::vector<std::size_t> rows = traded.ranking.order;
    const auto own = std::find_if(rows.begin(), rows.end(),
                                  [&](std::size_t i) { return traded.results[i].as_job; });
    if (own != rows.end()) {
        std::rotate(rows.begin(), own, own + 1);
    }
    if (rows.size() > kMostRows) {
        rows.resize(kMostRows);
    }
    std::sort(rows.begin(), rows.end());
    return rows;
}

struct RowWords {
    std::string mark, name, out, usable, wall, removes, weight, programmed, by;
};

constexpr std::array kFigures = {&RowWords::out,     &RowWords::usable, &RowWords::wall,
                                 &RowWords::removes, &RowWords::weight, &RowWords::programmed};
constexpr std::size_t kMark = 5, kMostName = 18, kLeastName = 8, kMostFigure = 20;

RowWords words_of(const TradedJob& traded, std::size_t index, UnitSystem units) {
    const TradeResult& result = traded.results[index];
    RowWords words;
    words.mark = traded.ranking.best == index ? ">" : result.as_job ? "=" : " ";
    words.mark += " " + trade_hatch(result);
    words.name = printable(option_name(result, units));
    if (!result.failed.empty()) {
        words.out = "not computed";
        return words;
    }
    const TradePass& pass = weakest_pass(result);
    words.out = trimmed(pass.stickout * (units == UnitSystem::metric ? 1000 : 1 / 0.0254),
                        units == UnitSystem::metric ? 1 : 2);
    const std::optional<double> depth = depth_left(pass);
    words.usable = pass.clear == false ? "out of reach"
                   : depth             ? depth_to_set(*depth, units)
                                       : "none";
    words.wall = pass.best_error ? error_text(std::abs(*pass.best_error), units) : "-";
    words.removes = result.removal > 0 ? removal_number(result.removal, units) : "-";
    words.weight = mass_text(result.mass, units);
    words.programmed = level_hatch(result.verdict.level, holding_judged(result));
    words.by =
        result.limited_by == LimitedBy::list ? "your list" : limited_by_name(result.limited_by);
    return words;
}

RowWords heading(UnitSystem units) {
    return {.mark = "",
            .name = "riser",
            .out = units == UnitSystem::metric ? "out, mm" : "out, in",
            .usable = "usable",
            .wall = "wall off",
            .removes = units == UnitSystem::metric ? "cm3/min" : "in3/min",
            .weight = "weighs",
            .programmed = "set",
            .by = "held by"};
}

}  // namespace

bool holding_judged(const TradeResult& result) {
    return std::all_of(result.passes.begin(), result.passes.end(),
                       [](const TradePass& pass) { return pass.holding.judged; });
}

std::string trade_hatch(const TradeResult& result) {
    return std::string(result.failed.empty()
                           ? level_hatch(result.best_verdict.level, holding_judged(result))
                           : "--");
}

std::string trade_table(const TradedJob& traded, const ScreenOptions& options) {
    std::vector<RowWords> rows{heading(options.units)};
    for (const std::size_t index : rows_to_show(traded)) {
        rows.push_back(words_of(traded, index, options.units));
    }
    const auto widest = [&](std::string RowWords::*column, std::size_t most) {
        std::size_t width = 0;
        for (const RowWords& row : rows) {
            width = std::max(width, columns(row.*column));
        }
        return std::min(width, most);
    };
    const auto page = static_cast<std::size_t>(std::clamp(options.page.width, 40, 100));
    std::size_t others = kMark + 2;
    for (const auto column : kFigures) others += widest(column, kMostFigure) + 2;
    others += widest(&RowWords::by, kMostFigure);
    const std::size_t room = page > others + kLeastName ? page - others : kLeastName;
    const std::size_t name_width = std::min(widest(&RowWords::name, kMostName), room);
    std::string text;
    for (const RowWords& row : rows) {
        std::string line =
            padded(row.mark, kMark) + padded(shortened(row.name, name_width), name_width) + "  ";
        for (const auto column : kFigures) {
            line += padded(row.*column, widest(column, kMostFigure)) + "  ";
        }
        line += row.by;
        line.erase(line.find_last_not_of(' ') + 1);
        text += shortened(line, page) + "\n";
    }
    const std::size_t hidden = traded.results.size() + 1 - rows.size();
    if (hidden > 0) {
        text += fmt::format("     and {} more: --json, --csv\n", hidden);
    }
    return text;
}

}  // namespace standfast
