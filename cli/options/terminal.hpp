#pragma once

#include <string>
#include <string_view>

namespace standfast {

enum class ColorChoice { automatic, always, never };

/// What a stream can show.
struct Terminal {
    bool is_terminal = false;
    bool color = false;
    int width = 80;  ///< columns; 80 where the stream is not a terminal
};

/// Standard output and standard error as they are. Automatic colour: on a terminal that is not
/// "dumb", unless NO_COLOR is set to something (no-color.org); "always" and "never" win over both.
Terminal standard_output(ColorChoice choice);
Terminal standard_error(ColorChoice choice);

/// One line of progress on standard error that wipes itself; silent where that is not a
/// terminal or where `wanted` is false.
class ProgressLine {
public:
    explicit ProgressLine(bool wanted);
    ~ProgressLine();
    ProgressLine(const ProgressLine&) = delete;
    ProgressLine& operator=(const ProgressLine&) = delete;
    ProgressLine(ProgressLine&&) = delete;
    ProgressLine& operator=(ProgressLine&&) = delete;

    void show(std::string_view text);
    void clear();

private:
    bool active_ = false;
    bool shown_ = false;
    int width_ = 80;
};

}  // namespace standfast
