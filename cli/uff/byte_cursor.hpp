#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace standfast {

/// A place in the bytes of a measurement file that knows its line.
class ByteCursor {
public:
    ByteCursor(std::string_view bytes, std::string name) : bytes_(bytes), name_(std::move(name)) {}

    bool at_end() const { return at_ >= bytes_.size(); }
    std::size_t position() const { return at_; }
    std::size_t left() const { return bytes_.size() - at_; }
    int line() const { return line_; }
    std::string_view rest() const { return bytes_.substr(at_); }

    /// The next line without its ending; empty at the end of the file.
    std::string_view next_line();
    /// The next line without going on to it.
    std::string_view peek_line() const;
    /// Goes on by so many bytes, at most to the end. Line endings in them count only where they
    /// are text.
    void skip(std::size_t bytes, bool text);

    /// @throws MeasurementError "NAME:LINE: byte BYTE: MESSAGE"
    [[noreturn]] void fail(const std::string& message) const;
    [[noreturn]] void fail_at(int line, std::size_t byte, const std::string& message) const;

private:
    std::string_view bytes_;
    std::string name_;
    std::size_t at_ = 0;
    int line_ = 1;
};

}  // namespace standfast
