#include "cli/report/check/json.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "cli/report/check/advice_text.hpp"
#include "cli/report/check/march_json.hpp"
#include "cli/report/check/set_json.hpp"
#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "fea/judgement/answer/levels.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;  // keys stay in the order of the contract

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

Json degrees(const std::optional<double>& radians) {
    return radians ? number(*radians * 180 / std::numbers::pi) : Json(nullptr);
}

/// rpm as the user wrote it: kept in rad/s, 9000 comes back as 9000.000000000002.
double clean_rpm(SpindleSpeed speed) {
    const double rpm = speed.rpm();
    const double rounded = std::round(rpm * 1e6) / 1e6;
    return std::abs(rpm - rounded) < 1e-12 * std::abs(rpm) ? rounded : rpm;
}

Json vector3(const Eigen::Vector3d& v) {
    return Json::array({number(v.x()), number(v.y()), number(v.z())});
}

template <typename Range, typename Function>
Json array_of(const Range& range, const Function& function) {
    Json array = Json::array();
    for (const auto& item : range) {
        array.push_back(function(item));
    }
    return array;
}

Json modes_json(const std::vector<ReportedMode>& modes) {
    return array_of(modes, [](const ReportedMode& mode) {
        Json shares = Json::object();
        for (const auto& [member, share] : mode.strain_share) {
            shares[member] = number(share);
        }
        return Json{{"frequency_hz", number(mode.frequency_hertz)},
                    {"damping_ratio", number(mode.damping_ratio)},
                    {"strain_share", shares},
                    {"shape", array_of(mode.shape, vector3)}};
    });
}

Json reasons_json(const std::vector<Reason>& reasons) {
    return array_of(reasons, [](Reason reason) { return Json(reason_name(reason)); });
}

Json advice_json(const Job& job, const PassReport& pass, UnitSystem units) {
    return array_of(pass.advice, [&](const Advice& advice) {
        return Json{{"set", set_json(job, advice.set, units)},
                    {"limit_ratio", number(advice.limit_ratio)},
                    {"error_ratio", number(advice.error_ratio)},
                    {"removal_ratio", number(advice.removal_ratio)},
                    {"level", level_name(advice.level)},
                    {"clears", advice.clears},
                    {"reach_unchecked", advice.reach_unchecked},
                    {"text", advice_text(job, pass, advice, units)}};
    });
}

Json static_json(const StaticResult& statics) {
    return {{"error_m", number(statics.error)},
            {"height_m", number(statics.height)},
            {"tip_middle_top_m", array_of(statics.profile, [](double e) { return number(e); })},
            {"tool_m", vector3(statics.tool)},
            {"work_m", vector3(statics.work)},
            {"give", array_of(statics.give,
                              [](const GiveShare& give) {
                                  return Json{{"member", give.member},
                                              {"side", give.tool_side ? "tool" : "work"},
                                              {"share", number(give.share)}};
                              })},
            {"tool_compliance_m_per_n", number(statics.tool_compliance)},
            {"work_compliance_m_per_n", number(statics.work_compliance)},
            {"work_compliance_at_tip_m_per_n", number(statics.work_at_tip)},
            {"work_compliance_at_top_m_per_n", number(statics.work_at_top)}};
}

Json edge_json(const EdgeReport& edge) {
    return {{"fixed", edge.from_top ? "top" : "tip"},
            {"height_m", array_of(edge.height, [](double z) { return number(z); })},
            {"one_point", edge.one_point},
            {"place", number(edge.place)}};
}

Json kind_json(const std::optional<ChatterKind>& kind) {
    return kind ? Json(chatter_kind_name(*kind)) : Json(nullptr);
}

Json islands_json(const StabilityLimits& stability) {
    Json islands = Json::array();
    for (const SpeedLimit& limit : stability.speeds) {
        for (const auto& [from, to] : limit.islands) {
            islands.push_back(
                {{"rpm", clean_rpm(limit.speed)}, {"from_m", number(from)}, {"to_m", number(to)}});
        }
    }
    return islands;
}

Json range_json(const std::optional<DrawnRange>& range) {
    return range ? Json{{"p10", number(range->low)}, {"p90", number(range->high)}} : Json(nullptr);
}

