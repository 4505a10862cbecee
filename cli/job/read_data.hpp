#pragma once

#include "cli/job/table_reader.hpp"

namespace standfast {

/// [material."name"] and [cutting."name"] into Reading::catalogue, before anything names them.
void read_data(TableReader& root);

/// [limits] by name into Reading::job.limits.
void read_limits(TableReader& root);

/// [[riser]] into Reading::job.shelf; [trade], [uncertainty] and [[measured]], whose keys and
/// values are checked and which `check` does not use.
void read_studies(TableReader& root);

/// [adjust."tier or tool".joint] and [measured_on] of an overlay that `fit` wrote: factors on the
/// stiffness and loss of joints, by name, applied to Reading::job.
void apply_overlay(Reading& reading, const Value& overlay);

}  // namespace standfast
