#include "fea/judgement/speed/tool_stress.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

TEST(ToolStress, AtTheHolderFaceIsTheTextbookCantilever) {
    const ToolChain tool = test_tool();
    const ToolStressResult found = judge_tool_stress(tool, 300, 0.010, Limits{});
    // By hand: 300 N x (58 - 5) mm = 15.9 N m on a 10 mm shank, W = 98.17 mm^3: 162 MPa; on the
    // flutes (8 mm equivalent) 300 x (25 - 5) mm = 6 N m, W = 50.27 mm^3: 119 MPa.
    EXPECT_NEAR(found.stress, 161.96e6, 0.01e6);
    EXPECT_EQ(found.where, "holder face");
    EXPECT_NEAR(found.at_height, 0.058, 1e-12);
    EXPECT_NEAR(found.allowed, 1.2e9, 1);
}

TEST(ToolStress, ANeckIsWhereItBreaks) {
    ToolChain tool = test_tool();
    tool.cutter.neck_diameter = 0.006;
    tool.cutter.neck_length = 0.020;
    const ToolStressResult found = judge_tool_stress(tool, 300, 0.010, Limits{});
    EXPECT_EQ(found.where, "neck");
    EXPECT_NEAR(found.stress, 300 * 0.040 * 32 / (std::numbers::pi * std::pow(0.006, 3)), 1);
}

TEST(ToolStress, FlutesRightUpToTheHolderCountAtTheirEquivalentDiameter) {
    ToolChain tool = test_tool();
    tool.cutter.flute_length = 0.060;
    const ToolStressResult found = judge_tool_stress(tool, 300, 0.010, Limits{});
    EXPECT_NEAR(found.stress, 161.96e6 / std::pow(0.8, 3), 0.02e6);
}

TEST(ToolStress, SegmentsAreCountedFromTheHolderFace) {
    ToolChain tool = test_tool();
    tool.cutter.segments = {{.diameter = 0.012, .length = 0.030, .material = test_carbide()},
                            {.diameter = 0.006, .length = 0.028, .material = test_carbide()}};
    const ToolStressResult found = judge_tool_stress(tool, 100, 0.002, Limits{});
    EXPECT_EQ(found.where, "segment 2");
    EXPECT_NEAR(found.at_height, 0.028, 1e-12);
}

TEST(ToolStress, GrowsWithStickoutAndFallsWithTheCubeOfTheDiameter) {
    ToolChain tool = test_tool();
    tool.cutter.flute_length = 0.001;
    const double before = judge_tool_stress(tool, 100, 0, Limits{}).stress;
    tool.cutter.stickout *= 2;
    EXPECT_NEAR(judge_tool_stress(tool, 100, 0, Limits{}).stress, 2 * before, 1e-6 * before);
    tool.cutter.shank_diameter *= 2;
    EXPECT_NEAR(judge_tool_stress(tool, 100, 0, Limits{}).stress, before / 4, 1e-6 * before);
}

TEST(ToolStress, IsNotJudgedWhereShapeOrStrengthIsUnknown) {
    ToolChain tool = test_tool();
    tool.rigid = true;
    EXPECT_FALSE(judge_tool_stress(tool, 100, 0.01, Limits{}).judged);
    tool = test_tool();
    tool.cutter.material.strength.reset();
    const ToolStressResult found = judge_tool_stress(tool, 100, 0.01, Limits{});
    EXPECT_FALSE(found.judged);
    EXPECT_FALSE(found.why_not.empty());
}

}  // namespace
}  // namespace standfast
