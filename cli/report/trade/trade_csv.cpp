#include "cli/report/trade/trade_csv.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

/// Quoted where a comma, a quote or a line end is in it.
std::string field(const std::string& text) {
    if (text.find_first_of(",\"\n\r") == std::string::npos) {
        return text;
    }
    std::string quoted = "\"";
    for (const char c : text) {
        quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    }
    return quoted + "\"";
}

std::string field(const std::optional<double>& value) {
    return value ? fmt::format("{}", *value) : "";
}

std::string field(const std::optional<bool>& value) {
    return !value ? "" : *value ? "true" : "false";
}

std::string field(const std::optional<SpindleSpeed>& speed) {
    return speed ? fmt::format("{}", speed->rpm()) : "";
}

std::string option_fields(const TradeResult& result, const TradePass& pass) {
    return fmt::format("{},{},{},{},{}", field(result.id), field(result.hold), result.height,
                       field(pass.name), field(pass.tool));
}

std::string grid_csv(const TradedJob& traded) {
    std::string text =
        "option,hold,height_m,pass,tool,stickout_m,clear,limit_m,worked_out,usable_m,best_rpm\n";
    for (const TradeResult& result : traded.results) {
        for (const TradePass& pass : result.passes) {
            for (const TradeCell& cell : pass.cells) {
                text += fmt::format("{},{},{},{},{},{},{}\n", option_fields(result, pass),
                                    cell.stickout, field(cell.clear), field(cell.limit),
                                    cell.worked_out, field(cell.usable), field(cell.best));
            }
        }
    }
    return text;
}

std::string options_csv(const TradedJob& traded) {
    std::string text =
        "option,hold,height_m,pass,tool,rank,mass_kg,level,reasons,limited_by,stickout_m,"
        "least_stickout_m,clear,rpm,axial_m,limit_m,probability,best_rpm,best_limit_m,"
        "best_probability,usable_m,cautious_m,removal_m3_per_s,error_m,push_off_m,allowed_error_m,"
        "tool_share,holding_factor,best_level,best_error_m,feed_m_per_s,length_share,held_by\n";
    for (std::size_t i = 0; i < traded.results.size(); ++i) {
        const TradeResult& result = traded.results[i];
        const auto rank = std::find(traded.ranking.order.begin(), traded.ranking.order.end(), i) -
                          traded.ranking.order.begin() + 1;
        for (const TradePass& pass : result.passes) {
            std::string reasons;
            for (const Reason reason : pass.verdict.reasons) {
                reasons += fmt::format("{}{}", reasons.empty() ? "" : "; ", reason_name(reason));
            }
            const std::optional<double> factor =
                pass.holding.judged ? std::optional(pass.holding.factor) : std::nullopt;
            text += fmt::format(
                "{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{"
                "},{}\n",
                option_fields(result, pass), rank, result.mass, level_name(pass.verdict.level),
                field(reasons), limited_by_name(result.limited_by), pass.stickout,
                field(pass.least_stickout), field(pass.clear), pass.speed.rpm(), pass.depth,
                field(pass.limit), field(pass.probability), field(pass.best_speed),
                field(pass.best_limit), field(pass.best_probability), field(pass.usable),
                field(pass.best_probability ? pass.usable : std::nullopt), pass.removal,
                field(pass.error), pass.push_off, field(pass.allowed_error), pass.tool_share,
                field(factor), level_name(pass.best_verdict.level), field(pass.best_error),
                pass.feed, pass.share, limited_by_name(pass.held_by));
        }
    }
    return text;
}

std::string limits_csv(const TradedJob& traded) {
    std::string text = "option,hold,height_m,pass,tool,stickout_m,rpm,limit_m\n";
    for (const TradeResult& result : traded.results) {
        for (const TradePass& pass : result.passes) {
            for (const TradeCell& cell : pass.cells) {
                for (std::size_t i = 0; i < cell.limits.size(); ++i) {
                    text += fmt::format("{},{},{},{}\n", option_fields(result, pass), cell.stickout,
                                        pass.speeds[i].rpm(), field(cell.limits[i]));
                }
            }
        }
    }
    return text;
}

}  // namespace

std::vector<OutputFile> trade_csv(const TradedJob& traded, const std::string& stem) {
    std::vector<OutputFile> files{{.name = stem + "-grid.csv", .bytes = grid_csv(traded)},
                                  {.name = stem + "-options.csv", .bytes = options_csv(traded)}};
    if (traded.head.every_speed) {
        files.push_back({.name = stem + "-limits.csv", .bytes = limits_csv(traded)});
    }
    return files;
}

}  // namespace standfast
