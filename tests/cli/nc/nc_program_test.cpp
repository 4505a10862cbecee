// Programs are invented. What the codes mean: ISO 6983-1, from memory.
#include "cli/nc/nc_program.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>
#include <string>

namespace standfast {
namespace {

bool remarks_hold(const NcProgram& program, std::string_view piece) {
    return std::ranges::any_of(program.remarks, [&](const NcRemark& remark) {
        return remark.text.find(piece) != std::string::npos;
    });
}

constexpr const char* kTwoTools =
    "%\n"
    "O0001 (BRACKET, INVENTED)\n"
    "G21 G90 G94 G17\n"
    "(12 MM ROUGHER)\n"
    "T1 M6\n"
    "S6000 M3\n"
    "G0 X-20. Y0. Z5.\n"
    "G1 Z-4. F300.\n"
    "X40. F1200.\n"
    "Y30.\n"
    "G0 Z5.\n"
    "G0 X-20. Y0.\n"
    "G1 Z-8. F300.\n"
    "X40. F1200.\n"
    "G2 X50. Y10. I0. J10.\n"
    "G0 Z50. M9\n"
    "N100T2M6(6MM FINISHER)\n"
    "N110S9000M3\n"
    "N120G0X0Y0Z5.\n"
    "N130G1Z-8.F200\n"
    "N140X40.Y0.F700\n"
    "M30\n"
    "%\n";

TEST(NcProgram, ToolsSpeedsFeedsAndLevelsAreThoseThatStandThere) {
    const NcProgram program = read_nc_program(kTwoTools);
    ASSERT_EQ(program.tools.size(), 2U);
    EXPECT_EQ(program.tools[0].number, 1);
    EXPECT_EQ(program.tools[0].comment, "12 MM ROUGHER");
    EXPECT_EQ(program.tools[1].comment, "6MM FINISHER");
    ASSERT_EQ(program.cuts.size(), 2U) << "plunges are no passes";
    const NcCut& rough = program.cuts[0];
    EXPECT_EQ(rough.speed, 6000);
    EXPECT_EQ(rough.feed, 1200);
    EXPECT_FALSE(rough.inch);
    EXPECT_EQ(rough.levels, (std::vector<double>{-4, -8}));
    EXPECT_EQ(rough.blocks, 4U);
    EXPECT_EQ(rough.first_line, 9U);
    EXPECT_EQ(rough.last_line, 15U);
    EXPECT_EQ(program.cuts[1].feed, 700);
    EXPECT_EQ(program.cuts[1].levels, (std::vector<double>{-8}));
    EXPECT_TRUE(program.units_said);
    EXPECT_TRUE(program.remarks.empty()) << program.remarks.front().text;
}

TEST(NcProgram, InchFeedAWayAndSurfaceSpeedAreKeptApart) {
    const NcProgram program = read_nc_program(
        "G20 G91 G95\nT5\nG96 S400 M4\nG1 Z-.1 F.004\nX1.\nG97 S3000\nZ-.1\nX1.\nM2\n");
    ASSERT_EQ(program.cuts.size(), 2U);
    EXPECT_TRUE(program.cuts[0].inch);
    EXPECT_EQ(program.cuts[0].tool, 5) << "without any M6 the T itself changes the tool";
    EXPECT_EQ(program.cuts[0].spindle, NcSpindle::surface);
    EXPECT_EQ(program.cuts[0].speed, 400);
    EXPECT_EQ(program.cuts[0].feed_kind, NcFeed::per_turn);
    EXPECT_EQ(program.cuts[0].feed, .004);
    EXPECT_TRUE(program.cuts[0].levels_unknown) << "steps from a height that nobody said";
    EXPECT_EQ(program.cuts[1].spindle, NcSpindle::turns);
}

TEST(NcProgram, StepsFromAKnownHeightAddUp) {
    const NcProgram program = read_nc_program(
        "G21\nT1M6\nS5000M3\nG90G0Z2.\nG91G1Z-4.F100\nX10.F500\nZ-2.F100\nX-10.F500\n");
    ASSERT_EQ(program.cuts.size(), 1U);
    EXPECT_EQ(program.cuts[0].levels, (std::vector<double>{-2, -4}));
}

TEST(NcProgram, RampsAreToldBySlopeNotByLevel) {
    const NcProgram program =
        read_nc_program("G21 G90\nT1 M6\nS5000 M3\nG0 Z1.\nG1 X50. Z-3. F500\nX0. Z-6.\n");
    ASSERT_EQ(program.cuts.size(), 1U);
    EXPECT_TRUE(program.cuts[0].levels.empty());
    EXPECT_EQ(program.cuts[0].slope_high, 1);
    EXPECT_EQ(program.cuts[0].slope_low, -6);
}

TEST(NcProgram, WhatIsNoPlainWordIsListedAndNotGuessed) {
    const NcProgram program = read_nc_program(
        "G21 G90\nT1 M6\nS5000 M3\nG0 Z5.\n#101=3.\nG1 Z-[#101*2] F300\nX10. F500\nG81 X5. Y5. "
        "Z-9. "
        "R1. F80\nX20.\nG80\nM98 P1234\nG1 X30.\nA90.\nG68.2 X0\nM123\n/G1 X0\n");
    EXPECT_TRUE(remarks_hold(program, "#101=3."));
    EXPECT_TRUE(remarks_hold(program, "Z-[#101*2]"));
    EXPECT_TRUE(remarks_hold(program, "G81 to G89"));
    EXPECT_TRUE(remarks_hold(program, "subprogram"));
    EXPECT_TRUE(remarks_hold(program, "rotary"));
    EXPECT_TRUE(remarks_hold(program, "G68.2"));
    EXPECT_TRUE(remarks_hold(program, "M123"));
    EXPECT_TRUE(remarks_hold(program, "begin with /"));
    ASSERT_FALSE(program.cuts.empty());
    EXPECT_TRUE(program.cuts[0].levels.empty()) << "its depth is an expression";
    EXPECT_TRUE(program.cuts[0].levels_unknown);
}

TEST(NcProgram, WholeNumbersForADepthAreRemarkedUpon) {
    const NcProgram program =
        read_nc_program("G21 G90\nT1 M6\nS5000 M3\nG0 Z5\nG1 Z-4000 F300\nX10 F500\n");
    EXPECT_TRUE(remarks_hold(program, "decimal point"));
}

TEST(NcProgram, WhatFollowsTheEndIsNotRead) {
    const NcProgram program =
        read_nc_program("G21\nT1 M6\nS5000 M3\nG0 Z-1.\nG1 X9. F500\nM30\nO9000\nG1 X1. F9\n");
    EXPECT_EQ(program.cuts.size(), 1U);
    EXPECT_TRUE(remarks_hold(program, "after the program's end"));
}

TEST(NcProgram, AnyBytesEndInAProgram) {
    std::mt19937 random(7);
    const std::string letters = "GMTSFXYZIJKNO0123456789.-+ \n()/%;#[]=";
    for (int round = 0; round < 300; ++round) {
        std::string text;
        for (int i = 0; i < 400; ++i) {
            text += round % 2 == 0 ? static_cast<char>(random() % 256)
                                   : letters[random() % letters.size()];
        }
        const NcProgram program = read_nc_program(text);
        for (const NcCut& cut : program.cuts) {
            EXPECT_TRUE(std::ranges::is_sorted(cut.levels, std::greater<>()));
            EXPECT_LE(cut.first_line, cut.last_line);
        }
    }
}

TEST(NcProgram, TenThousandFeedsAreTooManyPassesAndSaidSo) {
    std::string text = "G21 G90\nT1 M6\nS5000 M3\nG0 Z-1.\nG1\n";
    for (int feed = 1; feed <= 10000; ++feed) {
        text += "X1. F" + std::to_string(feed) + "\n";
    }
    const NcProgram program = read_nc_program(text);
    EXPECT_LE(program.cuts.size(), 200U);
    EXPECT_TRUE(remarks_hold(program, "more tools, speeds and feeds"));
}

}  // namespace
}  // namespace standfast
