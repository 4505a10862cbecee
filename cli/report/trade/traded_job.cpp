#include "cli/report/trade/traded_job.hpp"

#include <nlohmann/json.hpp>
#include <stdexcept>

namespace nlohmann {

template <typename T>
struct adl_serializer<std::optional<T>> {
    template <typename Json>
    static void to_json(Json& json, const std::optional<T>& value) {
        if (value) {
            json = *value;
        } else {
            json = nullptr;
        }
    }
    template <typename Json>
    static void from_json(const Json& json, std::optional<T>& value) {
        value = json.is_null() ? std::nullopt : std::optional<T>(json.template get<T>());
    }
};

}  // namespace nlohmann

namespace standfast {

// Enumerations go as their numbers: lines of another version are refused anyway.
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(SpindleSpeed, radians_per_second)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Assumption, path, value, quantity, text, source)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(Verdict, level, reasons)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(JointHolding, joint, judged, factor, mode, less_careful,
                                   friction, usual_friction, seat_counted, why_not)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(HoldingCare, wear_factor, moments_added, supports_left_out)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(HoldingResult, judged, factor, less_careful, care, joint, mode,
                                   joints, why_not)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradeCell, stickout, clear, limit, usable, best, worked_out,
                                   limits)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(LeftOut, seen, needed)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(StickoutsOut, not_clear, shorter_than_job)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradeWhy, tool_give, work_give, softest, softest_share,
                                   sings_hertz, sings_on_tool, sings, mode_hertz)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(FinishStock, stock, left, second_takes)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradePass, name, tool, pass, stickout, gauge_length, clear,
                                   least_stickout, nearest, out, held_by, speed, depth, programmed,
                                   limit, best_speed, best_limit, usable, removal, feed, share,
                                   time, error, best_error, push_off, allowed_error, tool_share,
                                   probability, best_probability, holding, verdict, best_verdict,
                                   why, finish, speeds, cells, left_out, told_ratio)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TunedStickout, tool, pass, stickout, shortest, speed,
                                   speed_shortest, usable, usable_shortest, limit, limit_shortest,
                                   within)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradeResult, id, hold, tiers, height, as_job, mass, verdict,
                                   worst, best_verdict, worst_at_best, removal, usable_share,
                                   limited_by, passes, tuned, not_judged, failed)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradedStickouts, tool, stickout, own)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradedHead, path, title, riser, stickouts, assumed, not_judged,
                                   method, every_speed, speeds, draws, seed, options, units)

namespace {

template <typename Record>
std::string record_of(const Record& record) {
    const nlohmann::json json = record;
    return json.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

template <typename Record>
Record read_record(const std::string& text) {
    try {
        return nlohmann::json::parse(text).get<Record>();
    } catch (const nlohmann::json::exception& error) {
        throw std::runtime_error(std::string("a line holds no trade: ") + error.what());
    }
}

[[noreturn]] void refuse(const std::string& what) {
    throw std::runtime_error("a line holds no trade: " + what);
}

template <typename Enumeration>
void require_known(Enumeration value, Enumeration last) {
    const auto number = static_cast<int>(value);
    if (number < 0 || number > static_cast<int>(last)) refuse("a level or reason that is none");
}

void require_known(const Verdict& verdict) {
    require_known(verdict.level, Level::avoid);
    for (const Reason reason : verdict.reasons) require_known(reason, Reason::weight);
}

/// What the screen and the tables take for granted.
void require_whole(const TradeResult& result) {
    if (!result.failed.empty()) return;
    const std::size_t count = result.passes.size();
    if (count == 0) refuse("an option without passes");
    if (result.worst >= count || result.worst_at_best >= count) refuse("a pass that is not there");
    require_known(result.verdict);
    require_known(result.best_verdict);
    require_known(result.limited_by, LimitedBy::list);
    for (const TradePass& pass : result.passes) {
        require_known(pass.verdict);
        require_known(pass.best_verdict);
        require_known(pass.held_by, LimitedBy::list);
        require_known(pass.holding.mode, HoldingMode::frees_part);
        for (const TradeCell& cell : pass.cells) {
            if (cell.limits.size() > pass.speeds.size()) refuse("more limits than speeds");
        }
    }
}

}  // namespace

void require_same_shape(const TradeResult& first, const TradeResult& other) {
    if (!first.failed.empty() || !other.failed.empty()) return;
    bool same = first.passes.size() == other.passes.size();
    for (std::size_t p = 0; same && p < first.passes.size(); ++p) {
        const TradePass &a = first.passes[p], &b = other.passes[p];
        same = a.name == b.name && a.tool == b.tool && a.cells.size() == b.cells.size() &&
               a.speeds.size() == b.speeds.size();
    }
    if (!same) refuse("other passes or stickouts than the options before it");
}

std::string head_record(const TradedHead& head) { return record_of(head); }

std::string result_record(const TradeResult& result) { return record_of(result); }

TradedHead read_head_record(const std::string& text) { return read_record<TradedHead>(text); }

TradeResult read_result_record(const std::string& text) {
    TradeResult result = read_record<TradeResult>(text);
    require_whole(result);
    return result;
}

}  // namespace standfast
