#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "cli/text/text_block.hpp"

namespace standfast {

/// What a piece of text is, for colour. Colour never carries a meaning alone: the words and the
/// hatching in front of them say the same.
enum class Ink { plain, label, strong, faint, unflagged, marginal, avoid };

/// Text in the ink's colour, or as it is where colour is false.
std::string inked(std::string_view text, Ink ink, bool color);

/// One statement: a short lead ("quiet", "1") and its text. Leads of a section line up; the text
/// wraps under itself.
struct Statement {
    std::string lead;
    std::string text;
    Ink lead_ink = Ink::plain;
    Ink ink = Ink::plain;
};

/// A label in the left gutter and its statements. Without a label the statements start at the
/// left edge of the gutter's right side all the same.
struct Paragraph {
    std::string label;
    std::vector<Statement> entries;
};

struct Page {
    int width = 80;  ///< columns; less than 40 counts as 40, more than 100 as 100
    int gutter = 12;
    bool color = false;
};

/// Sections one under the other, every line within the page's width, each ending in a line feed.
/// On a narrow page (less than 60) the label stands on a line of its own and leads stay short.
std::string set_out(const std::vector<Paragraph>& sections, const Page& page);

/// Text broken into lines of at most `width` columns at spaces, but not between a number and the
/// unit behind it; a longer word is cut. At least one line.
std::vector<std::string> broken_into_lines(std::string_view text, int width);

/// Names from files as they may be shown: visible_text(). set_out does it to every entry.
std::string printable(std::string_view text);

}  // namespace standfast
