#pragma once

#include <cstddef>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace standfast {

/// A text file in memory, with its lines found once.
struct SourceFile {
    std::string name;  ///< as the user wrote it, for messages
    std::string text;  ///< UTF-8
    std::vector<std::size_t> line_starts;
};

std::shared_ptr<const SourceFile> make_source_file(std::string name, std::string text);

/// Line by number from 1, without its line ending; empty where there is none.
std::string_view line_of(const SourceFile& file, int line);

/// A stretch of one line. Line 0: the file as a whole.
struct Position {
    std::shared_ptr<const SourceFile> file{};
    int line = 0;
    int column = 0;  ///< from 1, in characters (code points), not bytes
    int length = 1;  ///< characters
};

}  // namespace standfast
