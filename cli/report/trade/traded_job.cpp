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
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradeVariation, what, of, name, tilt)
NLOHMANN_DEFINE_TYPE_NON_INTRUSIVE(TradeResult, id, hold, variations, tiers, height, as_job, mass,
                                   verdict, worst, best_verdict, worst_at_best, removal,
                                   usable_share, limited_by, passes, tuned, not_judged, failed)
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
    } catch (const nlohmann::json::exception&) {
        throw std::runtime_error("a key is missing or holds something else");
    }
}

}  // namespace

std::string head_record(const TradedHead& head) { return record_of(head); }

std::string result_record(const TradeResult& result) { return record_of(result); }

TradedHead read_head_record(const std::string& text) { return read_record<TradedHead>(text); }

TradeResult read_result_record(const std::string& text) { return read_record<TradeResult>(text); }

}  // namespace standfast
