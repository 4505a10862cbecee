#include "cli/starters/starter_texts.hpp"

namespace standfast {

StarterText tower_starter() {
    return {.stand =
                R"toml(title = "Starter: parts on the sides of a tower (invented)"

[machine]
kind = "5-axis, table tilts"   # on a "horizontal" the tower stands and the tool comes from the side
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]   # slowest and fastest
carry_max = "<60 kg|130 lb>"            # what the table may carry

# The stack, from the table up.

[[tier]]
name = "tower"
material = "grey iron"   # "standfast materials" lists the names
box = ["<100 mm|4 in>", "<100 mm|4 in>", "<18 mm|0.7 in>"]   # x, y, wall
height = "<220 mm|8.5 in>"
joint = { kind = "bolted", screws = 4, size = "M16", torque = "<200 N m|148 ft lb>" }   # under it

# A tier at the tower's side says where: on which tier, at which place (from the middle of the
# host's foot), lean 90 deg, and heading: which side.

[[tier]]
name = "part +x"
material = "6061"
block = ["<60 mm|2.5 in>", "<60 mm|2.5 in>"]
height = "<55 mm|2.2 in>"
on = "tower"
at = ["<50 mm|2 in>", "<0 mm|0 in>", "<165 mm|6.5 in>"]
lean = "90 deg"
heading = "0 deg"
joint = { kind = "dovetail", width = "<38 mm|1.5 in>", clamp = "<18 kN|4000 lbf>" }

[[tier]]
name = "part +y"
material = "6061"
block = ["<60 mm|2.5 in>", "<60 mm|2.5 in>"]
height = "<55 mm|2.2 in>"
on = "tower"
at = ["<0 mm|0 in>", "<50 mm|2 in>", "<165 mm|6.5 in>"]
lean = "90 deg"
heading = "90 deg"
joint = { kind = "dovetail", width = "<38 mm|1.5 in>", clamp = "<18 kN|4000 lbf>" }
)toml",
            .cuts = R"toml(
[[tool]]
name = "finisher"
grip = "shrink"   # or "collet", "hydraulic", "side-lock"
# stickout: holder face to tip.
cutter = { diameter = "<10 mm|3/8 in>", teeth = 3, stickout = "<36 mm|1-3/8 in>" }

# tilt and turn: how the machine stands for the cut. The spindle is then along the part's own axis.

[[pass]]
name = "part +x, wall"
tier = "part +x"
tilt = "90 deg"
turn = "0 deg"
wall = "+y"           # in the part's own axes
radial = "<0.3 mm|0.012 in>"
axial = "<14 mm|0.55 in>"      # left out: the program tells you
feed = "<0.06 mm|0.0024 in>"       # per tooth
speed = "11000 rpm"   # left out: the program tells you
tolerance = "<0.04 mm|0.0016 in>"  # total, of the wall

[[pass]]
name = "part +y, wall"
tier = "part +y"
tilt = "90 deg"
turn = "90 deg"
wall = "+y"
radial = "<0.3 mm|0.012 in>"
axial = "<14 mm|0.55 in>"
feed = "<0.06 mm|0.0024 in>"
speed = "11000 rpm"
tolerance = "<0.04 mm|0.0016 in>"
)toml"};
}

}  // namespace standfast
