#pragma once

#include "cli/job/read/table_reader.hpp"

namespace standfast {

/// [material."name"] and [cutting."name"] into Reading::catalogue, before anything names them.
void read_data(TableReader& root);

/// [limits] by name into Reading::job.limits.
void read_limits(TableReader& root);

/// [uncertainty] into Reading::job.uncertainty, after the tools.
void read_uncertainty(TableReader& root);

/// [[riser]] into Reading::job.shelf; [trade].
void read_studies(TableReader& root);

/// [[measured]] into Reading::job.measured; receptances are read from their files, and those
/// that replace a tool become its modes. Tiers, tools, passes and the machine's kinds come first.
void read_measured(TableReader& root);

/// [adjust."tier or tool".joint], [adjust.machine], [together] and [measured_on] of an overlay that
/// `fit` wrote: factors on the stiffness and loss of joints, by name, applied to Reading::job, and
/// how their errors hang together. A name that the job does not have is a fault, in an overlay that
/// says where it was measured only a warning. One that was measured on another machine or stack
/// (kind, taper, base, riser, a tier's height or joint kind, a tool's taper or grip) is a fault
/// unless `other_machine`; then the differences go into Job::measured_elsewhere.
void apply_overlay(Reading& reading, const Value& overlay, bool other_machine);

}  // namespace standfast
