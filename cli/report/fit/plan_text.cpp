#include "cli/report/fit/plan_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/report/common/number.hpp"
#include "cli/report/fit/fit_text.hpp"
#include "cli/text/text_block.hpp"

namespace standfast {
namespace {

std::string tones_of(const TapTest& tap) {
    std::string list;
    for (const AngularFrequency frequency : tap.frequencies) {
        list += fmt::format("{}{:.0f} Hz", list.empty() ? "" : " and ", frequency.hertz());
    }
    return list;
}

std::string load_and_reading(const PlannedReading& reading, UnitSystem units) {
    if (!reading.measured.push) {
        return fmt::format(
            "five knocks on a telephone (sound = \"tap.wav\"); it should ring near {}",
            tones_of(*reading.measured.tap));
    }
    const PushTest& push = *reading.measured.push;
    return fmt::format(
        "{}; the dial should show {}{}", force_text(push.force, units),
        observed_text(reading.expected, Observed::moved, units),
        reading.resolved ? "" : ", under five divisions: push harder or take a finer dial");
}

}  // namespace

std::string plan_text(const Job& job, const MeasuringPlan& plan, UnitSystem units,
                      const Page& page) {
    std::string text =
        inked("standfast", Ink::faint, page.color) + "  " +
        shortened(printable(job.title), static_cast<std::size_t>(std::max(8, page.width - 11))) +
        "\n";
    const Pass& pass = job.passes[plan.pass];
    Paragraph now{
        .label = "Now",
        .entries = {
            {.lead = "",
             .text = fmt::format(
                 "\"{}\": edge of chatter at the worst speed {}, unsure by a factor of {} "
                 "for want of knowing joints, table, spindle and damping",
                 printable(pass.name), depth_text(plan.limit, units), three_digits(plan.spread))}}};
    Paragraph next{.label = "Measure", .entries = {}};
    int number = 0;
    for (const PlannedReading& reading : plan.readings) {
        next.entries.push_back(
            {.lead = fmt::format("{}.", ++number),
             .text = fmt::format("{}: {}. Then good to a factor of {} (before: {}).",
                                 printable(reading.measured.name), load_and_reading(reading, units),
                                 three_digits(reading.after), three_digits(reading.before))});
    }
    if (next.entries.empty()) {
        next.entries.push_back(
            {.lead = "", .text = "nothing more: no reading would narrow it by as much as 2 %"});
    }
    const Paragraph not_told{
        .label = "Not told",
        .entries = {{.lead = "",
                     .text = "cutting force and material: no push or tap tells them, and they are "
                             "not in these factors"}}};
    std::string cautions;
    for (const std::string& sentence : measuring_cautions()) {
        cautions += (cautions.empty() ? "" : " ") + sentence;
    }
    return text + set_out({now,
                           next,
                           not_told,
                           {.label = "Cautions", .entries = {{.lead = "", .text = cautions}}}},
                          page);
}

std::string plan_json(const Job& job, const MeasuringPlan& plan) {
    using Json = nlohmann::ordered_json;
    const auto vector = [](const Eigen::Vector3d& v) { return Json::array({v.x(), v.y(), v.z()}); };
    Json json;
    json["schema"] = "standfast.plan/1";
    json["title"] = job.title;
    json["pass"] = job.passes[plan.pass].name;
    json["limit_m"] = plan.limit;
    json["spread"] = plan.spread;
    json["readings"] = Json::array();
    for (const PlannedReading& reading : plan.readings) {
        const Measured& measured = reading.measured;
        const MeasuredPlace& place = measured.push ? measured.push->pushed : measured.tap->place;
        Json one;
        one["name"] = measured.name;
        one["kind"] = measured.push ? "push" : "tap";
        one["where"] = place.tool ? job.tools[*place.tool].name : "stack";
        one["tier"] = place.tool ? Json(nullptr) : Json(job.stack.tiers[place.tier].name);
        one["at_m"] = vector(place.at);
        one["direction"] =
            vector(measured.push ? measured.push->direction : *measured.tap->direction);
        if (measured.push) {
            constexpr const char* kBases[] = {"table", "spindle", "floor"};
            one["against"] = kBases[static_cast<std::size_t>(measured.push->against)];
            one["force_n"] = measured.push->force;
            one["expected_m"] = reading.expected;
        } else {
            one["expected_hz"] = Json::array();
            for (const AngularFrequency frequency : measured.tap->frequencies) {
                one["expected_hz"].push_back(frequency.hertz());
            }
        }
        one["resolved"] = reading.resolved;
        one["spread_before"] = reading.before;
        one["spread_after"] = reading.after;
        json["readings"].push_back(std::move(one));
    }
    json["cautions"] = measuring_cautions();
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standfast
