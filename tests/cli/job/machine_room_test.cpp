// What a job may say of the machine's room, for reach.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

std::string job_with(const std::string& machine, const std::string& rest = "") {
    return "[machine]\nkind = \"5-axis, table tilts\"\ntaper = \"BT40\"\n"
           "speed = [\"500 rpm\", \"12000 rpm\"]\n" +
           machine +
           "[[tier]]\nname = \"part\"\nmaterial = \"6061\"\nblock = [\"70 mm\", \"50 mm\"]\n"
           "height = \"95 mm\"\n"
           "[[tool]]\ngrip = \"shrink\"\nholder = [ { round = \"40 mm\", length = \"90 mm\" } ]\n"
           "cutter = { diameter = \"10 mm\", teeth = 3, stickout = \"50 mm\" }\n"
           "[[pass]]\nradial = \"1 mm\"\naxial = \"5 mm\"\nfeed = \"0.05 mm\"\n"
           "speed = \"9000 rpm\"\n" +
           rest;
}

Job read(const std::string& text) {
    const ReadResult result = read_job_text(text, "job.toml");
    EXPECT_TRUE(result.job) << format_diagnostics(result.errors);
    return result.job.value_or(Job{});
}

std::string faults_of(const std::string& text) {
    const ReadResult result = read_job_text(text, "job.toml");
    EXPECT_FALSE(result.job);
    return format_diagnostics(result.errors);
}

bool assumes(const Job& job, const std::string& path) {
    return std::any_of(job.assumed.begin(), job.assumed.end(),
                       [&](const Assumption& assumption) { return assumption.path == path; });
}

TEST(MachineRoom, TravelSwingAndTiltAxisAreRead) {
    const Machine machine = read(job_with("nose_to_table = [\"4 in\", \"500 mm\"]\n"
                                          "tilt_axis_above_table = \"-2 in\"\n"
                                          "swing_diameter = \"400 mm\"\n"
                                          "tool_change_height = \"0.6 m\"\n"
                                          "table = { block = [\"600 mm\", \"300 mm\"] }\n"))
                                .machine;
    EXPECT_NEAR((*machine.nose_to_table)[0], 0.1016, 1e-12);
    EXPECT_NEAR((*machine.nose_to_table)[1], 0.5, 1e-12);
    EXPECT_NEAR(*machine.tilt_axis_above_table, -0.0508, 1e-12);
    EXPECT_NEAR(*machine.swing_diameter, 0.4, 1e-12);
    EXPECT_NEAR(*machine.tool_change_height, 0.6, 1e-12);
    EXPECT_NEAR((*machine.table.block)[1], 0.3, 1e-12);
}

TEST(MachineRoom, WhatReachTakesForGrantedIsListed) {
    const Job job = read(job_with(""));
    EXPECT_NEAR(job.limits.clearance, 2e-3, 1e-15);
    EXPECT_TRUE(assumes(job, "limits.clearance"));
    EXPECT_TRUE(assumes(job, "machine.table.diameter"));
    EXPECT_FALSE(job.machine.nose_to_table);
    const Job said =
        read(job_with("table = { diameter = \"250 mm\" }\n", "[limits]\nclearance = \"0.1 in\"\n"));
    EXPECT_NEAR(said.limits.clearance, 2.54e-3, 1e-15);
    EXPECT_FALSE(assumes(said, "limits.clearance"));
    EXPECT_FALSE(assumes(said, "machine.table.diameter"));
}

TEST(MachineRoom, SlipsAreToldWhatIsAccepted) {
    EXPECT_NE(faults_of(job_with("table = { diameter = \"300 mm\", block = [\"600 mm\", \"300 "
                                 "mm\"] }\n"))
                  .find("diameter of a round face or block of a rectangular one, not both"),
              std::string::npos);
    EXPECT_NE(faults_of(job_with("nose_to_table = [\"500 mm\", \"100 mm\"]\n")).find("500 mm"),
              std::string::npos);
    EXPECT_NE(faults_of(job_with("swing_diamter = \"500 mm\"\n")).find("swing_diameter"),
              std::string::npos);
    EXPECT_NE(faults_of(job_with("", "[limits]\nclearance = 2\n")).find("bare number"),
              std::string::npos);
}

}  // namespace
}  // namespace standfast
