#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace standfast {

/// The candidate with the smallest edit distance (insert, delete, replace, swap of neighbours),
/// ignoring letter case, or none if even that is further than about a third of the word's length.
std::optional<std::string> nearest_name(std::string_view word,
                                        const std::vector<std::string>& candidates);

}  // namespace standfast
