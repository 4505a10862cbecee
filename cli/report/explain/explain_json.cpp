#include "cli/report/explain/explain_json.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/report/check/set_json.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/explain/explain_allows.hpp"
#include "cli/report/explain/explain_words.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

double clean_rpm(SpindleSpeed speed) {
    const double rpm = speed.rpm(), rounded = std::round(rpm * 1e6) / 1e6;
    return std::abs(rpm - rounded) < 1e-12 * std::abs(rpm) ? rounded : rpm;
}

Json peaks_json(const Explained& explained) {
    Json peaks = Json::array();
    if (!explained.recording) return peaks;
    for (const HeardLine& heard : explained.recording->finding.lines) {
        peaks.push_back({{"frequency_hz", number(heard.line.frequency)},
                         {"level_db", number(level_db(heard.line.power))},
                         {"source", source_name(heard.source)},
                         {"order", number(heard.order)}});
    }
    return peaks;
}

Json shares_json(const SoundFinding& finding) {
    const SoundShares& s = finding.shares;
    return {{"tooth_passing", number(s.tooth_passing)},
            {"half_tooth", number(s.half_tooth)},
            {"spindle", number(s.spindle)},
            {"chatter", number(s.chatter)},
            {"hum", number(s.hum)},
            {"unknown", number(s.unknown)},
            {"everything", number(s.everything)}};
}

Json evidence_json(const Explained& explained) {
    if (explained.recording) {
        const HeardRecording& heard = *explained.recording;
        const Recording& recording = heard.file.recording;
        return {{"kind", "sound"},
                {"file", heard.path},
                {"format", heard.file.format},
                {"rate_hz", number(recording.rate)},
                {"channels", recording.channels.size()},
                {"from_s", number(heard.file.from)},
                {"duration_s", number(recording.seconds())},
                {"background", heard.background ? Json(*heard.background) : Json(nullptr)},
                {"background_lines", heard.finding.background_tones.size()},
                {"clipped_share", number(heard.finding.clipped)},
                {"resolution_hz", number(heard.finding.spectrum.resolution)},
                {"speed_relative_error", number(heard.finding.speed.relative_error)},
                {"speed_lines", heard.finding.speed.lines},
                {"speed_contrast", number(heard.finding.speed.contrast)},
                {"half_tooth_level_db", number(heard.finding.half_tooth_level)},
                {"half_tooth_low_db", number(heard.finding.half_tooth_low)},
                {"family_share", number(heard.finding.family_share)},
                {"family_by_accident", number(heard.finding.accident)},
                {"mean_square", shares_json(heard.finding)}};
    }
    if (explained.tone) {
        return {{"kind", "heard"},
                {"frequency_hz", number(explained.tone->hertz)},
                {"nearest_order", number(explained.tone->finding.nearest_order)},
                {"away_hz", number(explained.tone->finding.away_hertz)},
                {"guard_hz", number(explained.tone->finding.guard_hertz)}};
    }
    return {{"kind", "marks"},
            {"spacing_m", number(explained.marks->spacing)},
            {"axial_m", number(explained.marks->axial)}};
}

Json modes_json(const std::vector<CauseMode>& modes) {
    Json list = Json::array();
    for (const CauseMode& mode : modes) {
        Json shares = Json::object();
        for (const auto& [member, share] : mode.mode.strain_share) shares[member] = number(share);
        list.push_back({{"side", mode.tool_side ? "tool" : "work"},
                        {"frequency_hz", number(mode.mode.frequency_hertz)},
                        {"damping_ratio", number(mode.mode.damping_ratio)},
                        {"answer_share", number(mode.share)},
                        {"strain_share", shares}});
    }
    return list;
}

std::string_view cure_name(CureKind kind) {
    switch (kind) {
        case CureKind::advised:
            return "advised";
        case CureKind::harmonic_speed:
            return "harmonic on the line";
        case CureKind::unequal_pitch:
            return "unequal pitch";
        case CureKind::other_feed:
            return "feed";
        case CureKind::more_damping:
            break;
    }
    return "damping";
}

Json cures_json(const Explained& explained, UnitSystem units) {
    Json list = Json::array();
    for (const Cure& cure : explained.explanation.cures) {
        list.push_back({{"kind", cure_name(cure.kind)},
                        {"set", set_json(explained.job, cure.change.set, units)},
                        {"limit_ratio", number(cure.change.limit_ratio)},
                        {"error_ratio", number(cure.change.error_ratio)},
                        {"gain", number(cure.gain)},
                        {"reach_unchecked", cure.change.reach_unchecked},
                        {"text", cure_text(explained, cure, units)}});
    }
    return list;
}

Json evidence_name(ModelEvidence speaks) {
    switch (speaks) {
        case ModelEvidence::chatter:
            return "chatter";
        case ModelEvidence::no_chatter:
            return "no chatter";
        case ModelEvidence::nothing:
            break;
    }
    return nullptr;
}

