// Words of the trade that are no keys of a job: which key the reader points to.
#include "cli/job/read/trade_words.hpp"

#include <gtest/gtest.h>

#include <string>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

bool has(const std::string& text, const std::string& part) {
    return text.find(part) != std::string::npos;
}

TEST(TradeWords, OfACutPointToTheKeyOfAPass) {
    for (const char* word : {"doc", "ap", "stepdown", "step_down", "DOC", "depth of cut"}) {
        EXPECT_TRUE(has(trade_word_here(word, "pass"), "called axial")) << word;
    }
    for (const char* word : {"ae", "stepover", "step-over", "woc", "width_of_cut"}) {
        EXPECT_TRUE(has(trade_word_here(word, "pass"), "called radial")) << word;
    }
    for (const char* word : {"chipload", "chip_load", "fpt", "fz", "ipm"}) {
        EXPECT_TRUE(has(trade_word_here(word, "pass"), "called feed")) << word;
    }
    for (const char* word : {"rpm", "spindle_speed", "sfm", "vc"}) {
        EXPECT_TRUE(has(trade_word_here(word, "pass"), "called speed")) << word;
    }
    EXPECT_TRUE(has(trade_word_here("sfm", "pass"), "400 sfm"));
}

TEST(TradeWords, MeanAnotherKeyInAnotherTable) {
    EXPECT_TRUE(has(trade_word_here("rpm", "machine"), R"(speed = ["500 rpm", "12000 rpm"])"));
    EXPECT_TRUE(has(trade_word_here("max_rpm", "tool"), "called speed_max"));
    EXPECT_TRUE(has(trade_word_here("flutes", "tool.cutter"), "called teeth"));
    EXPECT_TRUE(has(trade_word_here("oal", "tool.cutter"), "called overall"));
    EXPECT_TRUE(has(trade_word_here("bolts", "tier.joint"), "called screws"));
    EXPECT_TRUE(has(trade_word_here("thickness", "riser"), "called height")) << "a riser is a tier";
    EXPECT_EQ(trade_word_here("doc", "tool"), "");
    EXPECT_TRUE(has(trade_word_elsewhere("doc", "tool"), "belongs to [[pass]]"));
    EXPECT_EQ(trade_word_elsewhere("heigth", "tier"), "");
}

TEST(TradeWords, TheKindOfATableFollowsFromItsPath) {
    EXPECT_EQ(table_kind("tool[0].cutter"), "tool.cutter");
    EXPECT_EQ(table_kind("tier[12].side[3]"), "tier.side");
    EXPECT_EQ(table_kind(R"(material."a.b [c]")"), "material");
    EXPECT_EQ(table_kind(R"(adjust."riser".joint)"), "adjust.joint");
    EXPECT_EQ(table_kind(""), "");
}

TEST(TradeWords, TheReaderSaysThemWhereTheKeyStands) {
    const ReadResult read = read_job_text("[[pass]]\nstepover = \"1 mm\"\n", "job.toml");
    const std::string faults = format_diagnostics(read.errors);
    EXPECT_TRUE(has(faults, "job.toml:2:1: error: pass 1: unknown key \"stepover\"")) << faults;
    EXPECT_TRUE(has(faults, "here it is called radial")) << faults;
}

TEST(TradeWords, AKeyOfTheJobIsNeverTakenForAWordOfTheTrade) {
    // A key that is known in its table is no word for another one there.
    for (const char* key : {"name", "tool", "tier", "at", "to", "wall", "tilt", "radial", "axial",
                            "feed", "speed", "speeds", "tolerance", "leave", "state", "milling"}) {
        EXPECT_EQ(trade_word_here(key, "pass"), "") << key;
    }
    for (const char* key : {"diameter", "teeth", "helix", "corner", "flute", "shank", "overall",
                            "stickout", "runout", "material", "hand", "neck", "pitch"}) {
        EXPECT_EQ(trade_word_here(key, "tool.cutter"), "") << key;
    }
}

}  // namespace
}  // namespace standfast
