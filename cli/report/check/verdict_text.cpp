#include "cli/report/check/verdict_text.hpp"

#include <fmt/format.h>

#include <cctype>
#include <string_view>

#include "cli/report/check/reason_text.hpp"
#include "cli/report/common/number.hpp"
#include "cli/report/common/words.hpp"

namespace standfast {
namespace {

std::string sentence(std::string clause) {
    if (!clause.empty()) {
        clause.front() =
            static_cast<char>(std::toupper(static_cast<unsigned char>(clause.front())));
        clause += ".";
    }
    return clause;
}

/// The reason's first words in the verdict.
std::string_view opening(Reason reason, Level level) {
    const bool avoid = level == Level::avoid;
    switch (reason) {
        case Reason::chatter:
            return avoid ? "Expect chatter" : "Close to chatter";
        case Reason::resonance:
            return avoid ? "The teeth ring it" : "The teeth come near ringing it";
        case Reason::deflection:
            return avoid ? "It pushes off too far" : "It pushes off far";
        case Reason::surface_error:
            return avoid ? "The wall comes out wrong" : "The wall comes close to its tolerance";
        case Reason::holding:
            return avoid ? "The hold is too weak" : "The hold is not beyond doubt";
        case Reason::reach:
            return avoid ? "The tool does not reach" : "Tool or holder passes close by";
        case Reason::tool_stress:
            return avoid ? "The cutter may break" : "The cutter is bent hard";
        case Reason::whirl:
            return avoid ? "The tool may whirl" : "The tool turns close to whirling";
        case Reason::overspeed:
            return "Too fast";
        case Reason::cutting_speed:
            return "The cutting speed does not suit the material";
        case Reason::power:
            return avoid ? "The spindle stalls" : "The spindle works near its limit";
        case Reason::weight:
            break;
    }
    return avoid ? "Too heavy for the machine" : "Heavy for the machine";
}

std::string told_sentence(const Job& job, const PassReport& report, UnitSystem units) {
    const Pass& pass = job.passes.at(report.pass);
    if (pass.speed && pass.axial) {
        return "";
    }
    const std::string_view what = !pass.speed && !pass.axial ? "speed and depth"
                                  : !pass.speed              ? "speed"
                                                             : "depth";
    return fmt::format("You asked for the {}: {}, {} deep. ", what, speed_text(report.judged_speed),
                       depth_to_set(report.judged_depth, units));
}

std::string clear_sentence(const Job& job, const PassReport& report, UnitSystem units) {
    const std::string found = fmt::format(
        "{}; {}.", reason_text(job, report, Reason::chatter, units),
        report.wall ? "nine in ten tries: " + wall_of_tries_text(*report.wall, units) + " or less"
        : report.error_at_programmed ? wall_text(*report.error_at_programmed, units)
                                     : std::string("the wall error was not computed"));
    if (report.holding.judged) {
        return "Nothing flagged: " + found;
    }
    return fmt::format(
        "Nothing against it in what was judged, but the hold was not ({}): make sure of it "
        "yourself. {}",
        report.holding.why_not.empty() ? "no clamp force given" : report.holding.why_not,
        sentence(found.substr(0, found.size() - 1)));
}

/// The reason stands for the want of an answer, not for a bad one.
bool hold_is_open(const PassReport& pass, Reason reason) {
    return reason == Reason::holding && !pass.holding.judged && pass.holding.joint.empty();
}

bool only_the_hold_is_open(const PassReport& pass) {
    return pass.verdict.level == Level::marginal && pass.verdict.reasons.size() == 1 &&
           hold_is_open(pass, pass.verdict.reasons.front());
}

/// Few tries chatter with a used edge, but a fresh one would.
bool rests_on_rubbing(const Job& job, const PassReport& pass) {
    return pass.verdict.level == Level::marginal && pass.odds && pass.odds->fresh_edge &&
           pass.odds->at_judged < job.limits.chatter_probability_marginal;
}

}  // namespace

std::string elsewhere_sentence(const Job& job) {
    if (job.measured_elsewhere.empty()) {
        return "";
    }
    return fmt::format("With joints measured on something else ({}): ",
                       fmt::join(job.measured_elsewhere, "; "));
}

std::string verdict_sentence(const Job& job, const PassReport& pass, UnitSystem units) {
    const std::string told = elsewhere_sentence(job) + told_sentence(job, pass, units);
    const bool clear = pass.verdict.level == Level::unflagged || pass.verdict.reasons.empty();
    if (clear || only_the_hold_is_open(pass)) {
        return told + clear_sentence(job, pass, units);
    }
    const Reason first = pass.verdict.reasons.front();
    const std::string_view words = first == Reason::chatter && rests_on_rubbing(job, pass)
                                       ? "Quiet only because a used edge rubs"
                                       : opening(first, pass.verdict.level);
    return fmt::format("{}{}: {}.", told, words, reason_text(job, pass, first, units));
}

std::string verdict_text(const Job& job, const PassReport& pass, UnitSystem units) {
    std::string text = verdict_sentence(job, pass, units);
    const std::vector<Reason>& reasons = pass.verdict.reasons;
    for (std::size_t i = 1; i < reasons.size(); ++i) {
        text += fmt::format("{} {}{}", i == 1 ? " Also:" : ",", reason_name(reasons[i]),
                            hold_is_open(pass, reasons[i]) ? " (not judged)" : "");
    }
    return reasons.size() > 1 ? text + "." : text;
}

bool says_everything_of(const PassReport& pass, Reason reason) {
    if (pass.verdict.level == Level::unflagged || pass.verdict.reasons.empty() ||
        only_the_hold_is_open(pass)) {
        return reason == Reason::chatter ||
               (reason == Reason::holding && only_the_hold_is_open(pass));
    }
    return pass.verdict.reasons.front() == reason;
}

}  // namespace standfast
