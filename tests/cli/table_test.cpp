#include "cli/text/table.hpp"

#include <gtest/gtest.h>

#include <sstream>

namespace standfast {
namespace {

int widest_line(const std::string& text) {
    std::istringstream stream(text);
    std::string line;
    int widest = 0;
    while (std::getline(stream, line)) {
        widest = std::max(widest, static_cast<int>(columns(line)));
    }
    return widest;
}

TEST(Wrapping, BreaksAtSpacesWithinTheWidth) {
    EXPECT_EQ(broken_into_lines("one two three", 7),
              (std::vector<std::string>{"one two", "three"}));
    EXPECT_EQ(broken_into_lines("", 7), (std::vector<std::string>{""}));
}

TEST(Wrapping, KeepsANumberWithItsUnit) {
    EXPECT_EQ(broken_into_lines("about 12 mm, or so", 8),
              (std::vector<std::string>{"about", "12 mm,", "or so"}));
}

TEST(Wrapping, CutsAWordThatIsWiderThanThePage) {
    EXPECT_EQ(broken_into_lines("a abcdefghij", 4),
              (std::vector<std::string>{"a", "abcd", "efgh", "ij"}));
}

TEST(Wrapping, CountsLettersAndNotBytes) {
    EXPECT_EQ(columns("Räder"), 5U);
    EXPECT_EQ(shortened("Räderkasten", 8), "Räder...");
    EXPECT_EQ(broken_into_lines("ääää", 2), (std::vector<std::string>{"ää", "ää"}));
}

TEST(Page, NoLineIsWiderThanThePageAtAnyWidth) {
    const Paragraph paragraph{
        .label = "Label",
        .entries = {{.lead = "lead", .text = "some words that go on for a good while longer"},
                    {.lead = "a lead that is very long indeed, longer than half",
                     .text = std::string(150, 'x')},
                    {.lead = "", .text = "no lead"}}};
    for (int width = 40; width <= 110; ++width) {
        EXPECT_LE(widest_line(set_out({paragraph}, Page{.width = width})), std::min(width, 100))
            << "at " << width << " columns";
    }
}

TEST(Page, ATinyOrAbsurdWidthIsHeldWithinReason) {
    const Paragraph paragraph{.label = "Label", .entries = {{.lead = "x", .text = "words"}}};
    EXPECT_EQ(set_out({paragraph}, Page{.width = -3}), set_out({paragraph}, Page{.width = 40}));
}

TEST(Colour, IsLeftOutWithoutATraceAndEveryEscapeIsClosed) {
    const Paragraph paragraph{.label = "Label",
                              .entries = {{.lead = "## stay off",
                                           .text = "8300 to 9410 rpm",
                                           .lead_ink = Ink::avoid,
                                           .ink = Ink::strong}}};
    const std::string plain = set_out({paragraph}, Page{});
    EXPECT_EQ(plain.find('\x1b'), std::string::npos);
    std::string coloured = set_out({paragraph}, Page{.color = true});
    EXPECT_NE(coloured.find("\x1b["), std::string::npos);
    for (std::size_t at = 0; (at = coloured.find('\x1b')) != std::string::npos;) {
        coloured.erase(at, coloured.find('m', at) - at + 1);
    }
    EXPECT_EQ(coloured, plain);
}

TEST(Names, CannotSendCommandsToTheTerminal) {
    EXPECT_EQ(printable("a\x1b[2Jb\nc\x7f"), R"(a\u{1B}[2Jb\u{A}c\u{7F})");
    EXPECT_EQ(printable("\xc2\x9b"
                        "31m"),
              R"(\u{9B}31m)");
    EXPECT_EQ(printable("Räder"), "Räder");
}

}  // namespace
}  // namespace standfast
