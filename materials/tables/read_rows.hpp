#pragma once

#include "materials/catalogue.hpp"
#include "materials/tables/row_reader.hpp"

namespace standfast {

// One function per table of materials/data: the keys of a row and the values they may have.
// Name, aliases and source, which all rows share, are left to the caller.

Material read_material(RowReader& row);
CuttingData read_cutting(RowReader& row);
JointKind read_joint(RowReader& row);
MachineKind read_machine(RowReader& row);
SpindleKind read_spindle(RowReader& row);
HolderKind read_holder(RowReader& row);

}  // namespace standfast
