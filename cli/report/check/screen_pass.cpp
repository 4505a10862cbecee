#include "cli/report/check/screen_pass.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "cli/report/check/advice_text.hpp"
#include "cli/report/check/indicator_proof.hpp"
#include "cli/report/check/march_text.hpp"
#include "cli/report/check/odds_text.hpp"
#include "cli/report/check/reason_text.hpp"
#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostAdvice = 3;
constexpr std::size_t kMostBands = 3;
constexpr std::size_t kMostMembers = 5;

std::string upper(std::string_view words) {
    std::string text(words);
    std::transform(text.begin(), text.end(), text.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    return text;
}

Paragraph cut_section(const Job& job, const PassReport& report, UnitSystem units) {
    const Pass& pass = job.passes.at(report.pass);
    const std::string tool =
        fmt::format("{}: stickout {}, gauge length {}{}", printable(report.tool),
                    length_text(report.stickout, units), length_text(report.gauge_length, units),
                    report.worst_heading ? "; worst heading" : "");
    const std::string cut =
        fmt::format("{}, {}; {} deep, {} radial, {}", speed_text(report.judged_speed),
                    feed_text(feed_of(job, report, report.judged_speed), units),
                    length_text(report.judged_depth, units), length_text(pass.radial, units),
                    milling_words(pass.milling));
    return {.label = "Cut", .entries = {{.lead = "", .text = tool}, {.lead = "", .text = cut}}};
}

/// Flagged reasons in the verdict's order, then those that every pass is told; not what the
/// verdict above has said already, nor the wall and vibration of a cut that is not steady.
std::vector<Reason> reasons_to_show(const PassReport& pass) {
    std::vector<Reason> reasons = pass.verdict.reasons;
    for (const Reason reason :
         {Reason::chatter, Reason::surface_error, Reason::deflection, Reason::resonance,
          Reason::holding, Reason::reach, Reason::tool_stress}) {
        if (!is_flagged(pass, reason)) {
            reasons.push_back(reason);
        }
    }
    std::erase_if(reasons, [&](Reason reason) {
        return says_everything_of(pass, reason) ||
               (reason == Reason::reach && !pass.reach.judged && !is_flagged(pass, reason)) ||
               (reason == Reason::resonance && !pass.vibration_at_programmed) ||
               (reason == Reason::surface_error && !pass.error_at_programmed &&
                !is_flagged(pass, reason));
    });
    return reasons;
}

Paragraph why_section(const Job& job, const PassReport& pass, UnitSystem units) {
    Paragraph section{.label = "Why", .entries = {}};
    for (const Reason reason : reasons_to_show(pass)) {
        const bool flagged = is_flagged(pass, reason);
        section.entries.push_back(
            {.lead = fmt::format("{} {}", flagged ? ">" : " ", reason_name(reason)),
             .text = printable(reason_text(job, pass, reason, units)),
             .lead_ink = flagged ? Ink::strong : Ink::plain});
    }
    return section;
}

Paragraph advice_section(const Job& job, const PassReport& pass, UnitSystem units) {
    Paragraph section{.label = "Helps most", .entries = {}};
    const std::size_t count = std::min(kMostAdvice, pass.advice.size());
    for (std::size_t i = 0; i < count; ++i) {
        section.entries.push_back(
            {.lead = fmt::format("{}", i + 1),
             .text = printable(advice_text(job, pass, pass.advice[i], units))});
    }
    if (pass.nothing_reaches) {
        section.entries.push_back(
            {.lead = "",
             .text = "nothing that was tried, alone or two and three together, leaves nothing "
                     "flagged"});
    } else if (section.entries.empty() && pass.verdict.level != Level::unflagged) {
        section.entries.push_back({.lead = "", .text = "no single change that was tried helps"});
    }
    return section;
}

/// The deepest bands, in the order of their speeds.
std::vector<SpeedBand> deepest(std::vector<SpeedBand> bands) {
    const auto depth = [](const SpeedBand& band) { return band.limit.value_or(HUGE_VAL); };
    std::stable_sort(bands.begin(), bands.end(),
                     [&](const SpeedBand& a, const SpeedBand& b) { return depth(a) > depth(b); });
    bands.resize(std::min(bands.size(), kMostBands));
    std::sort(bands.begin(), bands.end(),
              [](const SpeedBand& a, const SpeedBand& b) { return a.from < b.from; });
    return bands;
}

/// The ranges next to the judged speed, in the order of their speeds.
std::vector<SpeedBand> nearest(std::vector<SpeedBand> ranges, SpindleSpeed speed) {
    const auto away = [&](const SpeedBand& range) {
        return std::max({0.0, range.from.radians_per_second - speed.radians_per_second,
                         speed.radians_per_second - range.to.radians_per_second});
    };
    std::stable_sort(ranges.begin(), ranges.end(),
                     [&](const SpeedBand& a, const SpeedBand& b) { return away(a) < away(b); });
    ranges.resize(std::min(ranges.size(), kMostBands));
    std::sort(ranges.begin(), ranges.end(),
              [](const SpeedBand& a, const SpeedBand& b) { return a.from < b.from; });
    return ranges;
}

std::string more(std::size_t all, std::size_t shown) {
    return all > shown ? fmt::format(" (and {} more: --json, --csv)", all - shown) : "";
}

void add_quiet_bands(Paragraph& section, const Job& job, const PassReport& pass, UnitSystem units) {
    const std::vector<SpeedBand> bands = deepest(pass.quiet_bands);
    for (const SpeedBand& band : bands) {
        std::string text = fmt::format(
            "{} to {} rpm, {} to {}", speed_number(band.from, Toward::up),
            speed_number(band.to, Toward::down), feed_number(feed_of(job, pass, band.from), units),
            feed_text(feed_of(job, pass, band.to), units));
        text += band.limit ? fmt::format("; edge of chatter {}", depth_text(*band.limit, units))
                           : "; no edge of chatter found";
        if (&band == &bands.front()) {
            text += fmt::format("; at {} deep", length_text(pass.judged_depth, units));
        }
        const bool last = &band == &bands.back();
        section.entries.push_back(
            {.lead = ".. quiet band",
             .text = text + (last ? more(pass.quiet_bands.size(), bands.size()) : ""),
             .lead_ink = Ink::unflagged});
    }
    if (bands.empty()) {
        section.entries.push_back(
            {.lead = ".. quiet band",
             .text = fmt::format("none at {} deep within the speeds you may run",
                                 length_text(pass.judged_depth, units))});
    }
}

void add_stay_off(Paragraph& section, const PassReport& pass, UnitSystem units) {
    const std::vector<SpeedBand> ranges = nearest(pass.stay_off, pass.judged_speed);
    std::string text;
    for (const SpeedBand& range : ranges) {
        text += fmt::format("{}{} to {} rpm ({})", text.empty() ? "" : "; ",
                            speed_number(range.from, Toward::down),
                            speed_number(range.to, Toward::up), reason_name(range.reason));
    }
    if (!text.empty()) {
        text += fmt::format("; at {} deep", length_text(pass.judged_depth, units));
        section.entries.push_back({.lead = "## stay off",
                                   .text = text + more(pass.stay_off.size(), ranges.size()),
                                   .lead_ink = Ink::avoid});
    }
}

/// What is then flagged. Neither speed nor depth decides of what keeps the best at its worst.
std::string best_level(const PassReport& pass) {
    return pass.best->level == Level::avoid
               ? std::string("once what stands in its way is mended")
               : std::string(level_words(pass.best->level, pass.holding.judged));
}

Paragraph speed_section(const Job& job, const PassReport& pass, UnitSystem units) {
    Paragraph section{.label = "Speeds", .entries = {}};
    if (pass.best) {
        section.entries.push_back(
            {.lead = "   best found",
             .text = fmt::format("{}, {}, {} deep: {}", speed_text(pass.best->speed),
                                 feed_text(feed_of(job, pass, pass.best->speed), units),
                                 depth_to_set(pass.best->depth, units), best_level(pass))});
    }
    add_quiet_bands(section, job, pass, units);
    add_stay_off(section, pass, units);
    return section;
}

std::string shares_in_words(std::vector<GiveShare> give) {
    std::stable_sort(give.begin(), give.end(), [](const GiveShare& a, const GiveShare& b) {
        return std::abs(a.share) > std::abs(b.share);
    });
    std::string text;
    double rest = 0;
    for (std::size_t i = 0; i < give.size(); ++i) {
        if (i >= kMostMembers || std::abs(give[i].share) < 0.005) {
            rest += give[i].share;
            continue;
        }
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", give[i].member,
                            percent_text(give[i].share));
    }
    return std::abs(rest) < 0.005 ? text : text + ", the rest " + percent_text(rest);
}

