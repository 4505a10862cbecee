#include <gtest/gtest.h>

#include <fstream>
#include <iterator>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

ReadResult read_with(const std::string& overlay) {
    std::ifstream stream(STANDFAST_SOURCE_DIR "/examples/06-fourth-axis-tailstock/job.toml");
    const std::string job{std::istreambuf_iterator<char>(stream), {}};
    return read_job_text(job + "\n" + overlay, "job.toml");
}

std::string first_fault(const std::string& overlay) {
    const ReadResult result = read_with(overlay);
    return result.errors.empty() ? "no fault" : result.errors.front().message;
}

TEST(Overlay, FactorsReachTableSpindleSupportAndJoints) {
    const ReadResult plain = read_with("");
    ASSERT_TRUE(plain.job);
    ASSERT_FALSE(plain.job->stack.supports.empty());
    const std::string tier = plain.job->stack.tiers[0].name;
    const std::string tool = plain.job->tools[0].name;
    const std::string support = plain.job->stack.supports[0].name;
    const ReadResult result = read_with(
        "[adjust.machine.table]\nstiffness = 0.5\nstiffness_spread = 1.2\n"
        "[adjust.machine.spindle]\nloss = 2\n"
        "[adjust.\"" +
        tier + "\".joint]\nstiffness = 0.7\n" + "[adjust.\"" + support +
        "\".support]\nstiffness = 0.8\nloss_spread = 1.5\n" + "[adjust.\"" + tool +
        "\".grip]\nloss = 1.4\n");
    ASSERT_TRUE(result.job) << format_diagnostics(result.errors);
    const Job& job = *result.job;
    EXPECT_EQ(job.machine.table.adjusted.stiffness, 0.5);
    EXPECT_EQ(job.machine.table.adjusted.stiffness_spread, 1.2);
    EXPECT_EQ(job.machine.spindle.adjusted.loss, 2);
    EXPECT_EQ(job.stack.tiers[0].joint.stiffness_adjust, 0.7);
    EXPECT_EQ(job.stack.tiers[0].joint.measured_as, tier + " joint");
    EXPECT_EQ(job.stack.supports[0].adjusted.stiffness, 0.8);
    EXPECT_TRUE(job.stack.supports[0].measured);
    EXPECT_EQ(job.tools[0].grip.loss_adjust, 1.4);
}

TEST(Overlay, WhatHangsTogetherIsKept) {
    const ReadResult result =
        read_with("[together]\ngroups = [\"a\", \"b\"]\ncorrelation = [[1, -0.4], [-0.4, 1]]\n");
    ASSERT_TRUE(result.job) << format_diagnostics(result.errors);
    ASSERT_TRUE(result.job->fitted);
    EXPECT_EQ(result.job->fitted->groups, (std::vector<std::string>{"a", "b"}));
    EXPECT_EQ(result.job->fitted->correlation(1, 0), -0.4);
}

TEST(Overlay, WhatIsNoCorrelationIsRefused) {
    EXPECT_NE(first_fault("[together]\ngroups = [\"a\", \"b\"]\ncorrelation = [[1, 2], [2, 1]]\n"),
              "no fault");
    EXPECT_NE(first_fault("[together]\ngroups = [\"a\", \"b\"]\ncorrelation = [[1, 0.2]]\n"),
              "no fault");
    EXPECT_NE(
        first_fault("[together]\ngroups = [\"a\", \"b\"]\ncorrelation = [[1, 0.9], [-0.9, 1]]\n"),
        "no fault");
    EXPECT_NE(first_fault("[together]\ngroups = []\ncorrelation = []\n"), "no fault");
    EXPECT_NE(first_fault("[together]\ngroups = [1, 2]\ncorrelation = [[1, 0], [0, 1]]\n"),
              "no fault");
}

TEST(Overlay, ANameThatIsNotThereIsToldWithTheNearest) {
    const ReadResult result = read_with("[adjust.machin.table]\nstiffness = 0.5\n");
    ASSERT_EQ(result.errors.size(), 1U);
    EXPECT_NE(result.errors[0].hint.find("machine"), std::string::npos) << result.errors[0].hint;
}

}  // namespace
}  // namespace standfast
