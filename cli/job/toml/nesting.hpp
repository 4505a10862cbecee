#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace standfast {

constexpr std::size_t kDeepestNesting = 32;

/// Byte at which brackets nest, or the parts of one dotted key follow each other, more than
/// kDeepestNesting deep. A tree that deep is destroyed recursively and could use up the stack, so
/// it is refused before it is built.
std::optional<std::size_t> too_deep_at(std::string_view toml);

}  // namespace standfast
