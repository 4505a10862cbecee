#pragma once

#include <optional>

#include "cli/job/read/table_reader.hpp"
#include "fea/job/shape.hpp"

namespace standfast {

/// The cross-section of a table: exactly one of round, tube, block, box, section. None where there
/// is none (a fault if required) or where it cannot be used (reported).
std::optional<SectionShape> read_shape(TableReader& table, bool required);

/// The `top` of a taper: the same kind of section as the foot's.
std::optional<SectionShape> read_top(TableReader& table, const SectionShape& foot);

}  // namespace standfast
