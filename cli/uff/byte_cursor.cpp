#include "cli/uff/byte_cursor.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/uff/measurement_error.hpp"

namespace standfast {

std::string_view ByteCursor::peek_line() const {
    std::string_view line = rest();
    line = line.substr(0, line.find('\n'));
    if (line.ends_with('\r')) {
        line.remove_suffix(1);
    }
    return line;
}

std::string_view ByteCursor::next_line() {
    const std::string_view line = peek_line();
    const std::size_t end = bytes_.find('\n', at_);
    if (end == std::string_view::npos) {
        at_ = bytes_.size();
    } else {
        at_ = end + 1;
        ++line_;
    }
    return line;
}

void ByteCursor::skip(std::size_t bytes, bool text) {
    const std::size_t count = std::min(bytes, left());
    if (text) {
        line_ += static_cast<int>(std::ranges::count(bytes_.substr(at_, count), '\n'));
    }
    at_ += count;
}

void ByteCursor::fail(const std::string& message) const { fail_at(line_, at_ + 1, message); }

void ByteCursor::fail_at(int line, std::size_t byte, const std::string& message) const {
    throw MeasurementError(fmt::format("{}:{}: byte {}: {}", name_, line, byte, message));
}

}  // namespace standfast
