#include "cli/report/explain/explain_screen.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

#include "cli/report/check/verdict_text.hpp"
#include "cli/report/common/cautions.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"
#include "cli/report/explain/explain_allows.hpp"
#include "cli/report/explain/explain_words.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostLines = 4, kMostModes = 3, kMostCures = 6, kMostCandidates = 4;

Level level_of(SoundCause cause) {
    switch (cause) {
        case SoundCause::chatter:
        case SoundCause::period_doubling:
            return Level::avoid;
        case SoundCause::forced:
        case SoundCause::quiet:
            return Level::unflagged;
        case SoundCause::runout:
        case SoundCause::unclear:
            break;
    }
    return Level::marginal;
}

/// Marks that several pitches leave: whose they are cannot be said yet.
bool pitch_open(const Explained& explained) {
    return explained.marks && !explained.marks->finding.by_axial &&
           explained.explanation.candidates.size() > 1;
}

std::string headline_of(const Explained& explained, const ScreenOptions& options) {
    std::string words(cause_name(explained.evidence.cause));
    std::transform(words.begin(), words.end(), words.begin(),
                   [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    const Level level = level_of(explained.evidence.cause);
    const std::string mark = fmt::format(
        "{} {}, {}", level_hatch(level, true), words,
        pitch_open(explained) ? "pitch not told" : sureness_words(explained.evidence.confidence));
    const int room = std::max(8, options.page.width - static_cast<int>(columns(mark)) - 2);
    const std::string name = shortened(printable(explained.job.passes[explained.pass].name),
                                       static_cast<std::size_t>(room));
    return inked(mark, level_ink(level, true), options.page.color) + "  " +
           inked(name, Ink::strong, options.page.color) + "\n";
}

/// Lines of one spectrum in words, the loudest first.
std::string loudest(const SoundFinding& finding) {
    std::vector<HeardLine> lines = finding.lines;
    std::stable_sort(lines.begin(), lines.end(), [](const HeardLine& a, const HeardLine& b) {
        return a.line.power > b.line.power;
    });
    std::string text;
    for (std::size_t i = 0; i < std::min(kMostLines, lines.size()); ++i) {
        const HeardLine& heard = lines[i];
        const double down = 10 * std::log10(lines.front().line.power / heard.line.power);
        std::string order;
        if (heard.order && heard.source != LineSource::chatter) {
            order = fmt::format(" {} x", trimmed(*heard.order, 0));
        }
        text += fmt::format("{}{}{} {}", text.empty() ? "" : "; ", line_text(heard.line.frequency),
                            order, source_name(heard.source));
        if (i > 0) text += fmt::format(" ({} dB down)", trimmed(down, 0));
    }
    return text;
}

std::string speed_words(const Explained& explained) {
    const Evidence& evidence = explained.evidence;
    const int teeth = explained.job.tools[explained.job.passes[explained.pass].tool].cutter.teeth;
    std::string text;
    if (!evidence.refined) {
        text = fmt::format("display {}", speed_text(evidence.shown));
    } else {
        const double off = evidence.shown.rpm() / evidence.refined->rpm() - 1;
        text =
            fmt::format("by its sound the spindle turned {}{}", speed_text(*evidence.refined),
                        std::abs(off) < 5e-4
                            ? ", as the display says"
                            : fmt::format(" (display {}: {} {})", speed_text(evidence.shown),
                                          percent_text(std::abs(off)), off > 0 ? "high" : "low"));
    }
    return text +
           fmt::format("; teeth pass at {}", line_text(tooth_passing_hertz(evidence.ran(), teeth)));
}

Paragraph heard_section(const Explained& explained) {
    const HeardRecording& heard = *explained.recording;
    const Recording& recording = heard.file.recording;
    Paragraph section{.label = "Heard", .entries = {}};
    section.entries.push_back(
        {.lead = "",
         .text = printable(fmt::format("{}: {} s at {} kHz, {}", heard.path,
                                       three_digits(recording.seconds()),
                                       three_digits(recording.rate / 1000),
                                       recording.channels.size() == 1 ? "mono" : "stereo"))});
    section.entries.push_back({.lead = "", .text = speed_words(explained)});
    if (heard.background) {
        section.entries.push_back({.lead = "",
                                   .text = printable(fmt::format(
                                       "without {}, which holds {} of the lines too",
                                       *heard.background, heard.finding.background_tones.size()))});
    }
    const std::string lines = loudest(heard.finding);
    if (!lines.empty()) section.entries.push_back({.lead = "", .text = "loudest: " + lines});
    return section;
}

Paragraph tone_section(const Explained& explained) {
    const HeardTone& tone = *explained.tone;
    return {
        .label = "Heard",
        .entries = {{.lead = "",
                     .text = fmt::format("{}, {} from {} x tooth passing; {} would still "
                                         "count as the same",
                                         line_text(tone.hertz), line_text(tone.finding.away_hertz),
                                         trimmed(tone.finding.nearest_order, 0),
                                         line_text(tone.finding.guard_hertz))},
                    {.lead = "", .text = speed_words(explained)}}};
}

/// Marks that leave the pitch open, with what each candidate would leave along the axis.
void add_candidates(Paragraph& section, const Explained& explained, UnitSystem units) {
    const MarkedCut& cut = explained.marks->cut;
    const auto& candidates = explained.explanation.candidates;
    section.entries.push_back(
        {.lead = "",
         .text = cut.helix == 0
                     ? "the edges are straight, so the marks along the axis tell no pitch: record "
                       "the cut (--sound) or read the tone off a phone (--heard)"
                     : "measure the spacing of the slanted marks along the tool axis too and run "
                       "again with --marks-axial; by the model the likeliest first:"});
    for (std::size_t i = 0; i < std::min(kMostCandidates, candidates.size()); ++i) {
        const std::optional<double> axial = axial_mark_pitch(candidates[i].hertz, cut);
        std::string text = line_text(candidates[i].hertz);
        if (axial) {
            text += fmt::format(": {} apart along the axis", length_text(*axial, units));
        }
        section.entries.push_back({.lead = fmt::format("{}", i + 1), .text = text});
    }
    if (candidates.size() > kMostCandidates) {
        section.entries.push_back(
            {.lead = "",
             .text = fmt::format("and {} more: --json", candidates.size() - kMostCandidates)});
    }
}

Paragraph marks_section(const Explained& explained, UnitSystem units) {
    const SeenMarks& marks = *explained.marks;
    Paragraph section{.label = "Seen", .entries = {}};
    std::string text =
        fmt::format("marks {} apart along the feed, {} a tooth",
                    quantity_text(marks.spacing, Quantity::length, units),
                    quantity_text(marks.cut.feed_per_tooth, Quantity::length, units));
    if (marks.axial) {
        text += fmt::format("; {} apart along the tool axis",
                            quantity_text(*marks.axial, Quantity::length, units));
    }
    section.entries.push_back({.lead = "", .text = text});
    section.entries.push_back({.lead = "", .text = speed_words(explained)});
    const auto& candidates = explained.explanation.candidates;
    std::string list;
    for (std::size_t i = 0; i < std::min(kMostCandidates, candidates.size()); ++i) {
        list += fmt::format("{}{}", list.empty() ? "" : ", ", line_text(candidates[i].hertz));
    }
    if (candidates.size() > 1 && !marks.finding.by_axial) {
        add_candidates(section, explained, units);
    } else if (candidates.size() > 1) {
        section.entries.push_back(
            {.lead = "",
             .text = fmt::format(
                 "could be, the likeliest first: {}{}", list,
                 candidates.size() > kMostCandidates
                     ? fmt::format(" (and {} more: --json)", candidates.size() - kMostCandidates)
                     : "")});
    }
    return section;
}

Paragraph model_section(const Explained& explained, UnitSystem units) {
    const Explanation& explanation = explained.explanation;
    Paragraph section{.label = "Whose", .entries = {}};
    for (std::size_t i = 0; i < std::min(kMostModes, explanation.modes.size()); ++i) {
        section.entries.push_back(
            {.lead = fmt::format("{}", i + 1), .text = printable(mode_text(explanation.modes[i]))});
    }
    section.entries.push_back({.lead = "", .text = model_sentence(explained, units)});
    return section;
}

Paragraph cure_section(const Explained& explained, UnitSystem units) {
    Paragraph section{.label = "Cures", .entries = {}};
    const auto& cures = explained.explanation.cures;
    for (std::size_t i = 0; i < std::min(kMostCures, cures.size()); ++i) {
        section.entries.push_back({.lead = fmt::format("{}", i + 1),
                                   .text = printable(cure_text(explained, cures[i], units))});
    }
    if (explained.evidence.cause == SoundCause::runout) {
        section.entries.insert(
            section.entries.begin(),
            {.lead = "",
             .text = "Clean grip and shank, put an indicator on the teeth, turn the "
                     "cutter in its grip to the least reading."});
    }
    if (section.entries.empty() && explained.explanation.self_excited) {
        section.entries.push_back({.lead = "", .text = "no single change that was tried helps"});
    }
    return section;
}

Paragraph sentences(const std::string& label, const std::vector<std::string>& list) {
    std::string text;
    for (const std::string& sentence : list) text += (text.empty() ? "" : " ") + sentence;
    Paragraph section{.label = label, .entries = {}};
    if (!text.empty()) section.entries.push_back({.lead = "", .text = text});
    return section;
}

std::string listed(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : "; ") + word;
    return text;
}

Paragraph evidence_section(const Explained& explained, UnitSystem units) {
    if (explained.recording) return heard_section(explained);
    if (explained.tone) return tone_section(explained);
    return marks_section(explained, units);
}

}  // namespace