/// What was drawn, where it was computed, and how well the lines between these speeds hold: the
/// column stability.probability is read off those lines.
Json odds_json(const ChatterOdds& odds) {
    return {{"draws", odds.draws},
            {"seed", odds.seed},
            {"probability", number(odds.at_judged)},
            {"sampling_error", number(odds.sampling_error)},
            {"speed_rpm",
             array_of(odds.speed, [](SpindleSpeed speed) { return Json(clean_rpm(speed)); })},
            {"unstable_share", array_of(odds.unstable, [](double share) { return number(share); })},
            {"surrogate",
             {{"name", "linear in 1/rpm between the computed speeds"},
              {"worst_error", number(odds.interpolation_worst)},
              {"rms_error", number(odds.interpolation_rms)}}},
            {"draws_solved_on", {{"name", "all modes"}, {"sample", 0}, {"misjudged", 0}}},
            {"first_tool_hz", range_json(odds.first_tool_hertz)},
            {"first_stack_hz", range_json(odds.first_stack_hertz)},
            {"push_off_m", range_json(odds.push_off)},
            {"limit_m", range_json(odds.limit)},
            {"limit_draws", odds.limit_draws},
            {"fresh_edge", odds.fresh_edge ? Json{{"probability", number(*odds.fresh_edge)},
                                                  {"limit_m", number(odds.fresh_limit)}}
                                           : Json(nullptr)},
            {"influences", array_of(odds.influences, [](const Influence& influence) {
                 return Json{{"group", influence.group}, {"share", number(influence.share)}};
             })}};
}

Json wall_tries_json(const Job& job, const PassReport& pass) {
    if (!pass.wall) {
        return nullptr;
    }
    const double outside = share_outside(*pass.wall, job.passes.at(pass.pass), job.limits);
    return {{"tries", pass.wall->error.size()},
            {"outside_share", number(outside)},
            {"stays_under_m", number(pass.wall->stays_under())},
            {"either_way", pass.wall->either_way()}};
}

Json stability_json(const StabilityLimits& stability, const std::optional<ChatterOdds>& odds) {
    Json json = {{"method", method_name(stability.method)}};
    if (!stability.fallback.empty()) {
        json["fallback"] = stability.fallback;
    }
    const auto column = [&](const auto& of) { return array_of(stability.speeds, of); };
    json["speed_rpm"] = column([](const SpeedLimit& l) { return Json(clean_rpm(l.speed)); });
    json["limit_m"] = column([](const SpeedLimit& l) { return number(l.limit); });
    json["searched_to_m"] = number(stability.searched_to);
    json["kind"] = column([](const SpeedLimit& l) { return kind_json(l.kind); });
    json["chatter_hz"] = column([](const SpeedLimit& l) { return number(l.chatter_hertz); });
    json["islands"] = islands_json(stability);
    if (stability.method == StabilityMethod::periodic) {
        json["solved_on"] = column([](const SpeedLimit&) { return Json("all modes"); });
        json["surrogates"] = Json::array();
    }
    if (odds) {
        json["probability"] =
            column([&](const SpeedLimit& l) { return number(unstable_at(*odds, l.speed)); });
    }
    return json;
}

/// Speed x height; a row of nulls where the programmed depth is unstable, so that it stays a
/// rectangle.
Json profile_json(const SurfaceErrorMap& surface) {
    return array_of(surface.profile, [&](const std::vector<double>& row) {
        if (row.empty()) {
            return Json(std::vector<std::nullptr_t>(surface.height.size()));
        }
        return array_of(row, [](double error) { return number(error); });
    });
}

Json surface_json(const SurfaceErrorMap& surface) {
    const auto optional = [](const std::optional<double>& value) { return number(value); };
    return {{"speed_rpm",
             array_of(surface.speed, [](SpindleSpeed speed) { return Json(clean_rpm(speed)); })},
            {"error_m", array_of(surface.error, optional)},
            {"height_m", array_of(surface.height, [](double z) { return number(z); })},
            {"profile_m", profile_json(surface)},
            {"peak_to_peak_m", array_of(surface.peak_to_peak, optional)},
            {"fed_back_m", array_of(surface.fed_back, optional)},
            {"waviness_m", array_of(surface.waviness, optional)}};
}

Json speeds_json(const std::vector<SpeedLevel>& speeds) {
    return array_of(speeds, [](const SpeedLevel& speed) {
        return Json{{"rpm", clean_rpm(speed.speed)},
                    {"level", level_name(speed.level)},
                    {"reasons", reasons_json(speed.reasons)},
                    {"offered", speed.offered}};
    });
}

