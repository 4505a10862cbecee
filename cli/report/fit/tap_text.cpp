#include "cli/report/fit/tap_text.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/report/fit/fit_text.hpp"
#include "cli/text/text_block.hpp"

namespace standfast {
namespace {

constexpr const char* kNoStiffness =
    "A recording tells frequency and damping, never stiffness: how hard the hammer struck is not "
    "in it. A push with a dial indicator tells that.";

std::string mode_words(const RingingMode& mode) {
    return fmt::format("{:.1f} Hz give or take {:.1f}, damping {:.2g} % give or take {:.1g}",
                       mode.frequency, mode.frequency * mode.frequency_deviation,
                       100 * mode.damping, 100 * mode.damping * mode.damping_deviation);
}

std::string job_lines(const RingDown& found) {
    std::string frequencies, damping;
    for (const RingingMode& mode : found.modes) {
        const char* const between = frequencies.empty() ? "" : ", ";
        frequencies += fmt::format("{}\"{:.1f} Hz\"", between, mode.frequency);
        damping += fmt::format("{}\"{:.2g} %\"", between, 100 * mode.damping);
    }
    return fmt::format("frequencies = [{}]\ndamping = [{}]\n", frequencies, damping);
}

}  // namespace

std::string tap_text(const RingDown& found, const std::string& path, const Page& page) {
    std::string text = inked("standfast", Ink::faint, page.color) + "  " + printable(path) + "\n";
    Paragraph rings{.label = "Rings at", .entries = {}};
    for (const RingingMode& mode : found.modes) {
        rings.entries.push_back({.lead = "", .text = mode_words(mode)});
    }
    if (rings.entries.empty()) {
        rings.entries.push_back(
            {.lead = "",
             .text = found.knocks == 0
                         ? "no knock stands out: several knocks, each left to ring, half a second "
                           "apart or more"
                         : "nothing that decays as a structure does"});
    }
    std::vector<Paragraph> sections{
        {.label = "Heard",
         .entries = {{.lead = "",
                      .text = fmt::format("{} knocks, each for {:.2f} s", found.knocks,
                                          found.seconds)}}},
        std::move(rings)};
    Paragraph remarks{.label = "Look at", .entries = {}};
    for (const std::string& remark : ring_down_remarks(found)) {
        remarks.entries.push_back({.lead = "", .text = remark});
    }
    if (!remarks.entries.empty()) sections.push_back(std::move(remarks));
    sections.push_back({.label = "Not told", .entries = {{.lead = "", .text = kNoStiffness}}});
    const std::string cautions =
        "Tap with the spindle locked out and the tool at rest; a soft hammer, and glasses.";
    sections.push_back({.label = "Cautions", .entries = {{.lead = "", .text = cautions}}});
    text += set_out(sections, page);
    if (!found.modes.empty()) text += "\n" + job_lines(found);
    return text;
}

std::string tap_json(const RingDown& found) {
    nlohmann::ordered_json json;
    json["schema"] = "standfast.tap/1";
    json["knocks"] = found.knocks;
    json["seconds"] = found.seconds;
    json["modes"] = nlohmann::ordered_json::array();
    for (const RingingMode& mode : found.modes) {
        json["modes"].push_back({{"frequency_hz", mode.frequency},
                                 {"damping_ratio", mode.damping},
                                 {"frequency_deviation", mode.frequency_deviation},
                                 {"damping_deviation", mode.damping_deviation},
                                 {"level", mode.level}});
    }
    json["left_out_hz"] = found.steady;
    json["remarks"] = ring_down_remarks(found);
    json["not_told"] = kNoStiffness;
    json["cautions"] = measuring_cautions();
    return json.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace standfast
