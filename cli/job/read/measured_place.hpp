#pragma once

#include <optional>

#include "cli/job/read/table_reader.hpp"
#include "fea/job/measured.hpp"

namespace standfast {

/// The keys of one place: "at" and "tier", or those of where the indicator reads.
struct PlaceKeys {
    std::string_view at = "at", tier = "tier";
};

/// Where something was measured. On the stack: `at` from the middle of the table, or with a tier
/// from its foot; nothing said: the middle of the last tier's top. On a tool: from its tip.
/// @param tool  none: the stack
MeasuredPlace read_place(TableReader& table, std::optional<std::size_t> tool,
                         const PlaceKeys& keys = {});

/// where = "stack" (none) or the name of a tool.
std::optional<std::size_t> read_where(TableReader& table);

/// The direction of a measurement, unit; a missing one is a fault.
Eigen::Vector3d required_direction(TableReader& table);

}  // namespace standfast
