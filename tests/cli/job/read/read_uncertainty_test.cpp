// [uncertainty]: what a job knows better than the catalogue.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

constexpr const char* kJob = R"(
[machine]
kind = "5-axis, table tilts"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]
[[tier]]
name = "part"
material = "6061"
block = ["2.75 in", "2 in"]
height = "3.75 in"
joint = { kind = "dovetail", width = "1.25 in" }
[[tool]]
name = "finisher"
grip = "shrink"
cutter = { diameter = "3/8 in", teeth = 3, stickout = "2.25 in" }
[[pass]]
radial = "0.010 in"
axial = "0.5 in"
feed = "0.0024 in"
speed = "9000 rpm"
[uncertainty]
)";

ReadResult read_with(const std::string& lines) { return read_job_text(kJob + lines, "job.toml"); }

TEST(ReadUncertainty, FactorsForAllAndByName) {
    const ReadResult result = read_with(R"(
joint_stiffness = { dovetail = 1.4, bolted = 3 }
modulus = 1.05
loss = { "6061" = 2 }
cutting_force = 1.1
runout = { finisher = 1.2 }
draws = 64
seed = 7
)");
    ASSERT_TRUE(result.errors.empty()) << format_diagnostics(result.errors);
    const Uncertainty& own = result.job->uncertainty;
    EXPECT_EQ(own.joint_stiffness.of("dovetail"), 1.4);
    EXPECT_EQ(own.joint_stiffness.of("bolted"), 3);
    EXPECT_FALSE(own.joint_stiffness.of("vice"));
    EXPECT_EQ(own.modulus.of("any metal"), 1.05);
    EXPECT_EQ(own.loss.of(result.job->stack.tiers[0].material.name), 2)
        << "a short name stands for the row's own";
    EXPECT_EQ(own.cutting_force.all, 1.1);
    EXPECT_EQ(own.runout.of("finisher"), 1.2);
    EXPECT_EQ(own.draws, 64);
    EXPECT_EQ(own.seed, 7U);
}

TEST(ReadUncertainty, SaysNothingWhereTheJobDoesNot) {
    const ReadResult result = read_with("");
    ASSERT_TRUE(result.job);
    EXPECT_FALSE(result.job->uncertainty.joint_stiffness.of("dovetail"));
    EXPECT_FALSE(result.job->uncertainty.draws);
}

TEST(ReadUncertainty, AStickoutIsSetWithinTwoMillimetresUnlessSaid) {
    const auto listed = [](const ReadResult& result) {
        return std::ranges::any_of(result.job->assumed, [](const Assumption& one) {
            return one.path == "uncertainty.stickout";
        });
    };
    const ReadResult unsaid = read_with("");
    EXPECT_EQ(unsaid.job->uncertainty.stickout, 2e-3);
    EXPECT_TRUE(listed(unsaid));
    const ReadResult exact = read_with("stickout = \"0 mm\"\n");
    EXPECT_EQ(exact.job->uncertainty.stickout, 0);
    EXPECT_FALSE(listed(exact));
    EXPECT_FALSE(read_with("stickout = \"60 mm\"\n").job) << "that is a stickout, no tolerance";
}

TEST(ReadUncertainty, AllFaultsAtOnceWithTheNearestName) {
    ReadResult result = read_with(R"(
joint_stiffness = { dovtail = 1.4 }
grip_stiffness = { dovetail = 2 }
modulus = 0.9
runout = { finischer = 1.2 }
force = 2
seed = -1
)");
    EXPECT_FALSE(result.job);
    EXPECT_EQ(result.errors.size(), 6U);
    const std::string text = format_diagnostics(std::move(result.errors));
    EXPECT_NE(text.find(R"(did you mean "dovetail"?)"), std::string::npos) << text;
    EXPECT_NE(text.find(R"(did you mean "finisher"?)"), std::string::npos) << text;
}

}  // namespace
}  // namespace standfast
