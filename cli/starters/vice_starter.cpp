#include "cli/starters/starter_texts.hpp"

namespace standfast {

StarterText vice_starter() {
    return {.stand =
                R"toml(title = "Starter: a part in a vice (invented)"

[machine]
kind = "3-axis"   # or "4-axis", "5-axis, table tilts", "5-axis, head tilts", "horizontal"
taper = "BT40"
speed = ["300 rpm", "10000 rpm"]   # slowest and fastest

# The stack, from the table up: one [[tier]] for each thing that stands on the one before.

[[tier]]
name = "vice"
material = "ductile iron"
block = ["<150 mm|6 in>", "<125 mm|5 in>"]   # its body, x and y
height = "<75 mm|3 in>"                  # table to the floor between the jaws
joint = { kind = "toe clamps" }        # or "bolted" with screws, size, torque

[[tier]]
name = "part"
material = "6061"   # "standfast materials" lists the names
block = ["<80 mm|3 in>", "<50 mm|2 in>"]
height = "<60 mm|2.25 in>"
# clamp: how hard the jaws press. length: along the jaws. grip: how high they hold.
# seat: does the part bear on its parallels (true), or only on the jaws (false)?
joint = { kind = "vice", clamp = "<20 kN|4500 lbf>", length = "<80 mm|3 in>", grip = "<5 mm|0.2 in>", seat = true }
)toml",
            .cuts = R"toml(
[[tool]]
name = "end mill"
grip = "collet"   # or "shrink", "hydraulic", "side-lock"
# stickout: holder face to tip.
cutter = { diameter = "<12 mm|1/2 in>", teeth = 3, stickout = "<38 mm|1-1/2 in>" }

[[pass]]
name = "rough the side"
milling = "down"      # or "up", "slot"
radial = "<3 mm|0.12 in>"
axial = "<12 mm|0.5 in>"       # left out: the program tells you
feed = "<0.06 mm|0.0025 in>"      # per tooth
speed = "7000 rpm"    # left out: the program tells you
leave = "<0.25 mm|0.010 in>"   # what it is to leave for the finishing pass
tolerance = "<0.2 mm|0.008 in>"

[[pass]]
name = "finish the side"
wall = "+y"           # the finished wall faces this way; left out: the worst way
radial = "<0.25 mm|0.010 in>"
axial = "<20 mm|0.75 in>"
feed = "<0.05 mm|0.002 in>"
speed = "8000 rpm"
tolerance = "<0.04 mm|0.0016 in>"  # total, of the wall
)toml"};
}

}  // namespace standfast
