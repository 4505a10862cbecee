#pragma once

#include <string>
#include <vector>

#include "cli/job/toml/source_file.hpp"

namespace standfast {

/// A second place that explains the first, as where two entries contradict each other.
struct Note {
    Position where;
    std::string message{};
};

/// One fault of a job, with all that is needed to print it.
struct Diagnostic {
    Position where{};
    std::string message{};   ///< subject and fault: "tier 2 (\"riser\"): height is -150 mm"
    std::string accepted{};  ///< what would be right; may be empty
    std::string hint{};      ///< a whole sentence, as in "did you mean \"height\"?"; may be empty
    std::vector<Note> notes{};
    bool without_line = false;  ///< of a file that may hold anything: its text is not shown
};

/// "file:line:column: error: ...", the line, a caret with tildes, what is accepted, the hint and
/// the notes; ends with a line break. Control characters of the source are shown as spaces, and a
/// long line is cut to a window around the fault.
std::string format_diagnostic(const Diagnostic& diagnostic);

/// All of them in the order of their places, then "2 errors in bracket.toml; nothing was
/// computed.". After the first hundred the rest is counted, not printed.
std::string format_diagnostics(std::vector<Diagnostic> diagnostics);

}  // namespace standfast
