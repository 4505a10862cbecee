#include "cli/job/toml/diagnostic.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "cli/text/text_block.hpp"
#include "cli/text/visible_text.hpp"

namespace standfast {
namespace {

constexpr std::size_t kPrinted = 100;
constexpr std::size_t kWindow = 100;  // characters of a source line that are shown

std::string place(const Position& where) {
    const std::string name = where.file ? visible_text(where.file->name) : "job";
    return where.line > 0 ? fmt::format("{}:{}:{}", name, where.line, where.column) : name;
}

/// The line as separate characters, each a whole UTF-8 sequence; tabs and controls as one space.
std::vector<std::string> characters_of(std::string_view line) {
    std::vector<std::string> characters;
    for (const char byte : line) {
        const auto code = static_cast<unsigned char>(byte);
        if ((code & 0xC0U) == 0x80U && !characters.empty()) {
            characters.back() += byte;
        } else {
            characters.emplace_back(1, code < 0x20 || code == 0x7F ? ' ' : byte);
        }
    }
    return characters;
}

std::string source_excerpt(const Position& where) {
    if (!where.file || where.line < 1) {
        return {};
    }
    const std::vector<std::string> characters = characters_of(line_of(*where.file, where.line));
    const auto column = static_cast<std::size_t>(std::max(where.column, 1)) - 1;
    const bool cut = characters.size() > kWindow;
    const std::size_t first = cut && column > kWindow / 2 ? column - kWindow / 2 : 0;
    const std::size_t last = std::min(characters.size(), first + kWindow);
    std::string shown = first > 0 ? "..." : "";
    // What cannot be shown as it is takes more columns than one.
    const auto width = [&](std::size_t from, std::size_t to) {
        std::size_t columns_taken = 0;
        for (std::size_t i = from; i < std::min(to, characters.size()); ++i) {
            columns_taken += columns(visible_text(characters[i]));
        }
        return columns_taken + to - std::min(to, std::max(from, characters.size()));
    };
    const std::size_t indent = shown.size() + width(first, std::max(first, column));
    for (std::size_t i = first; i < last; ++i) {
        shown += visible_text(characters[i]);
    }
    if (last < characters.size()) {
        shown += "...";
    }
    const std::size_t room = last > column ? last - column : 1;
    const std::size_t marked =
        std::clamp(static_cast<std::size_t>(std::max(where.length, 1)), std::size_t{1}, room);
    const std::size_t marked_columns = std::max(width(column, column + marked), std::size_t{1});
    const std::string number = std::to_string(where.line);
    return fmt::format(" {} | {}\n {} | {}^{}\n", number, shown, std::string(number.size(), ' '),
                       std::string(indent, ' '), std::string(marked_columns - 1, '~'));
}

bool comes_before(const Diagnostic& a, const Diagnostic& b) {
    if (a.where.file != b.where.file) {
        return false;  // files keep the order in which they were read
    }
    return std::tie(a.where.line, a.where.column) < std::tie(b.where.line, b.where.column);
}

/// Brings the faults of one file together, files in the order of their first fault.
std::vector<std::vector<Diagnostic>> by_file(std::vector<Diagnostic> diagnostics) {
    std::vector<std::vector<Diagnostic>> groups;
    for (Diagnostic& diagnostic : diagnostics) {
        const auto found = std::ranges::find_if(groups, [&](const std::vector<Diagnostic>& group) {
            return group.front().where.file == diagnostic.where.file;
        });
        if (found == groups.end()) {
            groups.push_back({std::move(diagnostic)});
        } else {
            found->push_back(std::move(diagnostic));
        }
    }
    for (std::vector<Diagnostic>& group : groups) {
        std::ranges::stable_sort(group, comes_before);
    }
    return groups;
}

}  // namespace

std::string format_diagnostic(const Diagnostic& diagnostic) {
    std::string text =
        fmt::format("{}: error: {}\n", place(diagnostic.where), visible_lines(diagnostic.message));
    if (!diagnostic.without_line) {
        text += source_excerpt(diagnostic.where);
    }
    if (!diagnostic.accepted.empty()) {
        text += fmt::format("  accepted: {}\n", visible_lines(diagnostic.accepted));
    }
    if (!diagnostic.hint.empty()) {
        text += fmt::format("  {}\n", visible_lines(diagnostic.hint));
    }
    for (const Note& note : diagnostic.notes) {
        text += fmt::format("{}: note: {}\n", place(note.where), visible_lines(note.message));
        text += source_excerpt(note.where);
    }
    return text;
}

std::string format_diagnostics(std::vector<Diagnostic> diagnostics) {
    const std::size_t count = diagnostics.size();
    std::string text;
    std::string names;
    std::size_t printed = 0;
    for (const std::vector<Diagnostic>& group : by_file(std::move(diagnostics))) {
        const Position& where = group.front().where;
        names +=
            (names.empty() ? "" : ", ") + (where.file ? visible_text(where.file->name) : "job");
        for (const Diagnostic& diagnostic : group) {
            if (printed++ < kPrinted) {
                text += format_diagnostic(diagnostic);
            }
        }
    }
    if (count > kPrinted) {
        text += fmt::format("and {} more\n", count - kPrinted);
    }
    return text + fmt::format("{} error{} in {}; nothing was computed.\n", count,
                              count == 1 ? "" : "s", names);
}

}  // namespace standfast
