#include "cli/report/trade/trade_ways_text.hpp"

#include <fmt/format.h>

#include <numbers>

#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_table.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

constexpr double kNoticeable = 1e-3;  // m, of a riser's height

std::string change_text(const TradeVariation& variation) {
    switch (variation.what) {
        case Traded::tilt:
            return fmt::format("tilt \"{}\" to {} deg", variation.of,
                               trimmed(variation.tilt * 180 / std::numbers::pi, 1));
        case Traded::holder:
            return fmt::format("\"{}\" in the holder \"{}\"", variation.of, variation.name);
        case Traded::material:
            return fmt::format("\"{}\" of {}", variation.of, variation.name);
        case Traded::hold:
            break;
    }
    return fmt::format("hold \"{}\" by \"{}\"", variation.of, variation.name);
}

std::string figures_text(const TradeResult& result, UnitSystem units) {
    return fmt::format("{}, {}, {}, {}", option_name(result, units), stickouts_text(result, units),
                       result.removal > 0 ? "removes " + removal_text(result.removal, units)
                                          : std::string("no usable depth"),
                       level_words(result.best_verdict.level, holding_judged(result)));
}

/// Of the riser that it saves or costs.
std::string riser_clause(const TradeResult& with, const TradeResult& without, UnitSystem units) {
    const double saved = without.height - with.height;
    if (saved >= kNoticeable) {
        return fmt::format(" instead of {} more riser", length_text(saved, units));
    }
    if (saved <= -kNoticeable) {
        return fmt::format(" with {} more riser", length_text(-saved, units));
    }
    return "";
}

}  // namespace

std::string way_text(const TradedJob& traded, const TradeWay& way, UnitSystem units) {
    const TradeResult& with = traded.results[way.with];
    const std::string change = change_text(way.variation);
    if (!way.without) {
        return fmt::format("{}: {}; nothing else that was tried gets there", change,
                           figures_text(with, units));
    }
    const TradeResult& without = traded.results[*way.without];
    if (!way.better) {
        return fmt::format("{} gains nothing: {}; without: {}", change, figures_text(with, units),
                           figures_text(without, units));
    }
    return fmt::format("{}{}: {}; without: {}", change, riser_clause(with, without, units),
                       figures_text(with, units), figures_text(without, units));
}

}  // namespace standfast
