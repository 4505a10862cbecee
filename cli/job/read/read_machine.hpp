#pragma once

#include "cli/job/read/table_reader.hpp"

namespace standfast {

/// [machine] into Reading::job.machine. The taper's own row is taken here if [machine] names one.
void read_machine(TableReader& root);

/// After everything is read: takes the spindle row from a tool's taper where the machine names
/// none, reports stiffness that is neither given nor known by kind, and lists what was assumed.
void complete_machine(TableReader& root);

}  // namespace standfast
