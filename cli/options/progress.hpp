#pragma once

#include <chrono>
#include <string_view>

#include "cli/options/terminal.hpp"

namespace standfast {

/// Progress over equal pieces of work, on a terminal only: count, share and time left.
class Progress {
public:
    Progress(bool wanted, std::size_t count);

    /// Called before each piece.
    /// @param what  of the piece
    void next(std::string_view what);

private:
    ProgressLine line_;
    std::size_t count_ = 0, begun_ = 0;
    std::chrono::steady_clock::time_point start_;
};

/// "3 of 12, 17 %, about 40 s left: WHAT"; the time only once a piece is done.
std::string progress_text(std::size_t begun, std::size_t count, double seconds,
                          std::string_view what);

}  // namespace standfast
