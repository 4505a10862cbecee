#include "cli/report/check/ending_sections.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

std::string joined(const std::vector<std::string>& items, std::string_view by) {
    return fmt::format("{}", fmt::join(items, by));
}

constexpr std::string_view kNeverJudged =
    "never: entries, drilling, toolpath collisions, x and y travel, moving rotary axes, plates";

Paragraph not_judged_section(const Ending& ending, bool whole) {
    Paragraph section{.label = "Not judged", .entries = {}};
    if (!ending.not_judged.empty()) {
        section.entries.push_back({.lead = "", .text = printable(joined(ending.not_judged, "; "))});
    }
    section.entries.push_back(
        {.lead = "",
         .text = whole ? joined(ending.never_judged, "; ") : std::string(kNeverJudged)});
    return section;
}

/// Each source once, in the order in which they are first needed.
std::vector<std::string> sources_of(const std::vector<Assumption>& assumed) {
    std::vector<std::string> sources;
    for (const Assumption& one : assumed) {
        if (!one.source.empty() && std::ranges::find(sources, one.source) == sources.end()) {
            sources.push_back(one.source);
        }
    }
    return sources;
}

/// Key and value first, then why, then the number of the source.
std::string assumption_text(const Assumption& assumption, const std::vector<std::string>& sources,
                            UnitSystem units) {
    std::string text = assumption.path;
    if (assumption.value) {
        text += " = " + quantity_text(*assumption.value, assumption.quantity, units);
    }
    if (!assumption.text.empty()) text += ": " + assumption.text;
    const auto source = std::ranges::find(sources, assumption.source);
    return source == sources.end() ? text
                                   : fmt::format("{} [{}]", text, source - sources.begin() + 1);
}

Paragraph count_of_assumed(const std::vector<Assumption>& assumed) {
    const std::string text =
        fmt::format("{} thing{} that the job did not say; --assumed lists them", assumed.size(),
                    assumed.size() == 1 ? "" : "s");
    return {.label = "Assumed", .entries = {{.lead = "", .text = text}}};
}

void add_assumed(std::vector<Paragraph>& sections, const std::vector<Assumption>& assumed,
                 UnitSystem units) {
    const std::vector<std::string> sources = sources_of(assumed);
    Paragraph keys{.label = "Assumed", .entries = {}}, list{.label = "Sources", .entries = {}};
    for (const Assumption& one : assumed) {
        keys.entries.push_back(
            {.lead = "", .text = printable(assumption_text(one, sources, units))});
    }
    for (std::size_t i = 0; i < sources.size(); ++i) {
        list.entries.push_back({.lead = fmt::format("[{}]", i + 1), .text = printable(sources[i])});
    }
    sections.push_back(std::move(keys));
    if (!list.entries.empty()) sections.push_back(std::move(list));
}

}  // namespace

std::vector<Paragraph> ending_sections(const Ending& ending, const ScreenOptions& options) {
    const bool whole = options.list_assumed;
    std::vector<Paragraph> sections{not_judged_section(ending, whole)};
    if (whole) {
        add_assumed(sections, ending.assumed, options.units);
    } else {
        sections.push_back(count_of_assumed(ending.assumed));
    }
    const std::string caution = whole ? joined(cautions(), " ") : caution_about(ending.verdict);
    sections.push_back({.label = "Cautions", .entries = {{.lead = "", .text = caution}}});
    return sections;
}

}  // namespace standfast
