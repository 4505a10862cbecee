#include "cli/report/trade/trade_json.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/trade/trade_ways_text.hpp"
#include "cli/report/trade/trade_words.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json truth(const std::optional<bool>& value) { return value ? Json(*value) : Json(nullptr); }

Json rpm(const std::optional<SpindleSpeed>& speed) {
    if (!speed) {
        return nullptr;
    }
    const double exact = speed->rpm();
    const double rounded = std::round(exact * 1e6) / 1e6;
    return std::abs(exact - rounded) < 1e-12 * exact ? rounded : exact;
}

template <typename Range, typename Function>
Json array_of(const Range& range, const Function& function) {
    Json array = Json::array();
    for (const auto& item : range) {
        array.push_back(function(item));
    }
    return array;
}

Json reasons_json(const Verdict& verdict) {
    return array_of(verdict.reasons, [](Reason reason) { return Json(reason_name(reason)); });
}

Json holding_json(const HoldingResult& holding) {
    const bool known = holding.judged || !holding.joint.empty();
    return {{"judged", holding.judged},
            {"factor", known ? number(holding.factor) : Json(nullptr)},
            {"joint", known ? Json(holding.joint) : Json(nullptr)},
            {"mode", known ? Json(holding_mode_name(holding.mode)) : Json(nullptr)}};
}

Json why_json(const TradeWhy& why) {
    return {{"tool_m_per_n", number(why.tool_give)},
            {"work_m_per_n", number(why.work_give)},
            {"softest", why.softest.empty() ? Json(nullptr) : Json(why.softest)},
            {"softest_share", number(why.softest_share)},
            {"sings_hz", number(why.sings_hertz)},
            {"sings_side",
             why.sings.empty() ? Json(nullptr) : Json(why.sings_on_tool ? "tool" : "stack")},
            {"sings", why.sings.empty() ? Json(nullptr) : Json(why.sings)},
            {"mode_hz", why.sings.empty() ? Json(nullptr) : number(why.mode_hertz)}};
}

Json finish_json(const std::optional<FinishStock>& finish) {
    if (!finish) return nullptr;
    return {{"stock_m", number(finish->stock)},
            {"left_m", number(finish->left)},
            {"second_takes_m", number(finish->second_takes)}};
}

/// What is promised is what the tries leave; without tries nothing is cautious.
Json cautious(const TradePass& pass, const std::optional<double>& value) {
    return pass.best_probability ? number(value) : Json(nullptr);
}

Json pass_json(const TradePass& pass, UnitSystem units) {
    return {{"name", pass.name},
            {"tool", pass.tool},
            {"clear", truth(pass.clear)},
            {"least_stickout_m", number(pass.least_stickout)},
            {"nearest", pass.nearest.empty() ? Json(nullptr) : Json(pass.nearest)},
            {"stickout_m", number(pass.stickout)},
            {"gauge_length_m", number(pass.gauge_length)},
            {"rpm", rpm(pass.speed)},
            {"speed_programmed", pass.programmed},
            {"axial_m", number(pass.depth)},
            {"limit_m", number(pass.limit)},
            {"best_rpm", rpm(pass.best_speed)},
            {"best_limit_m", number(pass.best_limit)},
            {"usable_m", number(pass.usable)},
            {"removal_m3_per_s", number(pass.removal)},
            {"error_m", number(pass.error)},
            {"push_off_m", number(pass.push_off)},
            {"allowed_error_m", number(pass.allowed_error)},
            {"tool_share", number(pass.tool_share)},
            {"probability", number(pass.probability)},
            {"best_probability", number(pass.best_probability)},
            {"cautious_m", cautious(pass, pass.usable)},
            {"cautious_probability", cautious(pass, pass.best_probability)},
            {"best_error_m", number(pass.best_error)},
            {"best_level", level_name(pass.best_verdict.level)},
            {"best_reasons", reasons_json(pass.best_verdict)},
            {"feed_m_per_s", number(pass.feed)},
            {"length_share", number(pass.share)},
            {"time_s", number(pass.time)},
            {"held_by", limited_by_name(pass.held_by)},
            {"stickouts_out",
             {{"not_clear", pass.out.not_clear}, {"shorter_than_job", pass.out.shorter_than_job}}},
            {"why", why_json(pass.why)},
            {"finish", finish_json(pass.finish)},
            {"told_ratio", number(pass.told_ratio)},
            {"holding", holding_json(pass.holding)},
            {"level", level_name(pass.verdict.level)},
            {"reasons", reasons_json(pass.verdict)},
            {"text", trade_pass_text(pass, units)},
            {"left_out",
             {{"needed", number(pass.left_out.needed)}, {"seen", number(pass.left_out.seen)}}},
            {"surrogates", Json::array()}};
}

