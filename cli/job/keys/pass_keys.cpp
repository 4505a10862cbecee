#include "cli/job/keys/job_keys.hpp"

namespace standfast {
namespace {

std::vector<Key> pass_keys() {
    const Form speed = form::quantity({Quantity::rotational_speed, Quantity::surface_speed});
    return {{"name", form::text(), ""},
            {"tool", form::name(), "by name, where there are several"},
            {"tier", form::name(), "the tier that is cut; the last unless said"},
            {"at", form::place(), "tool tip on the finished wall, from the tier's foot"},
            {"to", form::place(), "end of the path"},
            {"points", form::list(form::place(), 1, 1000), "the whole path, instead of at and to"},
            {"wall", form::direction(), "the finished wall faces this way"},
            {"feed_heading", form::angle(), "direction of the feed, instead of wall"},
            {"tilt", form::angle(), "of the spindle against the stack"},
            {"turn", form::angle(), "heading toward which the spindle leans"},
            {"cutting", form::name(Form::Names::cutting),
             "cutting data; of the tier's material unless said"},
            {"milling", form::word({"down", "climb", "up", "conventional", "slot"}), ""},
            {"radial", form::quantity({Quantity::length, Quantity::percent}),
             "width taken off sideways"},
            {"axial", form::length(), "depth along the tool; left out: told"},
            {"feed", form::quantity({Quantity::length, Quantity::feed_speed}),
             "per tooth, or a feed speed", true},
            {"speed", speed, "of the spindle; left out: told"},
            {"speeds", form::list(speed, 2, 2), "speeds that you are willing to run"},
            {"tolerance", form::length(), "total, of the wall"},
            {"leave", form::length(), "what it is to leave for the next pass"},
            {"state", form::table("pass.state"), "section and height of the tier at that moment"},
            {"corner_radius", form::length(), "of the pocket corner that it runs into"},
            {"length", form::length(), "of its whole path, for a trade; in every pass or none"},
            {"share", form::fraction(0, 1, true), "of all that is cut, instead of length"}};
}

}  // namespace

std::vector<TableKeys> pass_tables() {
    return {{"pass", "[[pass]]", "One cut: tool, place, engagement", pass_keys()},
            {"pass.state", "[pass.state]", "Section and height of the cut tier at that moment",
             joined(section_keys(), {{"height", form::length(), ""}})}};
}

}  // namespace standfast
