#include "cli/report/explain/explain_allows.hpp"

#include <fmt/format.h>

#include "cli/report/explain/explain_words.hpp"

namespace standfast {
namespace {

constexpr const char* kByHand = "Spindle locked out, turned by hand:";

/// A finding, and why where it is unclear; what comes of it.
struct Row {
    std::vector<std::string> allows;
    std::string test;
};

Row forced_row() {
    return {{"a dull or chipped edge", "chips cut again", "a step where two levels meet",
             "a wall or cutter that bends away"},
            "Run the same pass once more without moving in. What goes was chips or bending; a line "
            "that stays at one height is a step between levels; what stays all over is an edge: "
            "look at it through a lens."};
}

Row runout_row() {
    return {{"runout of the grip or holder", "one chipped or worn edge"},
            std::string(kByHand) +
                " touch each edge with an indicator. Turn the cutter half a turn in its grip and "
                "touch again: a high edge that stays at the same place of the grip is runout, one "
                "that goes along with the cutter is the edge."};
}

Row halves_row() {
    return {{"runout or one bad edge", "chatter with every other tooth alike (period doubling)"},
            "Cut again 5 % slower, and once at a third of the depth, feed a tooth the same. Runout "
            "keeps its marks both times; period doubling goes. An indicator on the edges, spindle "
            "locked out, tells it too."};
}

Row tone_row() {
    return {{"chatter whose other lines are drowned", "a pump, a fan or an inverter"},
            "Let everything run but the feed, tool out of the cut, and record that. A tone that is "
            "still there is not the cut's: give the file as --background."};
}

Row noise_row() {
    return {{"chatter too wild or too faint to have lines", "coolant or another machine"},
            "Record ten seconds of the cut with the coolant off where the job stands that, and ten "
            "without the cut (--background)."};
}

Row quiet_row() {
    return {{"a stretch without a cut", "a cut that noise covers"},
            "Record again, nearer, ten seconds from the middle of the cut; choose the stretch by "
            "--from and --to."};
}

Row row_of(const Explained& explained) {
    switch (explained.evidence.cause) {
        case SoundCause::forced:
            return forced_row();
        case SoundCause::runout:
            return runout_row();
        case SoundCause::quiet:
            return quiet_row();
        case SoundCause::chatter:
        case SoundCause::period_doubling:
            return {};
        case SoundCause::unclear:
            break;
    }
    switch (explained.evidence.doubt) {
        case Doubt::doubled_or_runout:
            return halves_row();
        case Doubt::lone_tone:
            return tone_row();
        case Doubt::noise:
            return noise_row();
        case Doubt::none:
            break;
    }
    return {};
}

}  // namespace

std::vector<std::string> what_it_allows(const Explained& explained) {
    return row_of(explained).allows;
}

std::string five_minute_test(const Explained& explained) { return row_of(explained).test; }

}  // namespace standfast
