#include "cli/job/keys/job_keys.hpp"

namespace standfast {
namespace {

std::vector<Key> cutter_keys() {
    return {{"diameter", form::length(), "", true},
            {"teeth", form::whole(1, 100), "", true},
            {"helix", form::angle(), ""},
            {"corner", form::length(), "radius; half the diameter is a ball"},
            {"flute", form::length(), "the length that cuts"},
            {"shank", form::length(), "its diameter"},
            {"overall", form::length(), "its whole length"},
            {"stickout", form::length(), "holder face to tip"},
            {"gauge_length", form::length(), "spindle gauge line to tip, instead of stickout"},
            {"runout", form::length(), "as an indicator reads it"},
            {"flute_factor", form::number(0.3, 1),
             "diameter that bends over diameter that cuts, along the flutes"},
            {"material", form::name(Form::Names::materials), ""},
            {"hand", form::word({"right", "left"}), "of the helix"},
            {"neck", form::list(form::length(), 2, 2), "diameter and length above the flutes"},
            {"pitch", form::list(form::angle(), 1, 100), "from each tooth to the next"},
            {"segments", form::tables("tool.cutter.segments"),
             "spelled out from the holder face to the tip"}};
}

}  // namespace

std::vector<TableKeys> tool_tables() {
    return {{"tool",
             "[[tool]]",
             "Holder and cutter",
             {{"name", form::text(), ""},
              {"holder", form::tables("tool.holder"), "steps from the gauge line down"},
              {"taper", form::either({form::name(Form::Names::tapers), form::table("tool.taper")}),
               "what sits in the spindle"},
              {"grip", form::either({form::name(Form::Names::grips), form::table("tool.grip")}),
               "what holds the shank"},
              {"cutter", form::table("tool.cutter"), "", true},
              {"speed_max", form::quantity({Quantity::rotational_speed}),
               "the fastest that holder and cutter may turn"},
              {"modes", form::tables("mode"), "tapped at the tip, instead of a model"},
              {"rigid", form::truth(), ""}}},
            {"tool.holder",
             "[[tool.holder]]",
             "One step of a holder",
             {{"round", form::length(), "diameter", true},
              {"to", form::length(), "diameter at its lower end, where it tapers"},
              {"length", form::length(), "", true},
              {"material", form::name(Form::Names::materials), "steel unless said"},
              {"mass", form::quantity({Quantity::mass}), "of a nut at its lower end"},
              {"inertia", form::quantity({Quantity::inertia}), "of that nut, about a diameter"}}},
            {"tool.taper", "", "What sits in the spindle",
             joined({{"kind", form::name(Form::Names::tapers), ""}}, spring_keys(true))},
            {"tool.grip", "", "What holds the shank",
             joined(joined({{"kind", form::name(Form::Names::grips), ""}}, spring_keys(true)),
                    {{"length", form::length(), "of shank that is held"},
                     {"least", form::length(), "of shank that must be held"}})},
            {"tool.cutter", "", "What cuts", cutter_keys()},
            {"tool.cutter.segments",
             "",
             "One piece of a cutter",
             {{"round", form::length(), "diameter", true},
              {"length", form::length(), "", true},
              {"material", form::name(Form::Names::materials), ""}}}};
}

}  // namespace standfast
