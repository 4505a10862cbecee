#include "cli/report/explain/explain_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/report/check/advice_text.hpp"
#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

constexpr std::size_t kMostMembers = 3;
constexpr double kAnotherPitch = 0.15;
constexpr double kNearly = 1.3;  // of the edge of chatter
/// From which a cut that runs without chatter says something of the machine.
constexpr double kSureEnough = 0.9;
constexpr double kBarely = 1.25;  // a cure that gains less

std::string ordinal(int number) {
    const int tens = number % 100, ones = number % 10;
    const bool teens = tens >= 11 && tens <= 13;
    const char* const ending = teens || ones == 0 || ones > 3 ? "th"
                               : ones == 1                    ? "st"
                               : ones == 2                    ? "nd"
                                                              : "rd";
    return fmt::format("{}{}", number, ending);
}

int teeth_of(const Explained& explained) {
    return explained.job.tools[explained.job.passes[explained.pass].tool].cutter.teeth;
}

std::string line_words(const Explained& explained) {
    return explained.explanation.hertz ? line_text(*explained.explanation.hertz) : "no line";
}

/// The pitch that marks tell, where their axial spacing was measured too.
std::string pitch_words(const Explained& explained) {
    if (explained.marks->finding.by_axial) return ", at " + line_words(explained);
    return "; at which pitch they do not tell alone";
}

std::string chatter_words(const Explained& explained) {
    const std::string line = line_words(explained);
    if (explained.marks) {
        return fmt::format(
            "Marks that far apart come from a vibration that no multiple of the teeth explains{}: "
            "chatter, which feeds itself.",
            pitch_words(explained));
    }
    return fmt::format(
        "It sings at {}, which is no multiple of the spindle or its teeth: chatter, which feeds "
        "itself.",
        line);
}

std::string doubled_words(const Explained& explained) {
    const std::string line = line_words(explained);
    std::string text = fmt::format(
        "Every other tooth cuts alike: strong lines midway between the tooth-passing ones, the "
        "strongest at {}. That is chatter too (period doubling).",
        line);
    if (explained.marks) {
        text =
            "Marks two teeth apart: every other tooth cuts alike, which is "
            "chatter too (period doubling)" +
            pitch_words(explained) + ".";
    }
    if (teeth_of(explained) % 2 == 0) {
        text +=
            " Bad runout can look like it: put an indicator on the teeth first, or cut 5 % slower: "
            "runout stays.";
    }
    return text;
}

std::string doubt_words(const Explained& explained) {
    switch (explained.evidence.doubt) {
        case Doubt::doubled_or_runout:
            return fmt::format(
                "Strong lines midway between those of the teeth. With {} teeth, an even number, "
                "runout puts lines there as period doubling (a kind of chatter) does, and the "
                "sound alone cannot part them.",
                teeth_of(explained));
        case Doubt::lone_tone:
            return fmt::format(
                "A lone tone{} that no multiple of the spindle explains, without the companions a "
                "tooth passing away that chatter has.",
                explained.explanation.hertz
                    ? fmt::format(" at {}", line_text(*explained.explanation.hertz))
                    : "");
        case Doubt::noise:
            return "Noise covers what the cut itself sounds like, or too few lines are left to "
                   "tell the speed by.";
        case Doubt::none:
            break;
    }
    return "Something is there, but neither clearly chatter nor clearly forced: record nearer the "
           "cut without coolant, or change the speed by 5 % and listen whether the pitch stays.";
}

std::string unclear_words(const Explained& explained) {
    if (explained.marks && !explained.marks->finding.candidates.empty()) {
        return "Marks two teeth apart, with two teeth: runout and period doubling leave the same. "
               "Put an indicator on the teeth.";
    }
    if (explained.marks) {
        return "Marks closer together than two teeth, but no feed per tooth apart: measure over "
               "ten of them, and check the feed.";
    }
    if (explained.tone && explained.evidence.confidence < 0.3) {
        return "At that speed the tooth-passing lines lie so close together that a tone read off "
               "a phone fits one anywhere: record the cut and use --sound.";
    }
    if (explained.tone) {
        return fmt::format(
            "{} lies midway between tooth-passing lines, where runout and period doubling both "
            "may sing: put an indicator on the teeth.",
            line_text(explained.tone->hertz));
    }
    return doubt_words(explained);
}

std::string members_text(const ReportedMode& mode) {
    std::string text;
    for (std::size_t i = 0; i < std::min(kMostMembers, mode.strain_share.size()); ++i) {
        const auto& [member, share] = mode.strain_share[i];
        if (share < 0.03) break;
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", member, percent_text(share));
    }
    return text;
}

std::string gain_words(const Explained& explained, const Cure& cure) {
    if (cure.change.limit_ratio) {
        return fmt::format("edge of chatter {} times as deep",
                           three_digits(*cure.change.limit_ratio));
    }
    return explained.explanation.report.at_programmed.limit
               ? "the model finds no edge of chatter there"
               : "the model found no edge of chatter before, so it cannot say how much";
}

