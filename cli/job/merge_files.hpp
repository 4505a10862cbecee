#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cli/job/toml/diagnostic.hpp"
#include "cli/job/toml/value.hpp"

namespace standfast {

/// A job and the shop-wide files that it uses, as one tree.
///
/// `use = ["mill.toml", ...]` names files relative to the file that says so; they may use others
/// in turn, at most 8 deep, and a file that is reached twice counts once. Lists of tables
/// ([[tier]], [[tool]] ...) follow each other, those of used files first; in other tables a key of
/// the using file replaces that of a used one.
/// @param errors  receives every fault of every file: unreadable, not TOML, a circle of uses
std::optional<Value> load_merged(const std::string& path, std::vector<Diagnostic>& errors);

/// As above for a text in memory; its uses are sought relative to `name`.
std::optional<Value> merge_text(const std::shared_ptr<const SourceFile>& file,
                                std::vector<Diagnostic>& errors);

}  // namespace standfast
