#include "cli/job/keys/job_keys.hpp"

namespace standfast {
namespace {

/// One or more of them.
Form repeated(const Form& one) { return form::either({one, form::list(one, 1, 100)}); }

std::vector<Key> head_keys(std::string_view kind) {
    return {{"kind", form::word({kind}), "", true},
            {"name", form::text(), ""},
            {"good_to", form::fraction(0.001, 2), "how well the reading is known"}};
}

std::vector<Key> place_keys() {
    return {{"where", form::name(), "stack, or the name of a tool", true},
            {"tier", form::name(), "the tier from whose foot `at` counts"},
            {"at", form::place(), ""}};
}

std::vector<Key> push_keys() {
    return {{"scale", form::text(), "which scale, where there was more than one"},
            {"direction", form::direction(), "of the push", true},
            {"force", form::quantity({Quantity::force}), "", true},
            {"moved", repeated(form::length()), "the indicator's reading, or repeats", true},
            {"returned", repeated(form::length()), "its reading after the push"},
            {"division", form::length(), "of the indicator"},
            {"read_at", form::place(), "where it was read, if elsewhere"},
            {"read_tier", form::name(), ""},
            {"read_direction", form::direction(), ""},
            {"against", form::word({"table", "spindle", "floor"}),
             "where the indicator's base stands", true}};
}

std::vector<Key> tap_keys() {
    return {{"direction", form::direction(), "of the tap"},
            {"sound", form::text(), "a recording of several knocks"},
            {"frequencies", form::list(form::quantity({Quantity::frequency}), 1, 100), ""},
            {"damping",
             form::either({form::fraction(0, 0.99, true),
                           form::list(form::fraction(0, 0.99, true), 0, 100)}),
             "damping ratio of each"}};
}

std::vector<Key> receptance_keys() {
    return {{"direction", form::direction(), "", true},
            {"file", form::text(), "a universal file (dataset 58) or CSV", true},
            {"column", form::text(), "which of several"},
            {"use", form::word({"adjust", "replace"}), ""},
            {"stickout", form::length(), "with replace: of the tool that was measured"}};
}

}  // namespace

std::vector<TableKeys> measured_tables() {
    return {
        {"measured.push", "[[measured]]", "A push with an indicator",
         joined(head_keys("push"), joined(place_keys(), push_keys()))},
        {"measured.tap",
         "[[measured]]",
         "A tap with a hammer",
         joined(head_keys("tap"), joined(place_keys(), tap_keys())),
         {{"frequencies"}, {"sound"}}},
        {"measured.receptance", "[[measured]]", "A receptance from a file",
         joined(head_keys("receptance"), joined(place_keys(), receptance_keys()))},
        {"measured.wall", "[[measured]]", "A wall as it came out",
         joined(head_keys("wall"), {{"pass", form::name(), "the pass that cut it", true},
                                    {"top", form::length(), "stock found at its top", true},
                                    {"foot", form::length(), "stock found at its foot", true}})}};
}

}  // namespace standfast
