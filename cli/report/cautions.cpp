#include "cli/report/cautions.hpp"

namespace standfast {

const std::vector<std::string>& cautions() {
    static const std::vector<std::string> sentences = {
        "An estimate, not permission: joints and spindles of one kind differ by a factor of two. "
        "Prove a set-up with a light cut, guards shut.",
        "Holding: a part can leave its dovetail or vice without warning. Check clamp force, screws "
        "and jaws against the maker's figures.",
        "Breakage: a long cutter that chatters or is pushed hard can shatter. Guards shut, eyes "
        "covered, nobody in line with the cutter.",
        "Overspeed: never above the speed marked on cutter, holder or spindle, whatever is printed "
        "here.",
        "Makers' ratings, local codes and a qualified person on the spot come before this page.",
    };
    return sentences;
}

const std::string& short_caution() {
    static const std::string sentence =
        "An estimate, not permission: check holding, cutter and speed against the makers' ratings; "
        "local codes and a qualified person decide.";
    return sentence;
}

}  // namespace standfast
