#include "cli/files/safe_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
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

std::string system_reason() { return std::generic_category().message(errno); }

/// Whether a name is what write_file calls a temporary of this file.
bool is_temporary_of(const std::string& name, const std::string& file) {
    constexpr std::string_view kEnd = ".part";
    const std::string begin = file + ".";
    if (!name.starts_with(begin) || !name.ends_with(kEnd) ||
        name.size() <= begin.size() + kEnd.size()) {
        return false;
    }
    return std::all_of(name.begin() + static_cast<std::ptrdiff_t>(begin.size()),
                       name.end() - static_cast<std::ptrdiff_t>(kEnd.size()),
                       [](char c) { return c >= '0' && c <= '9'; });
}

/// A file being written, locked as long as it is open: who can lock it finds it left over.
class Temporary {
public:
    explicit Temporary(const fs::path& path) {
        // Another run may take it for left over between its making and its lock: then again.
        for (int attempt = 0; attempt < 100 && descriptor_ < 0; ++attempt) {
            descriptor_ =
                open(path.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC | O_NOFOLLOW, 0666);
            if (descriptor_ < 0) return;
            struct stat status {};
            if (flock(descriptor_, LOCK_EX) != 0 || fstat(descriptor_, &status) != 0 ||
                status.st_nlink == 0) {
                close(descriptor_);
                descriptor_ = -1;
            }
        }
    }
    ~Temporary() {
        if (descriptor_ >= 0) close(descriptor_);
    }
    Temporary(const Temporary&) = delete;
    Temporary& operator=(const Temporary&) = delete;
    Temporary(Temporary&&) = delete;
    Temporary& operator=(Temporary&&) = delete;

    bool is_open() const { return descriptor_ >= 0; }

    /// All of it, down to the disk: a full one shows here and not after the old file is gone.
    bool write(std::string_view bytes) const {
        while (!bytes.empty()) {
            const ssize_t written = ::write(descriptor_, bytes.data(), bytes.size());
            if (written < 0 && errno == EINTR) continue;
            if (written < 0) return false;
            bytes.remove_prefix(static_cast<std::size_t>(written));
        }
        return fsync(descriptor_) == 0 || errno == EINVAL || errno == EROFS;
    }

private:
    int descriptor_ = -1;
};

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

void remove_left_over(const fs::path& path) {
    const fs::path folder = path.has_parent_path() ? path.parent_path() : fs::path(".");
    std::error_code error;
    for (fs::directory_iterator at(folder, error), end; !error && at != end; at.increment(error)) {
        if (!is_temporary_of(at->path().filename().string(), path.filename().string())) continue;
        const int descriptor =
            open(at->path().c_str(), O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
        if (descriptor < 0) continue;
        std::error_code ignored;
        if (flock(descriptor, LOCK_EX | LOCK_NB) == 0) fs::remove(at->path(), ignored);
        close(descriptor);
    }
}

void write_file(const fs::path& path, std::string_view bytes) {
    // The process number keeps two runs at once out of each other's way.
    const fs::path temporary = path.string() + fmt::format(".{}.part", getpid());
    remove_left_over(path);
    const Unfinished unfinished(temporary);
    errno = 0;
    const Temporary file(temporary);
    if (!file.is_open() || !file.write(bytes)) {
        give_up(path, temporary, system_reason());
    }
    std::error_code error;
    fs::rename(temporary, path, error);
    if (error) {
        give_up(path, temporary, error.message());
    }
}

}  // namespace standfast
