#include "cli/report/cautions.hpp"

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

const std::string& short_caution() {
    static const std::string sentence =
        "An estimate, not permission: check holding, cutter and speed against the makers' ratings; "
        "local codes and a qualified person decide.";
    return sentence;
}

}  // namespace standfast
