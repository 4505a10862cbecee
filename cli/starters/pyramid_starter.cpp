#include "cli/starters/starter_texts.hpp"

namespace standfast {

StarterText pyramid_starter() {
    return {.stand =
                R"toml(title = "Starter: parts on a pyramid whose faces incline 20 deg (invented)"

[machine]
kind = "5-axis, table tilts"
taper = "BT30"
speed = ["1000 rpm", "16000 rpm"]   # slowest and fastest
carry_max = "<30 kg|66 lb>"             # what the table may carry

# The stack, from the table up.

[[tier]]
name = "pyramid"
material = "7075"   # "standfast materials" lists the names
round = "<150 mm|6 in>"
top = { round = "<110 mm|4.5 in>" }   # tapers to this; left out: as thick as below
height = "<90 mm|3.5 in>"
joint = { kind = "bolted", screws = 4, size = "M12", torque = "<85 N m|63 ft lb>" }   # under it

# A tier that stands elsewhere than on the top of the one before says where: on which tier, at which
# place (from the middle of the host's foot), how far it leans out and in which direction.

[[tier]]
name = "part A"
material = "316"
block = ["<40 mm|1.5 in>", "<40 mm|1.5 in>"]
height = "<45 mm|1.75 in>"
on = "pyramid"
at = ["<40 mm|1.6 in>", "<0 mm|0 in>", "<75.4 mm|2.918 in>"]
lean = "20 deg"
heading = "0 deg"
joint = { kind = "dovetail", width = "<24 mm|1 in>", clamp = "<15 kN|3400 lbf>" }

[[tier]]
name = "part B"
material = "316"
block = ["<40 mm|1.5 in>", "<40 mm|1.5 in>"]
height = "<45 mm|1.75 in>"
on = "pyramid"
at = ["<-20 mm|-0.8 in>", "<34.64 mm|1.386 in>", "<75.4 mm|2.918 in>"]
lean = "20 deg"
heading = "120 deg"
joint = { kind = "dovetail", width = "<24 mm|1 in>", clamp = "<15 kN|3400 lbf>" }
)toml",
            .cuts = R"toml(
[[tool]]
name = "finisher"
grip = "shrink"   # or "collet", "hydraulic", "side-lock"
# stickout: holder face to tip.
cutter = { diameter = "<6 mm|1/4 in>", teeth = 4, stickout = "<28 mm|1-1/8 in>" }

# tilt and turn: how the machine stands for the cut. The spindle is then along the part's own axis.

[[pass]]
name = "part A, wall"
tier = "part A"
tilt = "20 deg"
turn = "0 deg"
wall = "+x"           # in the part's own axes
radial = "<0.2 mm|0.008 in>"
axial = "<8 mm|0.3 in>"        # left out: the program tells you
feed = "<0.03 mm|0.0012 in>"       # per tooth
speed = "6000 rpm"    # left out: the program tells you
tolerance = "<0.03 mm|0.0012 in>"  # total, of the wall

[[pass]]
name = "part B, wall"
tier = "part B"
tilt = "20 deg"
turn = "120 deg"
wall = "+x"
radial = "<0.2 mm|0.008 in>"
axial = "<8 mm|0.3 in>"
feed = "<0.03 mm|0.0012 in>"
speed = "6000 rpm"
tolerance = "<0.03 mm|0.0012 in>"
)toml"};
}

}  // namespace standfast
