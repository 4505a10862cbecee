#include "cli/commands/materials_text.hpp"

#include <gtest/gtest.h>

#include <sstream>

#include "cli/text/text_block.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

constexpr UnitSystem both[] = {UnitSystem::metric, UnitSystem::inch};

std::string text_of(const char* name, UnitSystem system = UnitSystem::metric) {
    return material_text(built_in_catalogue(), name, system);
}

std::size_t widest_line(const std::string& text) {
    std::istringstream lines(text);
    std::size_t widest = 0;
    for (std::string line; std::getline(lines, line);) widest = std::max(widest, columns(line));
    return widest;
}

TEST(MaterialsText, EveryNameShowsItsFiguresAndSourceWithinTheScreen) {
    for (const std::string& name : catalogue_names(built_in_catalogue())) {
        for (const UnitSystem system : both) {
            const std::string text = text_of(name.c_str(), system);
            EXPECT_NE(text.find("source ("), std::string::npos) << name;
            EXPECT_LE(widest_line(text), 100U) << text;
            EXPECT_EQ(text.find("nan"), std::string::npos) << text;
            EXPECT_EQ(text.find("inf "), std::string::npos) << text;
        }
    }
}

TEST(MaterialsText, TheListHasALineForEveryRowWithinTheScreen) {
    const Catalogue& catalogue = built_in_catalogue();
    for (const UnitSystem system : both) {
        const std::string list = materials_list_text(catalogue, system);
        EXPECT_LE(widest_line(list), 100U);
        for (const Material& row : catalogue.materials) {
            EXPECT_NE(list.find("\n  " + row.name + " "), std::string::npos) << row.name;
        }
        for (const CuttingData& row : catalogue.cutting) {
            EXPECT_NE(list.find("\n  " + shortened(row.name, 47)), std::string::npos) << row.name;
        }
        for (const JointKind& row : catalogue.joints) {
            EXPECT_NE(list.find("\n  " + row.name + " "), std::string::npos) << row.name;
        }
    }
}

TEST(MaterialsText, AMaterialShowsItsCuttingForces) {
    const std::string text = text_of("4140");
    EXPECT_NE(text.find("205 GPa"), std::string::npos) << text;
    EXPECT_NE(text.find("7850 kg/m3"), std::string::npos) << text;
    EXPECT_NE(text.find("1725 N/mm2"), std::string::npos) << text;
    EXPECT_NE(text.find("read in the document named"), std::string::npos) << text;
}

// ASM and every handbook: steel 29.7 Msi and 0.284 lb/in3 for 205 GPa and 7850 kg/m3.
TEST(MaterialsText, InchFiguresAreTheOnesInchShopsKnow) {
    const std::string text = text_of("4140", UnitSystem::inch);
    EXPECT_NE(text.find("29.73 Msi"), std::string::npos) << text;
    EXPECT_NE(text.find("0.2836 lb/in3"), std::string::npos) << text;
}

TEST(MaterialsText, ATaperBringsItsSpindleAndAGripItsHolder) {
    EXPECT_NE(text_of("BT40").find("spindle at the gauge line"), std::string::npos);
    EXPECT_NE(text_of("shrink fit").find("typical holder"), std::string::npos);
    const std::string collet = text_of("collet");
    EXPECT_NE(collet.find("joint under a tier"), std::string::npos);
    EXPECT_NE(collet.find("grip, cutter in holder"), std::string::npos);
}

TEST(MaterialsText, AnUnknownNameShowsNothing) {
    EXPECT_EQ(text_of("unobtainium"), "");
    EXPECT_EQ(text_of(""), "");
}

TEST(TextBlock, FiguresKeepTheirDigitsAndLoseTheirNoughts) {
    EXPECT_EQ(figure(7850), "7850");
    EXPECT_EQ(figure(7870.4, 4), "7870");
    EXPECT_EQ(figure(0.29), "0.29");
    EXPECT_EQ(figure(999.9), "1000");
    EXPECT_EQ(figure(0.00015, 2), "0.00015");
    EXPECT_EQ(figure(-2.5), "-2.5");
    EXPECT_EQ(figure(0), "0");
    EXPECT_EQ(figure(123456), "123000");
}

TEST(TextBlock, LinesBreakAtSpacesAndLongWordsStayWhole) {
    EXPECT_EQ(wrapped("one two three", 2, 9), "  one two\n  three\n");
    EXPECT_EQ(wrapped("unbreakable", 0, 4), "unbreakable\n");
    EXPECT_EQ(wrapped("", 2, 9), "");
    EXPECT_EQ(columns("\xC2\xB5m"), 2U);
    EXPECT_EQ(shortened("abcdefgh", 6), "abc...");
}

}  // namespace
}  // namespace standfast