std::string explain_screen(const Explained& explained, const ScreenOptions& options) {
    std::string text = inked("standfast", Ink::faint, options.page.color) + "  " +
                       shortened(printable(explained.title),
                                 static_cast<std::size_t>(std::max(8, options.page.width - 11))) +
                       "\n" + headline_of(explained, options);
    std::vector<Paragraph> sections{
        {.label = "",
         .entries = {{.lead = "",
                      .text = printable(elsewhere_sentence(explained.job)) +
                              finding_sentence(explained, options.units)}}},
        evidence_section(explained, options.units)};
    const std::string allowed = listed(what_it_allows(explained));
    if (!allowed.empty()) {
        sections.push_back({.label = "Allows", .entries = {{.lead = "", .text = allowed}}});
        sections.push_back(
            {.label = "Test", .entries = {{.lead = "", .text = five_minute_test(explained)}}});
    }
    if (explained.evidence.cause != SoundCause::quiet && !pitch_open(explained)) {
        sections.push_back(model_section(explained, options.units));
        sections.push_back(cure_section(explained, options.units));
    }
    std::vector<std::string> rules = rules_of_the_trade();
    rules.emplace_back("(Common practice.)");
    sections.push_back(sentences("By ear", rules));
    sections.push_back(sentences("Not known", explain_limits(explained)));
    sections.push_back({.label = "Cautions",
                        .entries = {{.lead = "", .text = caution_about({Level::marginal, {}})}}});
    std::erase_if(sections, [](const Paragraph& section) { return section.entries.empty(); });
    return text + set_out(sections, options.page);
}

std::string explain_quiet_text(const Explained& explained, const ScreenOptions& options) {
    return headline_of(explained, options) +
           set_out({Paragraph{.label = "", .entries = {{.lead = "", .text = short_caution()}}}},
                   Page{.width = options.page.width, .gutter = 0, .color = options.page.color});
}

}  // namespace standfast