std::string first_ring(std::string_view side, const std::vector<ReportedMode>& modes) {
    if (modes.empty()) {
        return "";
    }
    const ReportedMode& mode = modes.front();
    std::string text = fmt::format("{} at {}", side, frequency_text(mode.frequency_hertz));
    if (!mode.strain_share.empty()) {
        text += fmt::format(" (mostly {}, {})", mode.strain_share.front().first,
                            percent_text(mode.strain_share.front().second));
    }
    return text;
}

Paragraph give_section(const PassReport& pass) {
    Paragraph section{.label = "Whose give", .entries = {}};
    const std::string shares = shares_in_words(pass.statics.give);
    if (!shares.empty()) {
        section.entries.push_back({.lead = "", .text = printable(shares)});
    }
    const std::string stack = first_ring("stack", pass.work_modes);
    const std::string tool = first_ring("tool", pass.tool_modes);
    if (!stack.empty() || !tool.empty()) {
        section.entries.push_back(
            {.lead = "",
             .text = printable(fmt::format("rings first: {}{}{}", stack,
                                           stack.empty() || tool.empty() ? "" : "; ", tool))});
    }
    return section;
}

Paragraph odds_section(const PassReport& pass, UnitSystem units) {
    Paragraph section{.label = "How sure", .entries = {}};
    for (const std::string& sentence : odds_sentences(pass, units)) {
        section.entries.push_back({.lead = "", .text = printable(sentence)});
    }
    return section;
}

