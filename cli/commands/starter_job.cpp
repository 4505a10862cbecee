#include "cli/commands/starter_job.hpp"

#include <string_view>

namespace standfast {
namespace {

/// <metric|inch>: one of the two is kept.
constexpr std::string_view kTemplate =
    R"starter(# A job for standfast: the stack from the table up, the tool, the cut.
#   standfast check THIS-FILE
# Change the numbers to yours. Sizes carry their unit; "150 mm", "6 in" and "3/8 in" mix freely.
# What you leave out is assumed; --assumed lists it. Everything here is invented.

title = "Starter job (invented)"

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
)starter";

}  // namespace

std::string starter_job(UnitSystem units) {
    std::string job;
    std::string_view rest = kTemplate;
    while (!rest.empty()) {
        const std::size_t open = rest.find('<');
        job += rest.substr(0, open);
        if (open == std::string_view::npos) {
            break;
        }
        const std::size_t bar = rest.find('|', open);
        const std::size_t close = rest.find('>', bar);
        job += units == UnitSystem::metric ? rest.substr(open + 1, bar - open - 1)
                                           : rest.substr(bar + 1, close - bar - 1);
        rest.remove_prefix(close + 1);
    }
    return job;
}

}  // namespace standfast
