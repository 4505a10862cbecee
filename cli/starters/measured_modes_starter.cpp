#include "cli/starters/starter_texts.hpp"

namespace standfast {

StarterText measured_modes_starter() {
    return {.stand =
                R"toml(title = "Starter: tapped tool, tapped stack (invented)"

[machine]
speed = ["2000 rpm", "12000 rpm"]   # slowest and fastest

# What was tapped at the place of the cut: the part's side of it, and below the tool's. Frequencies
# and damping from the tap; stiffness (or mass) of each mode from a receptance, as
# "standfast fit FILE --modes-only" prints them from a universal file or CSV. direction: "x", "y"
# or three numbers, in the table's axes; the feed is along x.

[stack]   # or: rigid = true
modes = [
    { direction = "x", frequency = "355 Hz", damping = "3 %", stiffness = "<31 N/um|177000 lbf/in>" },
    { direction = "y", frequency = "310 Hz", damping = "2.8 %", stiffness = "<26 N/um|148000 lbf/in>" },
]
)toml",
            .cuts = R"toml(
[[tool]]
name = "tapped tool"
modes = [
    { direction = "x", frequency = "780 Hz", damping = "3.5 %", stiffness = "<22 N/um|126000 lbf/in>" },
    { direction = "x", frequency = "1650 Hz", damping = "2.2 %", stiffness = "<9 N/um|51000 lbf/in>" },
    { direction = "y", frequency = "745 Hz", damping = "3.8 %", stiffness = "<19 N/um|108000 lbf/in>" },
    { direction = "y", frequency = "1590 Hz", damping = "2.4 %", stiffness = "<8.2 N/um|47000 lbf/in>" },
]
cutter = { diameter = "<12 mm|1/2 in>", teeth = 4, stickout = "<50 mm|2 in>" }

[[pass]]
name = "finish"
cutting = "steel 4140"   # there is no tier to take it from; "standfast materials" lists the names
milling = "down"         # or "up", "slot"
radial = "<0.12 mm|0.005 in>"
axial = "<2.4 mm|0.1 in>"         # left out: the program tells you
feed = "<0.05 mm|0.002 in>"          # per tooth
speed = "4500 rpm"       # left out: the program tells you
tolerance = "<0.05 mm|0.002 in>"     # total, of the wall
)toml"};
}

}  // namespace standfast
