#pragma once

#include <filesystem>

namespace standfast {

/// From now on Ctrl-C (and a request to end) ends the program at once with exit code 128 + signal,
/// 130 for Ctrl-C, and removes what it was in the middle of writing.
void end_at_interrupt();

/// A file that is being written under a temporary name: an interruption removes it. One at a time.
class Unfinished {
public:
    explicit Unfinished(const std::filesystem::path& path);
    ~Unfinished();
    Unfinished(const Unfinished&) = delete;
    Unfinished& operator=(const Unfinished&) = delete;
    Unfinished(Unfinished&&) = delete;
    Unfinished& operator=(Unfinished&&) = delete;
};

}  // namespace standfast