std::string pitch_text(const Cure& cure) {
    std::string text;
    for (const double angle : std::get<ToothPitch>(cure.change.set.front()).pitch) {
        text += fmt::format("{}{}", text.empty() ? "" : ", ",
                            trimmed(angle * 180 / std::numbers::pi, 1));
    }
    return text + " deg";
}

/// The line within two half-power widths of the mode that answers most.
bool stands_on_mode(const Explanation& explanation) {
    if (!explanation.hertz || explanation.modes.empty()) return false;
    const ReportedMode& mode = explanation.modes.front().mode;
    return std::abs(*explanation.hertz - mode.frequency_hertz) <
           2 * mode.damping_ratio * mode.frequency_hertz;
}

/// The model expects another mode to chatter first.
bool sings_elsewhere(const Explanation& explanation) {
    const std::optional<double>& expected = explanation.report.at_programmed.chatter_hertz;
    return expected && explanation.hertz &&
           std::abs(*expected / *explanation.hertz - 1) > kAnotherPitch;
}

/// What the model adds to an unclear finding: evidence, named as such, and nothing of the machine.
std::string open_words(const Explanation& explanation) {
    std::string text;
    switch (explanation.speaks) {
        case ModelEvidence::chatter:
            text = "That speaks for chatter, as far as the model goes.";
            break;
        case ModelEvidence::no_chatter:
            text = "That speaks against chatter, as far as the model goes.";
            break;
        case ModelEvidence::nothing:
            text = "That decides nothing.";
            break;
    }
    if (stands_on_mode(explanation)) {
        text += fmt::format(" The line stands on a mode at {}, which speaks for chatter.",
                            line_text(explanation.modes.front().mode.frequency_hertz));
    }
    return text;
}

std::string edge_words(const Explained& explained, UnitSystem units) {
    const PassReport& report = explained.explanation.report;
    const std::string speed = speed_text(report.judged_speed);
    if (!report.at_programmed.limit) {
        return fmt::format("By the model there is no edge of chatter at {} down to {}", speed,
                           depth_text(report.stability.searched_to, units));
    }
    std::string text =
        fmt::format("By the model the edge of chatter at {} is {} deep", speed,
                    depth_text_beside(*report.at_programmed.limit, report.judged_depth, units));
    if (explained.explanation.model_chatters) {
        text += fmt::format("; the pass takes {}", length_text(report.judged_depth, units));
    }
    if (report.at_programmed.chatter_hertz) {
        text +=
            fmt::format("; it would sing at {}", line_text(*report.at_programmed.chatter_hertz));
    }
    return text;
}

}  // namespace

std::string_view cause_name(SoundCause cause) {
    switch (cause) {
        case SoundCause::chatter:
            return "chatter";
        case SoundCause::period_doubling:
            return "period doubling";
        case SoundCause::forced:
            return "forced";
        case SoundCause::runout:
            return "runout";
        case SoundCause::quiet:
            return "quiet";
        case SoundCause::unclear:
            break;
    }
    return "unclear";
}

std::string_view source_name(LineSource source) {
    switch (source) {
        case LineSource::tooth_passing:
            return "tooth passing";
        case LineSource::spindle:
            return "spindle";
        case LineSource::chatter:
            return "chatter";
        case LineSource::hum:
            return "hum";
        case LineSource::unknown:
            break;
    }
    return "unknown";
}

std::string line_text(double hertz) { return trimmed(hertz, hertz < 30 ? 1 : 0) + " Hz"; }

std::string sureness_words(double confidence) {
    const std::string percent = percent_text(confidence);
    if (confidence >= 0.9) return fmt::format("sure ({})", percent);
    if (confidence >= 0.7) return fmt::format("fairly sure ({})", percent);
    if (confidence >= 0.5) return fmt::format("likely ({})", percent);
    return fmt::format("a guess ({})", percent);
}

std::string finding_sentence(const Explained& explained, UnitSystem) {
    switch (explained.evidence.cause) {
        case SoundCause::chatter:
            return chatter_words(explained);
        case SoundCause::period_doubling:
            return doubled_words(explained);
        case SoundCause::forced:
            return explained.marks
                       ? "Marks one feed per tooth apart: what every tooth leaves. No chatter."
                       : "Only multiples of the teeth: each tooth knocks as it enters. Forced "
                         "vibration, no chatter.";
        case SoundCause::runout:
            return explained.marks
                       ? "Marks one feed per revolution apart: one tooth cuts deeper than the "
                         "others. Runout, no chatter."
                       : "Multiples of the spindle beside those of the teeth: the teeth do not "
                         "cut alike. Runout, no chatter.";
        case SoundCause::quiet:
            return "No tooth is heard passing, and nothing else that a cut makes.";
        case SoundCause::unclear:
            break;
    }
    return unclear_words(explained);
}

