#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "cli/job/toml/diagnostic.hpp"

namespace standfast {

/// Reads a text file whole. Refused, each with its own message: a file that is missing, a folder,
/// something that is not an ordinary file, an unreadable one, one above 8 MB.
/// @param errors  receives the message; its place is the file as a whole
std::shared_ptr<const SourceFile> load_file(const std::string& path,
                                            std::vector<Diagnostic>& errors);

/// What makes a text unfit to be parsed at all: empty, not UTF-8 (names the byte), a NUL byte, a
/// value or key nested more deeply than any job needs.
std::optional<Diagnostic> unfit_text(const std::shared_ptr<const SourceFile>& file);

}  // namespace standfast
