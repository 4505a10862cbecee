#include "cli/job/keys/job_keys.hpp"

namespace standfast {

std::vector<TableKeys> machine_tables() {
    return {{"machine",
             "[machine]",
             "The machine",
             {{"kind", form::name(Form::Names::machines), "how it is built"},
              {"taper", form::name(Form::Names::tapers), "the spindle's taper"},
              {"speed", form::list(form::quantity({Quantity::rotational_speed}), 2, 2),
               "slowest and fastest spindle speed"},
              {"tilt_max", form::angle(), "how far it tilts"},
              {"carry_max", form::quantity({Quantity::mass}), "what the table may carry"},
              {"tilt_moment_max", form::quantity({Quantity::torque}),
               "what moment the tilting axis may hold"},
              {"rotary", form::word({"clamped", "moving"}), "rotary axes while it cuts"},
              {"table", form::either({form::word({"rigid"}), form::table("machine.table")}),
               "stiffness of the table side"},
              {"spindle", form::either({form::word({"rigid"}), form::table("machine.spindle")}),
               "stiffness of the spindle side, at the gauge line"},
              {"power", form::quantity({Quantity::power}), "of the spindle"},
              {"torque", form::quantity({Quantity::torque}), "of the spindle"},
              {"table_turns", form::truth(), "does the table turn about its axis"},
              {"nose_to_table", form::list(form::length(), 2, 2),
               "from gauge line to table at tilt 0, least and most"},
              {"tilt_axis_above_table", form::length(), "at tilt 0"},
              {"swing_diameter", form::length(), "largest stack that may turn"},
              {"tool_change_height", form::length(), "gauge line to table at a tool change"}}},
            {"machine.table", "", "The table side as springs under the stack",
             joined(spring_keys(false),
                    {{"mass", form::quantity({Quantity::mass}), "that moves with it"},
                     {"diameter", form::length(), "of a round face"},
                     {"block", form::list(form::length(), 2, 2), "x, y of a rectangular face"}})},
            {"machine.spindle", "", "The spindle side as springs at the gauge line",
             joined(spring_keys(true),
                    {{"mass", form::quantity({Quantity::mass}), "that moves with it"},
                     {"inertia", form::quantity({Quantity::inertia}), "about a diameter"},
                     {"centre", form::length(), "of that mass, behind the gauge line"},
                     {"includes_taper", form::truth(), "measured with a tool in the taper"},
                     {"nose", form::table("machine.spindle.nose"), "its shape, for reach"}})},
            {"machine.spindle.nose",
             "",
             "The spindle's nose as a cylinder",
             {{"round", form::length(), "", true}, {"length", form::length(), "", true}}}};
}

}  // namespace standfast