std::string mode_text(const CauseMode& mode) {
    const std::string members = members_text(mode.mode);
    return fmt::format("{}, rings at {}: {} of the answer there{}",
                       mode.tool_side ? "tool" : "stack", line_text(mode.mode.frequency_hertz),
                       percent_text(mode.share), members.empty() ? "" : "; its strain: " + members);
}

std::string model_sentence(const Explained& explained, UnitSystem units) {
    const Explanation& explanation = explained.explanation;
    const std::string edge = edge_words(explained, units);
    const PassReport& report = explanation.report;
    if (explained.evidence.cause == SoundCause::unclear) {
        return edge + ". " + open_words(explanation);
    }
    if (explained.evidence.cause == SoundCause::runout) return edge + ".";
    if (!explanation.self_excited && stands_on_mode(explanation)) {
        return edge + fmt::format(
                          ". The line stands on a mode at {}: forced, but it rings along; "
                          "a few percent of speed either way would be quieter.",
                          line_text(explanation.modes.front().mode.frequency_hertz));
    }
    if (!explanation.self_excited) {
        const bool sure = explained.evidence.confidence >= kSureEnough;
        return edge + (sure && explanation.model_chatters.value_or(false)
                           ? ". It expected chatter: the machine is stiffer or better damped than "
                             "the job says."
                           : ".");
    }
    if (!explanation.model_chatters) return edge + ".";
    if (*explanation.model_chatters && sings_elsewhere(explanation)) {
        return edge +
               ". It expects chatter too, but at another pitch: the mode that sings is "
               "softer, or the model's weakest stiffer, than the job says.";
    }
    if (*explanation.model_chatters) return edge + ". It agrees.";
    const bool nearly =
        report.at_programmed.limit && report.judged_depth * kNearly > *report.at_programmed.limit;
    return edge + (nearly ? ". Near enough to agree, within what joints differ by."
                          : ". It did not expect chatter: something is softer than the job says. "
                            "Try the joints with an indicator.");
}

namespace {

std::string cure_sentence(const Explained& explained, const Cure& cure, UnitSystem units) {
    const PassReport& report = explained.explanation.report;
    if (cure.change.set.empty()) return "";
    const Edit& first = cure.change.set.front();
    const std::string gained = gain_words(explained, cure);
    switch (cure.kind) {
        case CureKind::advised:
            return advice_text(explained.job, report, cure.change, units);
        case CureKind::harmonic_speed: {
            const SpindleSpeed speed = std::get<PassSpeed>(first).speed;
            return fmt::format(
                "Run {} ({}), which puts the {} tooth-passing harmonic on the line: "
                "{}.",
                speed_text(speed), feed_text(feed_of(explained.job, report, speed), units),
                ordinal(cure.harmonic), gained);
        }
        case CureKind::unequal_pitch:
            return fmt::format("A cutter of unequal pitch ({}): {}.", pitch_text(cure), gained);
        case CureKind::other_feed:
            return fmt::format("Feed {} a tooth: {}.",
                               length_text(std::get<FeedPerTooth>(first).feed, units), gained);
        case CureKind::more_damping:
            break;
    }
    return fmt::format("Twice the damping in {} (a filled riser, a damped holder): {}.",
                       cure.member, gained);
}

}  // namespace

std::string cure_text(const Explained& explained, const Cure& cure, UnitSystem units) {
    const std::string sentence = cure_sentence(explained, cure, units);
    const bool barely = !sentence.empty() && cure.gain && *cure.gain < kBarely;
    return barely ? "Barely helps: " + sentence : sentence;
}

const std::vector<std::string>& rules_of_the_trade() {
    static const std::vector<std::string> rules = {
        "A pitch that stays when the speed changes is chatter; one that follows the speed is "
        "forced.",
        "A squeal is the tool, a growl the stand.",
    };
    return rules;
}

std::vector<std::string> explain_limits(const Explained& explained) {
    std::vector<std::string> limits;
    if (!explained.marks) {
        limits.push_back(
            "Air carries the part that radiates, which is not always the one that cuts.");
    }
    if (explained.marks && !explained.marks->finding.by_axial &&
        explained.explanation.self_excited) {
        limits.push_back("Which of the pitches it was: these marks do not tell.");
    }
    if (explained.recording && explained.recording->background) {
        limits.push_back(
            "The background counts as the same all along: record both from one place, at one "
            "gain.");
    }
    if (explained.recording && explained.recording->finding.clipped > 1e-3) {
        limits.push_back("The recording is clipped: hold the microphone farther off.");
    }
    if (explained.recording && !explained.recording->finding.speed.refined &&
        explained.evidence.cause != SoundCause::quiet) {
        limits.push_back(
            "Too few lines to tell the speed from: the display's is used, which may be 2 % off.");
    }
    return limits;
}

}  // namespace standfast
