#include "cli/options/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <iostream>

#include "cli/text/table.hpp"

#include "cli/text/visible_text.hpp"

namespace standfast {
namespace {

bool environment_says(const char* name) {
    const char* const value = std::getenv(name);  // NOLINT(concurrency-mt-unsafe): read at start
    return value != nullptr && *value != '\0';
}

bool is_dumb() {
    const char* const value = std::getenv("TERM");  // NOLINT(concurrency-mt-unsafe)
    return value != nullptr && std::string_view(value) == "dumb";
}

Terminal describe(int descriptor, ColorChoice choice) {
    Terminal terminal;
    terminal.is_terminal = isatty(descriptor) == 1;
    terminal.color = choice == ColorChoice::always ||
                     (choice == ColorChoice::automatic && terminal.is_terminal &&
                      !environment_says("NO_COLOR") && !is_dumb());
    winsize size{};
    if (terminal.is_terminal && ioctl(descriptor, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) {
        terminal.width = size.ws_col;
    }
    return terminal;
}

}  // namespace

Terminal standard_output(ColorChoice choice) { return describe(STDOUT_FILENO, choice); }

Terminal standard_error(ColorChoice choice) { return describe(STDERR_FILENO, choice); }

ProgressLine::ProgressLine(bool wanted) {
    const Terminal terminal = standard_error(ColorChoice::never);
    active_ = wanted && terminal.is_terminal && !is_dumb();
    width_ = terminal.width;
}

ProgressLine::~ProgressLine() { clear(); }

void ProgressLine::show(std::string_view text) {
    if (!active_) {
        return;
    }
    clear();
    std::cerr << shortened(visible_text(text), std::max(1, width_ - 1)) << std::flush;
    shown_ = true;
}

void ProgressLine::clear() {
    if (shown_) {
        std::cerr << "\r\x1b[K" << std::flush;
        shown_ = false;
    }
}

}  // namespace standfast
