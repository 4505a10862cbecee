#include "cli/options/progress.hpp"

#include <fmt/format.h>

#include <cmath>

namespace standfast {
namespace {

std::string time_text(double seconds) {
    if (seconds < 90) {
        return fmt::format("{:.0f} s", std::ceil(seconds));
    }
    return seconds < 5400 ? fmt::format("{:.0f} min", std::ceil(seconds / 60))
                          : fmt::format("{:.1f} h", seconds / 3600);
}

}  // namespace

std::string progress_text(std::size_t begun, std::size_t count, double seconds,
                          std::string_view what) {
    const std::size_t done = begun == 0 ? 0 : begun - 1;
    std::string left;
    if (done > 0) {
        const double each = seconds / static_cast<double>(done);
        left = fmt::format(", about {} left", time_text(each * static_cast<double>(count - done)));
    }
    return fmt::format("{} of {}, {:.0f} %{}: {}", begun, count,
                       100.0 * static_cast<double>(done) / static_cast<double>(count), left, what);
}

Progress::Progress(bool wanted, std::size_t count)
    : line_(wanted && count > 1), count_(count), start_(std::chrono::steady_clock::now()) {}

void Progress::next(std::string_view what) {
    ++begun_;
    const std::chrono::duration<double> passed = std::chrono::steady_clock::now() - start_;
    line_.show(progress_text(begun_, count_, passed.count(), what));
}

}  // namespace standfast
