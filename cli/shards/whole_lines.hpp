#pragma once

#include <string>
#include <string_view>

namespace standfast {

/// Lines to standard output, or to the end of a file, each written whole or not at all as far as
/// this program can help it: an interrupt (Ctrl-C, or a request to end) that comes while a line is
/// being written takes effect when it is done. One at a time; a file is this run's alone until
/// then.
class WholeLines {
public:
    /// @param path  empty: standard output
    /// @throws std::runtime_error naming the path and the system's reason
    /// @throws UsageError where another process writes to that file
    explicit WholeLines(const std::string& path);
    ~WholeLines();
    WholeLines(const WholeLines&) = delete;
    WholeLines& operator=(const WholeLines&) = delete;
    WholeLines(WholeLines&&) = delete;
    WholeLines& operator=(WholeLines&&) = delete;

    /// @param line  ends in a line feed
    /// @throws std::runtime_error where the system refuses
    void write(std::string_view line);

private:
    std::string path_;
    int descriptor_ = -1;
};

}  // namespace standfast
