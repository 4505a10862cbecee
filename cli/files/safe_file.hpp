#pragma once

#include <filesystem>
#include <string>
#include <string_view>

namespace standfast {

/// What may be lying at a path already.
enum class Existing {
    nothing,       ///< no such file
    written_here,  ///< a regular file with the very bytes this program wrote there last
    foreign        ///< anything else: somebody's own file, one of ours that was edited, a folder
};

/// 64-bit FNV-1a of the bytes, 16 hexadecimal digits; tells an edited file from an untouched one.
/// Source: G. Fowler, L. C. Noll, K.-P. Vo; offset basis and prime from memory, checked against
///         the published value of the empty text in the tests.
std::string fingerprint(std::string_view bytes);

/// Whether an ordinary file (or a link to one) is there.
bool is_regular_file(const std::filesystem::path& path);

/// Whole file as bytes; empty where it cannot be read.
std::string file_bytes(const std::filesystem::path& path);

/// @param last_fingerprint  of what this program wrote at the path; empty: it never did
Existing look_at(const std::filesystem::path& path, std::string_view last_fingerprint);

/// Removes what runs that were killed while they wrote this file left beside it (NAME.123.part). A
/// run that is still writing holds a lock on its own, which stays.
void remove_left_over(const std::filesystem::path& path);

/// Writes the file under a temporary name in the same folder and renames it, so that a reader
/// sees the old file or the whole of the new one, and a failure leaves the old one. Removes what is
/// left over of earlier ones.
/// @throws std::runtime_error naming the path and the system's reason; the temporary is removed
void write_file(const std::filesystem::path& path, std::string_view bytes);

}  // namespace standfast
