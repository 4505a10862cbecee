// "Copy as job": the job file with what was turned, and nothing else changed.
#include <gtest/gtest.h>

#include "tests/cli/explore/explored_job.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::explored_example;

Job read_back(const std::string& text) {
    ReadResult read = read_job_text(text, "copied.toml", {});
    EXPECT_TRUE(read.job) << (read.errors.empty() ? "" : read.errors.front().message);
    return read.job ? std::move(*read.job) : Job{};
}

TEST(JobText, IsTheJobItselfWhereNothingWasTurned) {
    const ExploreInput input = explored_example("07-thin-tall-wall", 0);
    EXPECT_EQ(job_text(input, input.start.front().setting), input.text.toml);
}

TEST(JobText, SaysTheSizesThatWereTurnedAndReadsBackAsThem) {
    for (const char* name : {"01-shortest-job", "07-thin-tall-wall"}) {
        const ExploreInput input = explored_example(name, 0);
        ExploreSetting setting = input.start.front().setting;
        setting.riser_height = 0.1234;
        setting.stickout = 0.0575;
        setting.depth = 0.0123;
        setting.speed = SpindleSpeed::from_rpm(8000);
        const Job expected = with_setting(input.job, setting);
        const Job found = read_back(job_text(input, setting));
        ASSERT_EQ(found.stack.tiers.size(), expected.stack.tiers.size()) << name;
        for (std::size_t i = 0; i < found.stack.tiers.size(); ++i) {
            EXPECT_DOUBLE_EQ(found.stack.tiers[i].height, expected.stack.tiers[i].height) << name;
        }
        const Cutter &a = found.tools.front().cutter, &b = expected.tools.front().cutter;
        EXPECT_DOUBLE_EQ(a.stickout, b.stickout) << name;
        EXPECT_DOUBLE_EQ(a.flute_length, b.flute_length) << name;
        const Pass &p = found.passes.front(), &q = expected.passes.front();
        EXPECT_DOUBLE_EQ(*p.axial, *q.axial) << name;
        EXPECT_DOUBLE_EQ(p.speed->rpm(), q.speed->rpm()) << name;
        ASSERT_EQ(p.path.size(), q.path.size());
        EXPECT_NEAR((p.path.front() - q.path.front()).norm(), 0, 1e-12) << name;
        EXPECT_EQ(found.title, expected.title);
    }
}

/// Units as the job gives them; a depth that it leaves open is put under its header.
TEST(JobText, KeepsTheJobsOwnUnitsAndWritesWhatWasOpen) {
    const tests::TemporaryFolder folder;
    const std::string path = folder.write("open.toml", R"(# "\u00fc" keeps columns honest: ü
[machine]
kind = "3-axis"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]

[[tier]]
name = "riser ü"
material = "steel"
round = "4 in"
height = "6 in" # height = "6 in"

[[tier]]
name = "part"
material = "6061"
block = ["2.75 in", "2 in"]
height = "3.75 in"
joint = { kind = "dovetail", width = "1.25 in" }

[[tool]]
grip = "shrink"
cutter = { diameter = "3/8 in", teeth = 3, stickout = '2.25 in' }

[[pass]]
radial = "0.010 in"
feed = "0.0024 in"
)");
    const ReadResult read = read_job(path, {});
    ASSERT_TRUE(read.job);
    const ExploreInput input = make_explore_input(path, *read.job, {}, StabilityMethod::periodic,
                                                  {.draws = 0}, UnitSystem::inch);
    ExploreSetting setting = input.start.front().setting;
    setting.riser_height = 5 * 0.0254;
    setting.stickout = 2 * 0.0254;
    setting.depth = 0.01;
    setting.speed = SpindleSpeed::from_rpm(7000);
    const std::string text = job_text(input, setting);
    EXPECT_NE(text.find("height = \"5 in\" # height = \"6 in\""), std::string::npos) << text;
    EXPECT_NE(text.find("stickout = \"2 in\" }"), std::string::npos) << text;
    const Job found = read_back(text);
    EXPECT_DOUBLE_EQ(*found.passes.front().axial, 0.01);
    EXPECT_DOUBLE_EQ(found.passes.front().speed->rpm(), 7000);
}

TEST(JobText, WhatStandsInAnotherFileIsSaidInAComment) {
    const tests::TemporaryFolder folder;
    folder.write("tools.toml", R"([[tool]]
name = "finisher"
grip = "shrink"
cutter = { diameter = "10 mm", teeth = 3, stickout = "50 mm" }
)");
    const std::string path = folder.write("job.toml", R"(use = ["tools.toml"]
[machine]
kind = "3-axis"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]
[[tier]]
name = "part"
material = "6061"
block = ["70 mm", "50 mm"]
height = "95 mm"
[[pass]]
radial = "0.3 mm"
axial = "10 mm"
feed = "0.06 mm"
speed = "9000 rpm"
)");
    const ReadResult read = read_job(path, {});
    ASSERT_TRUE(read.job) << read.errors.front().message;
    const ExploreInput input = make_explore_input(path, *read.job, {}, StabilityMethod::periodic,
                                                  {.draws = 0}, UnitSystem::metric);
    ExploreSetting setting = input.start.front().setting;
    setting.stickout = 0.06;
    const std::string text = job_text(input, setting);
    EXPECT_TRUE(text.starts_with("# To be changed where it stands")) << text;
    EXPECT_NE(text.find("cutter.stickout = \"60 mm\""), std::string::npos) << text;
    EXPECT_TRUE(text.ends_with(input.text.toml));
}

}  // namespace
}  // namespace standfast
