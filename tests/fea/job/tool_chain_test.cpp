#include "fea/job/tool_chain.hpp"

#include <gtest/gtest.h>

namespace standfast {
namespace {

TEST(ToolChain, GaugeLengthIsHolderAndStickout) {
    ToolChain tool;
    tool.holder = {{.diameter = 0.05, .diameter_to = 0.05, .length = 0.035, .material = {}},
                   {.diameter = 0.032, .diameter_to = 0.026, .length = 0.060, .material = {}}};
    tool.cutter.stickout = 0.058;
    EXPECT_NEAR(gauge_length(tool), 0.153, 1e-15);
}

TEST(ToolChain, ACutterSpelledOutSticksOutByTheSumOfItsSegments) {
    Cutter cutter;
    cutter.segments = {{.diameter = 0.012, .length = 0.030, .material = {}},
                       {.diameter = 0.0096, .length = 0.040, .material = {}}};
    EXPECT_NEAR(stickout_of(cutter), 0.070, 1e-15);
    cutter.stickout = 0.080;
    EXPECT_NEAR(stickout_of(cutter), 0.080, 1e-15);
}

}  // namespace
}  // namespace standfast
