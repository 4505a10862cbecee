#include "cli/report/check/reach_text.hpp"

#include <gtest/gtest.h>

#include "tests/cli/sample_report.hpp"

namespace standfast {
namespace {

/// What is said of a reach of the sample pass.
std::string said(const ReachResult& reach, UnitSystem units = UnitSystem::metric) {
    PassReport pass = tests::sample_pass();
    pass.reach = reach;
    Job job = tests::sample_job();
    job.tools.at(0).cutter.flute_length = 25e-3;
    return reach_text(job, pass, units);
}

ReachResult hit() {
    ReachResult reach;
    reach.judged = true;
    reach.fault = ReachFault::hits;
    reach.clearance = 2e-3;
    reach.tool_solid = "holder";
    reach.work_solid = "riser";
    return reach;
}

TEST(ReachText, NamesWhatMeetsAndWhatWouldClear) {
    ReachResult reach = hit();
    EXPECT_EQ(said(reach), "the holder hits \"riser\"; no stickout of this tool clears");
    reach.least_stickout = 41.31e-3;
    EXPECT_EQ(said(reach), "the holder hits \"riser\"; it clears with a stickout of 41.4 mm");
    reach.riser = "riser";
    reach.least_riser_height = 0.230;
    EXPECT_EQ(said(reach),
              "the holder hits \"riser\"; it clears with a stickout of 41.4 mm, or \"riser\" "
              "230 mm high");
}

TEST(ReachText, WithoutTheRiserIsSaidInWords) {
    ReachResult reach = hit();
    reach.riser = "riser";
    EXPECT_EQ(said(reach),
              "the holder hits \"riser\"; no stickout of this tool and no height of \"riser\" "
              "clears");
    reach.least_riser_height = 0;
    EXPECT_EQ(said(reach), "the holder hits \"riser\"; it clears with \"riser\" left out");
}

TEST(ReachText, LeastStickoutIsNeverRoundedBelowWhatClears) {
    ReachResult reach = hit();
    reach.least_stickout = 41.301e-3;
    EXPECT_NE(said(reach).find("41.4 mm"), std::string::npos);
    EXPECT_NE(said(reach, UnitSystem::inch).find("1.63 in"), std::string::npos);
    reach.least_stickout = 41.3e-3;
    EXPECT_NE(said(reach).find("41.3 mm"), std::string::npos);
}

TEST(ReachText, NearAndClearGiveTheDistance) {
    ReachResult reach = hit();
    reach.fault = ReachFault::too_near;
    reach.distance = 1.48e-3;
    reach.work_solid = "table";
    EXPECT_EQ(said(reach).substr(0, 62),
              "the holder comes within 1.4 mm of the table, 2 mm is wanted; n");
    reach.fault = ReachFault::none;
    reach.clear = true;
    reach.distance = 12e-3 - 1e-12;
    EXPECT_EQ(said(reach), "clears; nearest the holder, 12 mm from the table");
    reach.rubs = "shank";
    EXPECT_NE(said(reach).find("would rub"), std::string::npos);
}

TEST(ReachText, MissingTiltIsSaidInDegrees) {
    ReachResult reach = hit();
    reach.fault = ReachFault::tilt;
    reach.needed = 110 * 3.14159265358979 / 180;
    reach.available_to = 100 * 3.14159265358979 / 180;
    EXPECT_EQ(said(reach), "it needs 110 deg of tilt, the machine has 100 deg");
}

TEST(ReachText, UnknownReachSaysWhy) {
    ReachResult reach;
    reach.why_not = "no holder given";
    EXPECT_EQ(said(reach), "not judged: no holder given");
}

}  // namespace
}  // namespace standfast