Json tuned_json(const TunedStickout& tuned, UnitSystem units) {
    return {{"tool", tuned.tool},
            {"pass", tuned.pass},
            {"stickout_m", number(tuned.stickout)},
            {"shortest_m", number(tuned.shortest)},
            {"rpm", rpm(tuned.speed)},
            {"usable_m", number(tuned.usable)},
            {"usable_shortest_m", number(tuned.usable_shortest)},
            {"rpm_shortest", rpm(tuned.speed_shortest)},
            {"limit_m", number(tuned.limit)},
            {"limit_shortest_m", number(tuned.limit_shortest)},
            {"within", number(tuned.within)},
            {"text", tuned_text(tuned, units)}};
}

constexpr double kDegree = std::numbers::pi / 180;

/// Tilts by pass, holders by tool; what an option leaves as the job has it is not listed.
Json varied_json(const TradeResult& result, Traded what) {
    Json all = Json::object();
    for (const TradeVariation& one : result.variations) {
        if (one.what != what) continue;
        all[one.of] = what == Traded::tilt ? number(one.tilt / kDegree) : Json(one.name);
    }
    return all;
}

std::string_view traded_name(Traded what) {
    switch (what) {
        case Traded::material:
            return "material";
        case Traded::holder:
            return "holder";
        case Traded::tilt:
            return "tilt";
        case Traded::hold:
            break;
    }
    return "hold";
}

/// What else than the riser's height was tried, each with the best option that takes it and the
/// best that does not.
Json ways_json(const TradedJob& traded, UnitSystem units) {
    return array_of(trade_ways(traded.results, traded.ranking), [&](const TradeWay& way) {
        const TradeVariation& one = way.variation;
        const bool tilt = one.what == Traded::tilt;
        return Json{
            {"kind", traded_name(one.what)},
            {"of", one.of},
            {"name", tilt ? Json(nullptr) : Json(one.name)},
            {"tilt_deg", tilt ? number(one.tilt / kDegree) : Json(nullptr)},
            {"id", traded.results[way.with].id},
            {"without", way.without ? Json(traded.results[*way.without].id) : Json(nullptr)},
            {"better", way.better},
            {"text", way_text(traded, way, units)}};
    });
}

std::size_t rank_of(const TradeRanking& ranking, std::size_t option) {
    return static_cast<std::size_t>(std::find(ranking.order.begin(), ranking.order.end(), option) -
                                    ranking.order.begin()) +
           1;
}

Json option_json(const TradedJob& traded, std::size_t index, UnitSystem units) {
    const TradeResult& result = traded.results[index];
    const bool failed = !result.failed.empty();
    return {{"id", result.id},
            {"tiers", result.tiers},
            {"hold", result.hold.empty() ? Json(nullptr) : Json(result.hold)},
            {"tilts_deg", varied_json(result, Traded::tilt)},
            {"holders", varied_json(result, Traded::holder)},
            {"materials", varied_json(result, Traded::material)},
            {"height_m", number(result.height)},
            {"as_job", result.as_job},
            {"rank", rank_of(traded.ranking, index)},
            {"mass_kg", failed ? Json(nullptr) : number(result.mass)},
            {"level", failed ? Json(nullptr) : Json(level_name(result.verdict.level))},
            {"reasons", reasons_json(result.verdict)},
            {"best_level", failed ? Json(nullptr) : Json(level_name(result.best_verdict.level))},
            {"best_reasons", reasons_json(result.best_verdict)},
            {"text", trade_option_text(result, units)},
            {"removal_m3_per_s", failed ? Json(nullptr) : number(result.removal)},
            {"limited_by", failed ? Json(nullptr) : Json(limited_by_name(result.limited_by))},
            {"passes", array_of(result.passes,
                                [&](const TradePass& pass) { return pass_json(pass, units); })},
            {"tuned", array_of(result.tuned,
                               [&](const TunedStickout& one) { return tuned_json(one, units); })},
            {"failed", failed ? Json(result.failed) : Json(nullptr)}};
}

Json best_json(const TradedJob& traded, UnitSystem units) {
    if (!traded.ranking.best) {
        return nullptr;
    }
    const TradeResult& best = traded.results[*traded.ranking.best];
    Json stickouts = Json::object();
    for (const TradePass& pass : best.passes) {
        stickouts[pass.tool] = number(pass.stickout);
    }
    return {{"id", best.id},
            {"height_m", number(best.height)},
            {"stickout_m", stickouts},
            {"level", level_name(best.verdict.level)},
            {"best_level", level_name(best.best_verdict.level)},
            {"text", best_text(traded, units)}};
}

Json ties_json(const TradedJob& traded, UnitSystem units) {
    return array_of(traded.ranking.ties, [&](const TradeTie& tie) {
        return Json{{"id", traded.results[tie.option].id},
                    {"removal_ratio", number(tie.removal_ratio)},
                    {"mass_difference_kg", number(tie.mass_difference)},
                    {"text", tie_text(traded, tie, units)}};
    });
}