Json doubt_name(Doubt doubt) {
    switch (doubt) {
        case Doubt::doubled_or_runout:
            return "period doubling or runout";
        case Doubt::lone_tone:
            return "lone tone";
        case Doubt::noise:
            return "noise";
        case Doubt::none:
            break;
    }
    return nullptr;
}

Json candidates_json(const Explained& explained) {
    Json list = Json::array();
    for (const RankedFrequency& one : explained.explanation.candidates) {
        list.push_back(
            {{"frequency_hz", number(one.hertz)},
             {"axial_m", explained.marks ? number(axial_mark_pitch(one.hertz, explained.marks->cut))
                                         : Json(nullptr)},
             {"keeps_up_from_m", one.gain > 0 ? number(1 / one.gain) : Json(nullptr)}});
    }
    return list;
}

Json model_json(const Explained& explained) {
    const Explanation& explanation = explained.explanation;
    const PassReport& report = explanation.report;
    const bool deep = explained.job.passes[explained.pass].axial.has_value();
    return {{"method", method_name(report.stability.method)},
            {"axial_m", deep ? number(report.judged_depth) : Json(nullptr)},
            {"limit_m", number(report.at_programmed.limit)},
            {"searched_to_m", number(report.stability.searched_to)},
            {"kind", report.at_programmed.kind ? Json(chatter_kind_name(*report.at_programmed.kind))
                                               : Json(nullptr)},
            {"chatter_hz", number(report.at_programmed.chatter_hertz)},
            {"line_keeps_up_from_m", number(explanation.keeps_up_from)},
            {"speaks_for", evidence_name(explanation.speaks)},
            {"expects_chatter",
             explanation.model_chatters ? Json(*explanation.model_chatters) : Json(nullptr)}};
}

}  // namespace

double level_db(double power) { return power > 1e-30 ? 10 * std::log10(power) : -300; }

std::string explain_json(const Explained& explained, UnitSystem units) {
    const Evidence& evidence = explained.evidence;
    const Pass& pass = explained.job.passes[explained.pass];
    const int teeth = explained.job.tools[pass.tool].cutter.teeth;
    const bool asked = evidence.cause != SoundCause::quiet;
    Json json;
    json["schema"] = "standfast.explain/1";
    json["title"] = explained.title;
    json["pass"] = pass.name;
    json["evidence"] = evidence_json(explained);
    json["rpm"] = clean_rpm(evidence.shown);
    json["rpm_refined"] = evidence.refined ? Json(clean_rpm(*evidence.refined)) : Json(nullptr);
    json["tooth_passing_hz"] = number(tooth_passing_hertz(evidence.ran(), teeth));
    json["peaks"] = peaks_json(explained);
    json["finding"] = cause_name(evidence.cause);
    json["finding_text"] = finding_sentence(explained, units);
    json["doubt"] = doubt_name(evidence.doubt);
    json["allows"] = what_it_allows(explained);
    const std::string test = five_minute_test(explained);
    json["test"] = test.empty() ? Json(nullptr) : Json(test);
    json["chatter_hz"] =
        explained.explanation.self_excited ? number(explained.explanation.hertz) : Json(nullptr);
    json["confidence"] = number(evidence.confidence);
    json["self_excited"] = explained.explanation.self_excited;
    json["line_hz"] = number(explained.explanation.hertz);
    json["candidates"] = candidates_json(explained);
    json["modes"] = modes_json(explained.explanation.modes);
    json["model"] = asked ? model_json(explained) : Json(nullptr);
    json["model_text"] = asked ? Json(model_sentence(explained, units)) : Json(nullptr);
    json["cures"] = cures_json(explained, units);
    json["rules"] = rules_of_the_trade();
    json["not_known"] = explain_limits(explained);
    json["cautions"] = cautions();
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string sound_csv(const SoundFinding& finding) {
    const PowerSpectrum& spectrum = finding.spectrum;
    std::map<std::size_t, const HeardLine*> lines;
    for (const HeardLine& heard : finding.lines) {
        lines[static_cast<std::size_t>(std::lround(heard.line.frequency / spectrum.step))] = &heard;
    }
    std::string text = "frequency_hz,level_db,source,order\n";
    for (std::size_t i = 0; i < spectrum.power.size(); ++i) {
        text += fmt::format("{},{:.2f},", spectrum.frequency(i), level_db(spectrum.power[i]));
        const auto line = lines.find(i);
        if (line != lines.end()) {
            text += source_name(line->second->source);
            text += ",";
            if (line->second->order) text += fmt::format("{:.6g}", *line->second->order);
        } else {
            text += ",";
        }
        text += "\n";
    }
    return text;
}

}  // namespace standfast