Json holding_json(const HoldingResult& holding) {
    const bool some = holding.judged || !holding.joint.empty();
    return {
        {"judged", holding.judged},
        {"factor", some ? number(holding.factor) : Json(nullptr)},
        {"joint", some ? Json(holding.joint) : Json(nullptr)},
        {"mode", some ? Json(holding_mode_name(holding.mode)) : Json(nullptr)},
        {"why_not", holding.judged ? Json(nullptr) : Json(holding.why_not)},
        {"less_careful_factor", some ? number(holding.less_careful) : Json(nullptr)},
        {"careful",
         {{"wear_factor", number(holding.care.wear_factor)},
          {"moments_added", holding.care.moments_added},
          {"supports_left_out", holding.care.supports_left_out}}},
        {"joints", array_of(holding.joints, [](const JointHolding& joint) {
             return Json{
                 {"joint", joint.joint},
                 {"judged", joint.judged},
                 {"factor", joint.judged ? number(joint.factor) : Json(nullptr)},
                 {"mode", joint.judged ? Json(holding_mode_name(joint.mode)) : Json(nullptr)},
                 {"less_careful_factor", joint.judged ? number(joint.less_careful) : Json(nullptr)},
                 {"friction", joint.judged ? number(joint.friction) : Json(nullptr)},
                 {"usual_friction", joint.judged ? number(joint.usual_friction) : Json(nullptr)},
                 {"seat_counted", joint.seat_counted},
                 {"why_not", joint.judged ? Json(nullptr) : Json(joint.why_not)}};
         })}};
}

Json tool_stress_json(const ToolStressResult& stress) {
    const auto judged = [&](double value) { return stress.judged ? number(value) : Json(nullptr); };
    return {{"judged", stress.judged},
            {"stress_pa", judged(stress.stress)},
            {"allowed_pa", judged(stress.allowed)},
            {"at_height_m", judged(stress.at_height)},
            {"where", stress.judged ? Json(stress.where) : Json(nullptr)}};
}

Json power_json(const SpindlePower& power) {
    return {{"judged", power.judged},
            {"required_w", number(power.power)},
            {"available_w", number(power.available_power)},
            {"torque_required_nm", number(power.torque)},
            {"torque_available_nm", number(power.available_torque)},
            {"ratio", power.judged ? number(power.ratio) : Json(nullptr)}};
}

Json weight_json(const WeightResult& weight) {
    return {{"mass_kg", number(weight.mass)},
            {"allowed_kg", number(weight.allowed)},
            {"tilt_moment_nm", number(weight.tilt_moment)},
            {"tilt_moment_allowed_nm", number(weight.tilt_moment_allowed)}};
}

/// What the verdict is about: the programmed speed and depth, or those that were asked for.
Json judged_json(const PassReport& pass) {
    return {{"rpm", clean_rpm(pass.judged_speed)},
            {"axial_m", number(pass.judged_depth)},
            {"speed_programmed", pass.programmed_speed.has_value()},
            {"limit_m", number(pass.at_programmed.limit)},
            {"kind", kind_json(pass.at_programmed.kind)},
            {"chatter_hz", number(pass.at_programmed.chatter_hertz)},
            {"error_m", number(pass.error_at_programmed)},
            {"peak_to_peak_m", number(pass.vibration_at_programmed)},
            {"fed_back_m", number(pass.fed_back_at_programmed)},
            {"waviness_m", number(pass.waviness_at_programmed)}};
}

Json best_json(const std::optional<Recommendation>& best) {
    if (!best) {
        return nullptr;
    }
    return {{"rpm", clean_rpm(best->speed)},
            {"axial_m", number(best->depth)},
            {"level", level_name(best->level)},
            {"limit_m", number(best->limit)}};
}

Json bands_json(const std::vector<SpeedBand>& bands, bool quiet) {
    return array_of(bands, [&](const SpeedBand& band) {
        Json json = {{"from_rpm", clean_rpm(band.from)}, {"to_rpm", clean_rpm(band.to)}};
        if (quiet) {
            json["limit_m"] = number(band.limit);
        } else {
            json["reason"] = reason_name(band.reason);
        }
        return json;
    });
}

Json reach_json(const ReachResult& reach) {
    const bool judged = reach.judged;
    return {{"judged", judged},
            {"why_not", judged ? Json(nullptr) : Json(reach.why_not)},
            {"clear", judged ? Json(reach.clear) : Json(nullptr)},
            {"fault", reach_fault_name(reach.fault)},
            {"rubs", reach.rubs.empty() ? Json(nullptr) : Json(reach.rubs)},
            {"nearest", judged ? Json(reach.tool_solid + " against " + reach.work_solid) : Json()},
            {"tool_solid", judged ? Json(reach.tool_solid) : Json()},
            {"work_solid", judged ? Json(reach.work_solid) : Json()},
            {"distance_m", judged ? number(reach.distance) : Json(nullptr)},
            {"clearance_m", judged ? number(reach.clearance) : Json(nullptr)},
            {"least_stickout_m", number(reach.least_stickout)},
            {"most_stickout_m", number(reach.most_stickout)},
            {"riser", reach.riser.empty() ? Json(nullptr) : Json(reach.riser)},
            {"least_riser_height_m", number(reach.least_riser_height)},
            {"tilt_needed_deg", degrees(reach.tilt_needed)},
            {"tilt_available_deg", degrees(reach.tilt_available)}};
}

