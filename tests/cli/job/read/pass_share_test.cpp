// How much of the cutting a pass is: length or share, said the same way in every pass.
#include <gtest/gtest.h>

#include <string>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

ReadResult read_two(const std::string& first, const std::string& second) {
    const std::string pass =
        "radial = \"0.2 mm\"\naxial = \"5 mm\"\nfeed = \"0.05 mm\"\nspeed = \"9000 rpm\"\n";
    return read_job_text(R"(
[machine]
kind = "5-axis, table tilts"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]
[[tier]]
name = "riser"
material = "steel"
round = "100 mm"
height = "150 mm"
[[tier]]
name = "part"
material = "6061"
block = ["70 mm", "50 mm"]
height = "90 mm"
joint = { kind = "dovetail", width = "32 mm" }
[[tool]]
cutter = { diameter = "10 mm", teeth = 3, stickout = "50 mm" }
[[pass]]
name = "one"
)" + pass + first + "[[pass]]\nname = \"other\"\n" +
                             pass + second,
                         "job.toml");
}

TEST(PassShare, LengthOrShareOfEveryPassIsTaken) {
    const ReadResult length = read_two("length = \"800 mm\"\n", "length = \"2 m\"\n");
    ASSERT_TRUE(length.job);
    EXPECT_EQ(length.job->passes[0].length, 0.8);
    EXPECT_EQ(length.job->passes[1].length, 2.0);
    const ReadResult share = read_two("share = \"40 %\"\n", "share = 0.6\n");
    ASSERT_TRUE(share.job);
    EXPECT_EQ(share.job->passes[0].share, 0.4);
    EXPECT_EQ(share.job->passes[1].share, 0.6);
    EXPECT_TRUE(read_two("", "").job);
}

TEST(PassShare, WhatOnlySomePassesSayOrBothIsRefused) {
    EXPECT_FALSE(read_two("length = \"800 mm\"\n", "").job);
    EXPECT_FALSE(read_two("", "share = 0.6\n").job);
    EXPECT_FALSE(read_two("length = \"800 mm\"\n", "share = 0.6\n").job);
    EXPECT_FALSE(
        read_two("length = \"800 mm\"\nshare = 0.4\n", "length = \"1 m\"\nshare = 1\n").job);
    EXPECT_FALSE(read_two("share = 0\n", "share = 1\n").job);
}

}  // namespace
}  // namespace standfast
