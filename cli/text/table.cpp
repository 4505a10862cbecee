#include "cli/text/table.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "cli/text/visible_text.hpp"

namespace standfast {
namespace {

constexpr int kNarrowest = 40;
constexpr int kWidest = 100;
constexpr int kNarrowPage = 60;

bool starts_code_point(char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }

/// Bytes that the first `count` code points take.
std::size_t bytes_of(std::string_view text, int count) {
    std::size_t i = 0;
    for (; i < text.size(); ++i) {
        if (starts_code_point(text[i]) && count-- == 0) {
            break;
        }
    }
    return i;
}

/// Escape sequence of an ink. Blue, brown and violet differ in lightness as well as in hue, so
/// that they stay apart for every kind of colour vision.
std::string_view escape_of(Ink ink) {
    switch (ink) {
        case Ink::label:
            return "\x1b[1m";
        case Ink::strong:
            return "\x1b[1m";
        case Ink::faint:
            return "\x1b[2m";
        case Ink::unflagged:
            return "\x1b[1;38;5;75m";
        case Ink::marginal:
            return "\x1b[1;4;38;5;180m";
        case Ink::avoid:
            return "\x1b[1;7;38;5;177m";
        case Ink::plain:
            break;
    }
    return "";
}

int width_of(std::string_view text) { return static_cast<int>(columns(text)); }

bool ends_in_digit(std::string_view word) {
    return !word.empty() && word.back() >= '0' && word.back() <= '9';
}

/// A unit as our numbers carry it, perhaps with punctuation behind it.
bool is_unit(std::string_view word) {
    static constexpr std::array<std::string_view, 18> kUnits = {
        "mm", "in", "rpm", "mm/min", "ipm", "Hz",  "N",   "lbf",   "kg",
        "lb", "m",  "MPa", "ksi",    "%",   "deg", "sfm", "m/min", "times"};
    const std::size_t end = word.find_last_not_of(",;:.)");
    word = word.substr(0, end == std::string_view::npos ? 0 : end + 1);
    return std::find(kUnits.begin(), kUnits.end(), word) != kUnits.end();
}

/// The text up to its first space, or, of a number with its unit, up to the space after that.
std::string_view next_word(std::string_view text) {
    const std::string_view word = text.substr(0, text.find(' '));
    if (!ends_in_digit(word) || word.size() == text.size()) {
        return word;
    }
    const std::string_view rest = text.substr(word.size() + 1);
    const std::string_view unit = rest.substr(0, rest.find(' '));
    return is_unit(unit) ? text.substr(0, word.size() + 1 + unit.size()) : word;
}

struct Columns {
    int indent = 0;  ///< before the lead
    int lead = 0;    ///< of the lead with the space after it
    int text = 0;
};

Columns columns_of(const Paragraph& section, const Page& page) {
    Columns columns_of_section;
    columns_of_section.indent = page.width < kNarrowPage ? std::min(2, page.gutter) : page.gutter;
    const int room = page.width - columns_of_section.indent;
    for (const Statement& entry : section.entries) {
        if (!entry.lead.empty()) {
            columns_of_section.lead =
                std::max(columns_of_section.lead, std::min(width_of(entry.lead) + 2, room / 2));
        }
    }
    columns_of_section.text = room - columns_of_section.lead;
    return columns_of_section;
}

void append_entry(std::string& out, const Statement& entry, const Columns& at, bool first_in_gutter,
                  bool color) {
    const std::vector<std::string> lines = broken_into_lines(printable(entry.text), at.text);
    const std::string lead = shortened(printable(entry.lead), std::max(0, at.lead - 2));
    for (std::size_t i = 0; i < lines.size(); ++i) {
        std::string line;
        if (i > 0 || !first_in_gutter) {
            line.append(static_cast<std::size_t>(at.indent), ' ');
        }
        if (i == 0 && !lead.empty()) {
            line += inked(lead, entry.lead_ink, color);
        }
        if (!lines[i].empty()) {
            const int written = i == 0 ? width_of(lead) : 0;
            line.append(static_cast<std::size_t>(at.lead - written), ' ');
            line += inked(lines[i], entry.ink, color);
        }
        out += line + "\n";
    }
}

void append_section(std::string& out, const Paragraph& section, const Page& page) {
    const Columns at = columns_of(section, page);
    const bool beside = page.width >= kNarrowPage && width_of(section.label) < at.indent;
    if (!section.label.empty()) {
        out += inked(section.label, Ink::label, page.color);
        out += beside && !section.entries.empty()
                   ? std::string(static_cast<std::size_t>(at.indent - width_of(section.label)), ' ')
                   : "\n";
    }
    bool first = beside && !section.label.empty();
    for (const Statement& entry : section.entries) {
        append_entry(out, entry, at, first, page.color);
        first = false;
    }
}

}  // namespace

std::string inked(std::string_view text, Ink ink, bool color) {
    const std::string_view escape = escape_of(ink);
    if (!color || escape.empty() || text.empty()) {
        return std::string(text);
    }
    return std::string(escape) + std::string(text) + "\x1b[0m";
}

std::string set_out(const std::vector<Paragraph>& sections, const Page& page) {
    Page held = page;
    held.width = std::clamp(page.width, kNarrowest, kWidest);
    std::string out;
    for (const Paragraph& section : sections) {
        append_section(out, section, held);
    }
    return out;
}

std::vector<std::string> broken_into_lines(std::string_view text, int width) {
    std::vector<std::string> lines;
    std::string line;
    while (!text.empty()) {
        std::string_view word = next_word(text);
        text.remove_prefix(std::min(text.size(), word.size() + 1));
        const int taken = line.empty() ? 0 : width_of(line) + 1;
        if (!line.empty() && taken + width_of(word) > width) {
            line.erase(line.find_last_not_of(' ') + 1);
            lines.push_back(std::exchange(line, {}));
        }
        while (width_of(word) > width) {
            const std::size_t cut = bytes_of(word, width);
            lines.emplace_back(word.substr(0, cut));
            word.remove_prefix(cut);
        }
        line += (line.empty() ? "" : " ") + std::string(word);
    }
    if (!line.empty() || lines.empty()) {
        lines.push_back(line);
    }
    return lines;
}

std::string printable(std::string_view text) { return visible_text(text); }

}  // namespace standfast
