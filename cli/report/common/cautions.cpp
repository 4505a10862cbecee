#include "cli/report/common/cautions.hpp"

#include <string_view>

namespace standfast {

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> sentences = {
        "An estimate, not permission: prove a set-up with a light cut, guards shut.",
        "Holding: a part can leave its dovetail or vice without warning; check clamp force and "
        "screws against the maker's figures.",
        "Breakage: a long cutter that chatters can shatter; cover your eyes, stay out of its line.",
        "Overspeed: never above the speed marked on cutter, holder or spindle.",
        "Makers' ratings, local codes and a qualified person come before this page.",
    };
    return sentences;
}

namespace {

std::string_view what_can_hurt(const Verdict& verdict) {
    for (const Reason reason : verdict.reasons) {
        switch (reason) {
            case Reason::holding:
            case Reason::weight:
                return "A part can leave its dovetail or vice without warning: check clamp force "
                       "and screws.";
            case Reason::overspeed:
            case Reason::cutting_speed:
            case Reason::whirl:
                return "A tool or holder turned too fast bursts: never above the speed marked on "
                       "cutter, holder or spindle.";
            default:
                break;
        }
    }
    if (verdict.level == Level::unflagged) return "Prove it with a light cut first, guards shut.";
    return "A long cutter that chatters or is pushed hard can shatter: guards shut, eyes covered, "
           "a light cut first.";
}

}  // namespace

std::string caution_about(const Verdict& verdict) {
    return "An estimate, not permission. " + std::string(what_can_hurt(verdict)) +
           " Makers' ratings, local codes and a qualified person come first.";
}

const std::string& short_caution() {
    static const std::string sentence =
        "An estimate, not permission: check holding, cutter and speed against the makers' ratings; "
        "local codes and a qualified person decide.";
    return sentence;
}

}  // namespace standfast
