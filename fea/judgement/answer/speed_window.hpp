#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/judgement/answer/levels.hpp"

namespace standfast {

/// A range of spindle speeds; empty where from > to.
struct SpeedWindow {
    SpindleSpeed from, to;
    bool contains(SpindleSpeed speed) const;
};

/// Highest speed that machine, holder taper and cutter allow.
SpindleSpeed fastest_allowed(const Machine& machine, const ToolChain& tool);

/// The speeds that may be recommended for a pass: within machine, holder taper and cutter limits,
/// the pass's own window, and the work material's cutting-speed window. Without a cutting-speed
/// window: within 15 % (limits.speed_window) of the programmed speed; without that either, the
/// material's window is left out.
SpeedWindow offered_window(const Job& job, const Pass& pass);

/// Speed-only findings: overspeed (machine's top, taper's usual limit, the cutter's maximum; avoid)
/// and cutting speed (below the machine's slowest: avoid; outside the material's window: marginal).
std::vector<Finding> judge_speed(const Job& job, const Pass& pass, SpindleSpeed speed);

/// pi D n, m/s.
double cutting_speed_of(const Cutter& cutter, SpindleSpeed speed);

}  // namespace standfast
