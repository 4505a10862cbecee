#include "cli/starters/starter_texts.hpp"

namespace standfast {

StarterText riser_starter() {
    return {.stand =
                R"toml(title = "Starter: a part in a dovetail on a riser (invented)"

[machine]
kind = "5-axis, table tilts"   # or "3-axis", "4-axis", "5-axis, head tilts", "horizontal"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]   # slowest and fastest

# The stack, from the table up: one [[tier]] for each thing that stands on the one before.

[[tier]]
name = "riser"
material = "steel"
round = "<100 mm|4 in>"   # or block = [x, y], tube = [outer, inner], box = [x, y, wall]
height = "<150 mm|6 in>"
joint = { kind = "bolted", screws = 4, size = "M12", torque = "<85 N m|63 ft lb>" }   # under it

[[tier]]
name = "part"
material = "6061"   # "standfast materials" lists the names
block = ["<70 mm|2.75 in>", "<50 mm|2 in>"]
height = "<95 mm|3.75 in>"   # above the joint
# clamp: horizontal force on each flank. Without it the hold cannot be judged.
# seat: does its underside bear on the jaws (true), or only its flanks (false)?
joint = { kind = "dovetail", width = "<32 mm|1.25 in>", clamp = "<18 kN|4000 lbf>" }
)toml",
            .cuts = R"toml(
[[tool]]
name = "finisher"
grip = "shrink"   # or "collet", "hydraulic", "side-lock"
# stickout: holder face to tip.
cutter = { diameter = "<10 mm|3/8 in>", teeth = 3, stickout = "<40 mm|1-1/2 in>" }

[[pass]]
name = "finish the wall"
wall = "+x"           # the finished wall faces this way; left out: the worst way
milling = "down"      # or "up", "slot"
radial = "<0.25 mm|0.010 in>"
axial = "<12 mm|0.5 in>"       # left out: the program tells you
feed = "<0.06 mm|0.0024 in>"       # per tooth
speed = "9000 rpm"    # left out: the program tells you
tolerance = "<0.04 mm|0.0016 in>"  # total, of the wall
)toml"};
}

}  // namespace standfast
