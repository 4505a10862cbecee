#include "cli/report/fit/fit_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/report/common/number.hpp"
#include "cli/text/text_block.hpp"

namespace standfast {
namespace {

/// Every measurement on its own statement, its numbers behind it.
Paragraph measured_section(const Job& job, const FitResult& result, UnitSystem units) {
    Paragraph section{.label = "Measured", .entries = {}};
    for (std::size_t i = 0; i < job.measured.size(); ++i) {
        std::string text = printable(job.measured[i].name) + ":";
        bool first = true;
        for (const FitComparison& row : result.measured) {
            if (row.measured != i) {
                continue;
            }
            text += fmt::format("{} {} {} (model {}, now {})", first ? "" : ";",
                                observed_words(row.what), observed_text(row.value, row.what, units),
                                observed_text(row.before, row.what, units),
                                observed_text(row.after, row.what, units));
            first = false;
        }
        section.entries.push_back({.lead = "", .text = text});
    }
    return section;
}

std::string factor_words(const FitAdjusted& adjusted) {
    const double percent = (adjusted.factor - 1) * 100;
    const bool stiffness = adjusted.unknown.quantity == FitQuantity::stiffness;
    if (std::abs(percent) < 3) {
        return stiffness ? "as stiff as modelled" : "damped as modelled";
    }
    if (adjusted.factor >= 2) {
        return fmt::format("{} times {}", three_digits(adjusted.factor),
                           stiffness ? "as stiff" : "the damping");
    }
    return fmt::format("{:.0f} % {}", std::abs(percent),
                       percent > 0 ? (stiffness ? "stiffer" : "more damped")
                                   : (stiffness ? "softer" : "less damped"));
}

/// "57 % stiffer (445 N/um sideways, was 283 N/um), good to a factor of 1.16 (was 2)".
std::string adjusted_words(const FitAdjusted& adjusted, UnitSystem units) {
    const std::string spread =
        fmt::format("good to a factor of {} (was {})", three_digits(adjusted.spread),
                    three_digits(adjusted.unknown.prior.factor));
    if (adjusted.unknown.quantity == FitQuantity::loss) {
        return fmt::format("{}, {}", factor_words(adjusted), spread);
    }
    return fmt::format("{} ({}), {}", factor_words(adjusted), before_and_after(adjusted, units),
                       spread);
}

/// One statement a joint: its stiffness, then its damping, where the data see them.
Paragraph joints_section(const FitResult& result, UnitSystem units) {
    std::vector<std::pair<std::string, std::string>> joints;
    for (const FitAdjusted& adjusted : result.adjusted) {
        if (!adjusted.seen) {
            continue;
        }
        const std::string name = printable(adjusted.unknown.name);
        const auto known =
            std::ranges::find(joints, name, &std::pair<std::string, std::string>::first);
        if (known == joints.end()) {
            joints.emplace_back(name, adjusted_words(adjusted, units));
        } else {
            known->second += "; " + adjusted_words(adjusted, units);
        }
    }
    Paragraph section{.label = "Joints", .entries = {}};
    for (const auto& [name, words] : joints) {
        section.entries.push_back({.lead = "", .text = fmt::format("{}: {}", name, words)});
    }
    if (section.entries.empty()) {
        section.entries.push_back(
            {.lead = "", .text = "These measurements tell none of the joints better than before."});
    }
    return section;
}

Paragraph disagree_section(const Job& job, const FitResult& result, UnitSystem units) {
    Paragraph section{.label = "Disagree", .entries = {}};
    for (const FitComparison& row : result.measured) {
        if (!row.disagrees) {
            continue;
        }
        section.entries.push_back(
            {.lead = "",
             .text = fmt::format(
                 "{}: {} {} measured; the others say {}. {}",
                 printable(job.measured[row.measured].name), observed_words(row.what),
                 observed_text(row.value, row.what, units),
                 observed_text(row.others, row.what, units),
                 row.suspect.empty()
                     ? "Measure again; look for a base that slid, a loose joint, another place or "
                       "direction."
                     : "Perhaps: " + row.suspect),
             .lead_ink = Ink::plain});
    }
    return section;
}

/// What the joints are without the readings that disagree: shown, not kept.
Paragraph without_section(const Job& job, const FitWithout& without, UnitSystem units) {
    Paragraph section = joints_section(without.fit, units);
    std::string names;
    for (const std::size_t index : without.set_aside) {
        names += fmt::format(" --without \"{}\"", printable(job.measured[index].name));
    }
    section.label = "Without";
    section.entries.insert(
        section.entries.begin(),
        {.lead = "", .text = fmt::format("without what disagrees; to keep it so:{}", names)});
    return section;
}

Paragraph unseen_section(const FitResult& result) {
    std::string joints, damping;
    bool any_damping_seen = false;
    for (const FitAdjusted& adjusted : result.adjusted) {
        const bool loss = adjusted.unknown.quantity == FitQuantity::loss;
        any_damping_seen = any_damping_seen || (loss && adjusted.seen);
        std::string& list = loss ? damping : joints;
        if (!adjusted.seen) {
            list += (list.empty() ? "" : ", ") + printable(adjusted.unknown.name);
        }
    }
    std::string text;
    if (!joints.empty()) {
        text = "stiffness of: " + joints;
    }
    if (!damping.empty()) {
        text += text.empty() ? "" : "; ";
        text += any_damping_seen ? "damping of: " + damping
                                 : std::string(
                                       "damping: nothing was measured that tells it "
                                       "(a tap with its damping does)");
    }
    return {.label = "Not seen",
            .entries = {{.lead = "", .text = text.empty() ? "nothing" : text}}};
}

Paragraph list_section(const std::string& label, const std::vector<std::string>& items) {
    Paragraph section{.label = label, .entries = {}};
    for (const std::string& item : items) {
        section.entries.push_back({.lead = "", .text = printable(item)});
    }
    return section;
}

Paragraph next_section(const FitScreen& screen) {
    const std::string text = screen.saved.empty()
                                 ? "not saved; --save FILE.toml keeps it for --with"
                                 : fmt::format("saved; now: standfast check {} --with {}",
                                               screen.job_path, screen.saved);
    return {.label = "Next", .entries = {{.lead = "", .text = text}}};
}

}  // namespace

std::string before_and_after(const FitAdjusted& adjusted, UnitSystem units) {
    const FitUnknown& unknown = adjusted.unknown;
    if (unknown.quantity == FitQuantity::loss) {
        return fmt::format("loss factor {}, was {}", three_digits(adjusted.after()),
                           three_digits(unknown.before));
    }
    return fmt::format("{} sideways, was {}",
                       quantity_text(adjusted.after(), Quantity::stiffness, units),
                       quantity_text(unknown.before, Quantity::stiffness, units));
}

std::string observed_words(Observed what) {
    switch (what) {
        case Observed::moved:
            return "moved";
        case Observed::frequency:
            return "rings at";
        case Observed::damping:
            return "damping";
        case Observed::dynamic_stiffness:
            return "stiffness in that mode";
        case Observed::wall_top:
            return "stock left at the top";
        case Observed::wall_foot:
            return "stock left at the foot";
    }
    return {};
}

std::string observed_text(double value, Observed what, UnitSystem units) {
    switch (what) {
        case Observed::frequency:
            return fmt::format("{:.4g} Hz", value);
        case Observed::damping:
            return fmt::format("{:.2g} %", value * 100);
        case Observed::dynamic_stiffness:
            return quantity_text(value, Quantity::stiffness, units);
        default:
            break;
    }
    // An indicator reads finer than a wall is programmed.
    return units == UnitSystem::metric ? fmt::format("{:.4f} mm", value * 1e3)
                                       : fmt::format("{:.5f} in", value / 0.0254);
}

const std::vector<std::string>& measuring_cautions() {
    static const std::vector<std::string> sentences = {
        "Push and tap with the spindle stopped and the machine locked out; no hand near a cutter "
        "that can turn.",
        "Push by hand or with a scale, never with the axes; a soft hammer, and glasses.",
        "What moves and does not come back is not clamped: look before any cut.",
        "An estimate, not permission: makers' ratings, local codes and a qualified person come "
        "first.",
    };
    return sentences;
}

std::string fit_text(const Job& job, const FitResult& result,
                     const std::optional<FitWithout>& without, const FitScreen& screen) {
    std::string text = inked("standfast", Ink::faint, screen.page.color);
    text += job.title.empty() ? "\n"
                              : fmt::format("  {}\n", shortened(printable(job.title),
                                                                static_cast<std::size_t>(std::max(
                                                                    8, screen.page.width - 11))));
    std::string cautions;
    for (const std::string& sentence : measuring_cautions()) {
        cautions += (cautions.empty() ? "" : " ") + sentence;
    }
    std::vector<Paragraph> sections{measured_section(job, result, screen.units),
                                    joints_section(result, screen.units)};
    for (Paragraph section :
         {disagree_section(job, result, screen.units), list_section("Look at", result.warnings)}) {
        if (!section.entries.empty()) {
            sections.push_back(std::move(section));
        }
    }
    if (without) sections.push_back(without_section(job, *without, screen.units));
    sections.push_back(unseen_section(result));
    sections.push_back(next_section(screen));
    sections.push_back({.label = "Cautions", .entries = {{.lead = "", .text = cautions}}});
    return text + set_out(sections, screen.page);
}

}  // namespace standfast