/// By height, for every hold: what may be used and what is left on the wall, and what limits it.
Json curve_json(const TradedJob& traded) {
    return array_of(traded.results, [&](const TradeResult& result) {
        const TradePass* const pass = result.passes.empty() ? nullptr : &weakest_pass(result);
        const std::optional<double> none;
        return Json{{"id", result.id},
                    {"hold", result.hold.empty() ? Json(nullptr) : Json(result.hold)},
                    {"height_m", number(result.height)},
                    {"pass", pass != nullptr ? Json(pass->name) : Json(nullptr)},
                    {"stickout_m", pass != nullptr ? number(pass->stickout) : Json(nullptr)},
                    {"usable_m", number(pass != nullptr ? pass->usable : none)},
                    {"usable_share", pass != nullptr ? number(result.usable_share) : Json(nullptr)},
                    {"error_m", number(pass != nullptr ? pass->error : none)},
                    {"limited_by",
                     pass != nullptr ? Json(limited_by_name(result.limited_by)) : Json(nullptr)}};
    });
}

/// One row an option, one column a stickout.
template <typename Function>
Json rows_of(const std::vector<const TradePass*>& rows, const Function& function) {
    return array_of(rows, [&](const TradePass* row) { return array_of(row->cells, function); });
}

Json grid_json(const TradedJob& traded) {
    Json grid = Json::array();
    std::size_t passes = 0;
    for (const TradeResult& result : traded.results) {
        passes = std::max(passes, result.passes.size());
    }
    for (std::size_t p = 0; p < passes; ++p) {
        std::vector<const TradePass*> rows;
        Json ids = Json::array(), heights = Json::array();
        for (const TradeResult& result : traded.results) {
            if (p < result.passes.size()) {
                rows.push_back(&result.passes[p]);
                ids.push_back(result.id);
                heights.push_back(number(result.height));
            }
        }
        Json one;
        one["pass"] = rows.front()->name;
        one["tool"] = rows.front()->tool;
        one["id"] = ids;
        one["height_m"] = heights;
        one["stickout_m"] = array_of(rows.front()->cells,
                                     [](const TradeCell& cell) { return number(cell.stickout); });
        one["limit_m"] = rows_of(rows, [](const TradeCell& cell) { return number(cell.limit); });
        one["clear"] = rows_of(rows, [](const TradeCell& cell) { return truth(cell.clear); });
        one["usable_m"] = rows_of(rows, [](const TradeCell& cell) { return number(cell.usable); });
        one["best_rpm"] = rows_of(rows, [](const TradeCell& cell) { return rpm(cell.best); });
        one["worked_out"] =
            rows_of(rows, [](const TradeCell& cell) { return Json(cell.worked_out); });
        if (traded.head.every_speed) {
            one["speed_rpm"] =
                array_of(rows.front()->speeds, [](SpindleSpeed speed) { return rpm(speed); });
            one["limits_m"] = rows_of(rows, [](const TradeCell& cell) {
                return array_of(cell.limits,
                                [](const std::optional<double>& limit) { return number(limit); });
            });
        }
        grid.push_back(std::move(one));
    }
    return grid;
}

Json assumed_json(const std::vector<Assumption>& assumed, UnitSystem units) {
    return array_of(assumed, [&](const Assumption& assumption) {
        const std::string value =
            assumption.value ? quantity_text(*assumption.value, assumption.quantity, units) : "";
        const bool both = !value.empty() && !assumption.text.empty();
        return Json{{"path", assumption.path},
                    {"value", number(assumption.value)},
                    {"text", value + (both ? ", " : "") + assumption.text},
                    {"source", assumption.source}};
    });
}

}  // namespace

std::string trade_json(const TradedJob& traded, UnitSystem units) {
    const TradedHead& head = traded.head;
    Json json;
    json["schema"] = "standfast.trade/1";
    json["title"] = head.title;
    json["riser"] = head.riser;
    json["assumed"] = assumed_json(head.assumed, units);
    json["cautions"] = cautions();
    json["not_judged"] = not_judged_of(traded);
    json["method"] = method_name(head.method);
    json["every_speed"] = head.every_speed;
    json["speeds_tried"] = head.speeds;
    json["draws"] = head.draws;
    json["seed"] = head.seed;
    json["options"] = Json::array();
    for (std::size_t i = 0; i < traded.results.size(); ++i) {
        json["options"].push_back(option_json(traded, i, units));
    }
    json["best"] = best_json(traded, units);
    json["ways"] = ways_json(traded, units);
    json["near_ties"] = ties_json(traded, units);
    json["curve"] = curve_json(traded);
    json["grid"] = grid_json(traded);
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standfast
