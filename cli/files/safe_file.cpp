#include "cli/files/safe_file.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <charconv>
#include <csignal>
#include <cstdint>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <system_error>

#include "cli/files/interrupt.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void give_up(const fs::path& path, const fs::path& temporary,
                          const std::string& reason) {
    std::error_code ignored;
    fs::remove(temporary, ignored);
    throw std::runtime_error(fmt::format("{}: cannot be written: {}", path.string(), reason));
}

/// Temporaries that a run which was killed left beside the file: their process is gone.
void remove_leftovers(const fs::path& path) {
    constexpr std::string_view kEnd = ".part";
    const std::string begin = path.filename().string() + ".";
    const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        const std::string name = at->path().filename().string();
        if (!name.starts_with(begin) || !name.ends_with(kEnd)) continue;
        const char* first = name.data() + begin.size();
        const char* last = name.data() + name.size() - kEnd.size();
        pid_t process = 0;
        const auto [stop, failed] = std::from_chars(first, last, process);
        if (failed != std::errc{} || stop != last || process <= 0) continue;
        std::error_code ignored;
        if (kill(process, 0) != 0 && errno == ESRCH) fs::remove(at->path(), ignored);
    }
}

std::string system_reason() { return std::generic_category().message(errno); }

}  // namespace

std::string fingerprint(std::string_view bytes) {
    std::uint64_t hash = 0xcbf29ce484222325U;
    for (const char c : bytes) {
        hash ^= static_cast<unsigned char>(c);
        hash *= 0x100000001b3U;
    }
    return fmt::format("{:016x}", hash);
}

bool is_regular_file(const fs::path& path) {
    std::error_code error;
    return fs::is_regular_file(path, error);
}

std::string file_bytes(const fs::path& path) {
    std::ifstream stream(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

Existing look_at(const fs::path& path, std::string_view last_fingerprint) {
    std::error_code error;
    const fs::file_status status = fs::symlink_status(path, error);
    if (status.type() == fs::file_type::not_found) {
        return Existing::nothing;
    }
    const bool same = status.type() == fs::file_type::regular && !last_fingerprint.empty() &&
                      fingerprint(file_bytes(path)) == last_fingerprint;
    return same ? Existing::written_here : Existing::foreign;
}

void write_file(const fs::path& path, std::string_view bytes) {
    // The process number keeps two runs at once out of each other's way.
    const fs::path temporary = path.string() + fmt::format(".{}.part", getpid());
    remove_leftovers(path);
    const Unfinished unfinished(temporary);
    errno = 0;
    std::ofstream stream(temporary, std::ios::binary | std::ios::trunc);
    if (!stream) {
        give_up(path, temporary, system_reason());
    }
    stream.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    stream.close();
    if (!stream) {
        give_up(path, temporary, system_reason());
    }
    std::error_code error;
    fs::rename(temporary, path, error);
    if (error) {
        give_up(path, temporary, error.message());
    }
}

}  // namespace standfast
