#pragma once

#include <optional>
#include <string>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// What the machine lacks for a pass.
struct MachineShort {
    ReachFault fault = ReachFault::none;
    double needed = 0;                            ///< rad (tilt), else m
    double available_from = 0, available_to = 0;  ///< the same unit
};

/// The first thing that the machine lacks, of tilt, travel, swing and tool change; none where it
/// has all that the job gives a figure for.
///
/// Tilt: |tilt| of the pass against tilt_max (a part on a 20 deg face needs 90 + 20 = 110 deg for
/// the side that looks down). Travel: the gauge line's height over the table's face, as it stands
/// at tilt 0, against nose_to_table, at both ends of every stretch; where the table tilts, the
/// tip's height over the tilt axis counts, which is taken to cross the middle of the table at
/// tilt_axis_above_table. Swing: twice the greatest distance of any tier's or side mass's outline
/// from the middle of the table. Tool change: highest tier at tilt 0, tool and clearance under
/// tool_change_height.
/// @param stickout  m, instead of the tool's own
std::optional<MachineShort> machine_short_of(const Job& job, const Pass& pass, double stickout,
                                             double clearance);

/// What of it was not looked at, as the job gives no figure, in plain words: "travel, swing (no
/// nose_to_table, swing_diameter given)"; empty: nothing.
std::string machine_figures_missing(const Job& job, const Pass& pass);

}  // namespace standfast