Paragraph march_section(const PassReport& pass, UnitSystem units) {
    Paragraph section{.label = "In time", .entries = {}};
    for (const std::string& sentence : march_sentences(pass, units)) {
        section.entries.push_back({.lead = "", .text = sentence});
    }
    return section;
}

Paragraph proof_section(const PassReport& pass, UnitSystem units) {
    std::string text;
    for (const std::string& sentence : proof_sentences(pass, units)) {
        text += (text.empty() ? "" : " ") + sentence;
    }
    return {.label = "Prove it", .entries = {{.lead = "", .text = text}}};
}

}  // namespace

std::string headline(const PassReport& pass, int width, bool color) {
    const Level level = pass.verdict.level;
    const bool held = pass.holding.judged;
    const std::string mark =
        fmt::format("{} {}", level_hatch(level, held), upper(level_words(level, held)));
    const int room = std::max(8, width - static_cast<int>(columns(mark)) - 2);
    return inked(mark, level_ink(level, held), color) + "  " +
           inked(shortened(printable(pass.name), room), Ink::strong, color);
}

std::vector<Paragraph> pass_sections(const Job& job, const PassReport& pass, UnitSystem units) {
    std::vector<Paragraph> sections = {
        {.label = "",
         .entries = {{.lead = "", .text = printable(verdict_sentence(job, pass, units))}}},
        cut_section(job, pass, units),
        why_section(job, pass, units),
        advice_section(job, pass, units),
        odds_section(pass, units),
        march_section(pass, units),
        speed_section(job, pass, units),
        give_section(pass),
        proof_section(pass, units)};
    std::erase_if(sections, [](const Paragraph& section) { return section.entries.empty(); });
    return sections;
}

}  // namespace standfast