Json pass_json(const Job& job, const PassReport& pass, UnitSystem units) {
    Json json;
    json["name"] = pass.name;
    json["tool"] = pass.tool;
    json["verdict"] = {{"level", level_name(pass.verdict.level)},
                       {"reasons", reasons_json(pass.verdict.reasons)},
                       {"text", verdict_text(job, pass, units)}};
    json["judged"] = judged_json(pass);
    json["best"] = best_json(pass.best);
    json["advice"] = advice_json(job, pass, units);
    json["nothing_reaches"] = pass.nothing_reaches;
    json["edge"] = edge_json(pass.edge);
    json["tool_modes"] = modes_json(pass.tool_modes);
    json["work_modes"] = modes_json(pass.work_modes);
    json["gauge_length_m"] = number(pass.gauge_length);
    json["stickout_m"] = number(pass.stickout);
    json["feed_heading_deg"] = degrees(pass.feed_heading);
    json["worst_heading"] = pass.worst_heading;
    json["engagement"] = {{"entry_deg", degrees(pass.engagement.entry)},
                          {"exit_deg", degrees(pass.engagement.exit)}};
    json["tooth_passing_hz"] = number(pass.tooth_passing_hertz);
    json["force"] = {{"mean_n", vector3(pass.mean_force)}, {"peak_n", vector3(pass.peak_force)}};
    json["static"] = static_json(pass.statics);
    json["stability"] = stability_json(pass.stability, pass.odds);
    if (pass.odds) {
        json["odds"] = odds_json(*pass.odds);
    }
    json["wall_tries"] = wall_tries_json(job, pass);
    json["surface_error"] = surface_json(pass.surface);
    if (pass.march) {
        json["march"] = march_json(*pass.march);
    }
    json["speeds"] = speeds_json(pass.speeds);
    json["quiet_bands"] = bands_json(pass.quiet_bands, true);
    json["stay_off"] = bands_json(pass.stay_off, false);
    json["holding"] = holding_json(pass.holding);
    json["reach"] = reach_json(pass.reach);
    json["tool_stress"] = tool_stress_json(pass.tool_stress);
    json["power"] = power_json(pass.power);
    json["weight"] = weight_json(pass.weight);
    json["whirl_ratio"] = number(pass.whirl_ratio);
    json["cutting_speed_m_per_s"] = number(pass.cutting_speed);
    json["not_judged"] = pass.not_judged;
    return json;
}

Json assumed_json(const std::vector<Assumption>& assumed, UnitSystem units) {
    return array_of(assumed, [&](const Assumption& assumption) {
        std::string value;
        if (assumption.value) {
            value = quantity_text(*assumption.value, assumption.quantity, units);
        }
        const bool both = !value.empty() && !assumption.text.empty();
        return Json{{"path", assumption.path},
                    {"value", number(assumption.value)},
                    {"text", value + (both ? ", " : "") + assumption.text},
                    {"source", assumption.source}};
    });
}

}  // namespace

std::string check_json(const Job& job, const JobReport& report, UnitSystem units) {
    Json json;
    json["schema"] = "standfast.check/1";
    json["title"] = report.title;
    json["assumed"] = assumed_json(report.assumed, units);
    json["cautions"] = cautions();
    json["not_judged"] = report.not_judged;
    json["stack"] = {{"mass_kg", number(report.mass)},
                     {"centre_of_mass_m", vector3(report.centre_of_mass)},
                     {"modes", modes_json(report.stack_modes)}};
    json["passes"] = array_of(report.passes,
                              [&](const PassReport& pass) { return pass_json(job, pass, units); });
    // A name that is not UTF-8 is refused by the reader; should one get here, it is replaced.
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string join_documents(const std::vector<std::string>& documents) {
    if (documents.size() == 1) {
        return documents.front();
    }
    std::string text = "[\n";
    for (std::size_t i = 0; i < documents.size(); ++i) {
        std::string_view document = documents[i];
        document.remove_suffix(document.ends_with('\n') ? 1 : 0);
        text += std::string(document) + (i + 1 < documents.size() ? ",\n" : "\n");
    }
    return text + "]\n";
}

}  // namespace standfast
