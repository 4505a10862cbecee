#include "cli/page/page_file.hpp"

#include <fmt/format.h>

#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"

namespace standfast {
namespace {

constexpr std::string_view kFirstLine = "<!doctype html><!-- standfast page ";
constexpr std::string_view kEndOfFirstLine = " -->\n";

/// A page of this program that nobody changed: its first line holds the fingerprint of the rest.
bool is_untouched(std::string_view bytes) {
    if (!bytes.starts_with(kFirstLine)) return false;
    bytes.remove_prefix(kFirstLine.size());
    const std::size_t end = bytes.find(kEndOfFirstLine);
    return end != std::string_view::npos &&
           bytes.substr(0, end) == fingerprint(bytes.substr(end + kEndOfFirstLine.size()));
}

}  // namespace

std::string page_file(const std::string& rest) {
    return fmt::format("{}{}{}{}", kFirstLine, fingerprint(rest), kEndOfFirstLine, rest);
}

void require_page_file_can_be_written(std::string_view option, const std::string& path,
                                      bool force) {
    if (look_at(path, "") == Existing::nothing) return;
    if (!is_regular_file(path)) {
        throw UsageError(fmt::format("{} {}: is no ordinary file", option, path));
    }
    if (!force && !is_untouched(file_bytes(path))) {
        throw UsageError(
            fmt::format("{} {}: is there already and is no page of this program, or was "
                        "changed since; --force overwrites it; nothing was written",
                        option, path));
    }
}

}  // namespace standfast
