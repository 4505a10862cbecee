#pragma once

#include <memory>
#include <optional>
#include <vector>

#include "cli/job/toml/diagnostic.hpp"
#include "cli/job/toml/value.hpp"

namespace standfast {

/// Parses a TOML text into a tree with places. Where the text is not TOML, the result is empty and
/// `errors` says why; a faulty line that stands for itself ("key = value") is set aside so that
/// the faults after it are found in the same run.
std::optional<Value> parse_toml(const std::shared_ptr<const SourceFile>& file,
                                std::vector<Diagnostic>& errors);

}  // namespace standfast
