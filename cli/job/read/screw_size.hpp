#pragma once

#include <optional>
#include <string_view>

namespace standfast {

/// Nominal diameter (m) of a screw by its designation: "M12", "M12x1.5", "1/2-13", "#10-32",
/// or a plain length, "12 mm", "1/2 in". None if it is neither.
/// Numbered inch sizes are 0.060 in + 0.013 in per number (ASME B1.1; from memory).
std::optional<double> screw_diameter(std::string_view designation);

}  // namespace standfast
