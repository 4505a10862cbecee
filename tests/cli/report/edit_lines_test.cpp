#include "cli/report/common/edit_lines.hpp"

#include <gtest/gtest.h>

#include "fea/job/edits/section_scale.hpp"
#include "tests/fea/judgement/sample_job.hpp"

namespace standfast {
namespace {

using Written = std::vector<std::string>;

/// "path = value" of every line.
Written written(const Job& job, const Edit& edit) {
    Written lines;
    for (const EditLine& line : edit_lines(job, edit)) {
        lines.push_back(line.path + " = " + line_value(line, UnitSystem::metric));
    }
    return lines;
}

const std::string kPass = "finish the tall wall", kTool = "long finisher";

TEST(EditLines, AreWhatTheJobFileWouldSay) {
    const Job job = test_job();
    EXPECT_EQ(written(job, Stickout{kTool, 0.05}),
              Written{R"(tool."long finisher".cutter.stickout = 50 mm)"});
    EXPECT_EQ(written(job, ToothCount{kTool, 3}),
              Written{R"(tool."long finisher".cutter.teeth = 3)"});
    EXPECT_EQ(written(job, SolidJoint{"plate"}), Written{R"(tier."plate".joint = solid)"});
    EXPECT_EQ(written(job, JointLoss{"riser", 0.08}), Written{R"(tier."riser".joint.loss = 0.08)"});
    EXPECT_EQ(written(job, AxialDepth{kPass, 2e-3}),
              Written{R"(pass."finish the tall wall".axial = 2 mm)"});
    EXPECT_EQ(written(job, PassSpeed{kPass, SpindleSpeed::from_rpm(8000)}),
              Written{R"(pass."finish the tall wall".speed = 8000 rpm)"});
    EXPECT_EQ(
        written(job, DovetailSize{.tier = "part", .width = 0.04, .length = 0.07}),
        (Written{R"(tier."part".joint.width = 40 mm)", R"(tier."part".joint.length = 70 mm)"}));
}

TEST(EditLines, OfASectionTellOnlyWhatChanges) {
    Job job = test_job();
    EXPECT_EQ(written(job, *scaled_section(job.stack.tiers[1], 1.25)),
              Written{R"(tier."riser".round = 125 mm)"});
    job.stack.tiers[1].shape = BoxShape{0.1, 0.08, 0.01};
    job.stack.tiers[1].top = BoxShape{0.08, 0.06, 0.01};
    EXPECT_EQ(
        written(job, *scaled_section(job.stack.tiers[1], 1.25)),
        (Written{R"(tier."riser".box[0] = 125 mm)", R"(tier."riser".box[1] = 100 mm)",
                 R"(tier."riser".top.box[0] = 100 mm)", R"(tier."riser".top.box[1] = 75 mm)"}));
}

TEST(EditLines, OfAHeightTellThePlacesThatFollow) {
    Job job = test_job();
    job.stack.tiers[1].side = {
        SideMass{.name = "jaws", .mass = 2, .at = {0.060, 0, 0.130}, .size = {}}};
    job.stack.supports = {Support{.name = "prop", .tier = 1, .at = {0, 0.050, 0.100}}};
    EXPECT_EQ(written(job, TierHeight{"riser", 0.120}),
              (Written{R"(tier."riser".height = 120 mm)",
                       R"(tier."riser".side."jaws".at = ["60 mm", "0 mm", "100 mm"])",
                       R"(support."prop".at = ["0 mm", "50 mm", "70 mm"])"}));
    EXPECT_EQ(written(test_job(), TierHeight{"riser", 0.120}),
              Written{R"(tier."riser".height = 120 mm)"});
}

TEST(EditLines, OfAStickoutTellAGripThatTheJobGivesAndThatIsShorterThen) {
    Job job = test_job();  // 100 mm overall, 40 mm gripped as given
    EXPECT_EQ(written(job, Stickout{kTool, 0.070}),
              (Written{R"(tool."long finisher".cutter.stickout = 70 mm)",
                       R"(tool."long finisher".grip.length = 30 mm)"}));
    job.tools[0].grip_full = 0.040;  // a usual length, which follows by itself
    EXPECT_EQ(written(job, Stickout{kTool, 0.070}).size(), 1U);
}

}  // namespace
}  // namespace standfast
