// Job texts become plain SI data. Sizes are typed as a shop would; the SI values beside them are
// exact by definition of the inch (25.4 mm), the pound-force and the minute.
#include "cli/job/read_job.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <numbers>
#include <set>
#include <string>

namespace standfast {
namespace {

constexpr double kDegree = std::numbers::pi / 180;
constexpr double kInch = 0.0254;

constexpr const char* kShortest = R"(
[machine]
kind = "5-axis, table tilts"
taper = "BT40"
speed = ["500 rpm", "12000 rpm"]
[[tier]]
name = "riser"
material = "steel"
round = "4 in"
height = "6 in"
[[tier]]
name = "part"
material = "6061"
block = ["2.75 in", "2 in"]
height = "3.75 in"
joint = { kind = "dovetail", width = "1.25 in" }
[[tool]]
grip = "shrink"
cutter = { diameter = "3/8 in", teeth = 3, stickout = "2.25 in" }
[[pass]]
radial = "0.010 in"
axial = "0.5 in"
feed = "0.0024 in"
speed = "9000 rpm"
)";

constexpr const char* kFull = R"(
title = "Sensor bracket, first operation"

[machine]
speed = ["600 rpm", "15000 rpm"]
tilt_max = "110 deg"
carry_max = "35 kg"
rotary = "clamped"
table   = { lateral = "150 N/um", vertical = "400 N/um", tilting = "6 MN m/rad", twisting = "4 MN m/rad", loss = 0.04, mass = "0 kg", diameter = "320 mm" }
spindle = { lateral = "60 N/um", axial = "150 N/um", tilting = "0.8 MN m/rad", loss = 0.05, nose = { round = "80 mm", length = "160 mm" } }

[[tier]]
name = "base plate"
material = "steel 4140"
block = ["180 mm", "180 mm"]
height = "30 mm"
joint = { kind = "bolted", screws = 4, size = "M12", torque = "85 N m" }

[[tier]]
name = "riser"
material = "ductile iron"
tube = ["110 mm", "70 mm"]
top = { tube = ["90 mm", "60 mm"] }
height = "150 mm"
joint = { kind = "bolted", screws = 4, size = "M12", torque = "85 N m" }

[[tier]]
name = "dovetail clamp"
material = "steel 4140"
block = ["76 mm", "60 mm"]
height = "38 mm"
joint = { kind = "zero point", preload = "25 kN" }

[[tier]]
name = "part"
material = "aluminium 6061-T6"
block = ["70 mm", "50 mm"]
height = "95 mm"
joint = { kind = "dovetail", length = "60 mm", width = "32 mm", flank = "60 deg", depth = "4 mm", clamp = "18 kN" }

[[tool]]
name = "long finisher"
holder = [ { round = "50 mm", length = "35 mm" }, { round = "32 mm", to = "26 mm", length = "60 mm" } ]
taper = { kind = "HSK-A63" }
grip  = { kind = "shrink", length = "40 mm", least = "36 mm" }
cutter = { diameter = "10 mm", teeth = 4, helix = "40 deg", corner = "0.5 mm", flute = "25 mm", shank = "10 mm", overall = "100 mm", stickout = "58 mm", material = "cemented carbide" }
speed_max = "22000 rpm"

[[pass]]
name = "finish the tall wall"
tool = "long finisher"
tier = "part"
at = ["35 mm", "0 mm", "45 mm"]
to = ["35 mm", "-25 mm", "45 mm"]
wall = "+x"
tilt = "0 deg"
turn = "0 deg"
cutting = "aluminium 6061-T6"
milling = "down"
radial = "0.3 mm"
axial = "20 mm"
feed = "0.06 mm"
speed = "9000 rpm"
speeds = ["6000 rpm", "10000 rpm"]
tolerance = "0.02 mm"
)";

Job read(std::string text) {
    const ReadResult result = read_job_text(std::move(text), "job.toml");
    EXPECT_TRUE(result.job.has_value()) << format_diagnostics(result.errors);
    return result.job.value_or(Job{});
}

std::set<std::string> assumed_paths(const Job& job) {
    std::set<std::string> paths;
    for (const Assumption& assumption : job.assumed) {
        paths.insert(assumption.path);
    }
    return paths;
}

TEST(ReadJob, ShortestJobBecomesSiData) {
    const Job job = read(kShortest);
    EXPECT_NEAR(job.machine.fastest.rpm(), 12000, 1e-9);
    ASSERT_EQ(job.stack.tiers.size(), 2U);
    EXPECT_DOUBLE_EQ(std::get<RoundShape>(job.stack.tiers[0].shape).diameter, 4 * kInch);
    EXPECT_DOUBLE_EQ(job.stack.tiers[0].height, 6 * kInch);
    EXPECT_EQ(job.stack.tiers[0].joint.kind.name, "bolted");
    EXPECT_FALSE(job.stack.tiers[0].placement.host.has_value());
    const Tier& part = job.stack.tiers[1];
    EXPECT_EQ(part.material.name, "aluminium 6061-T6");
    EXPECT_EQ(part.placement.host, 0U);
    ASSERT_TRUE(part.joint.dovetail.has_value());
    EXPECT_DOUBLE_EQ(part.joint.dovetail->width, 1.25 * kInch);
    EXPECT_DOUBLE_EQ(part.joint.dovetail->length, 2.75 * kInch);
    EXPECT_FALSE(part.joint.dovetail->clamp.has_value());
    const ToolChain& tool = job.tools.at(0);
    EXPECT_DOUBLE_EQ(tool.cutter.diameter, 0.375 * kInch);
    EXPECT_EQ(tool.cutter.teeth, 3);
    EXPECT_DOUBLE_EQ(tool.cutter.stickout, 2.25 * kInch);
    EXPECT_TRUE(tool.holder_assumed);
    EXPECT_FALSE(tool.holder.empty());
    EXPECT_EQ(tool.taper.kind.name, "BT40");
    const Pass& pass = job.passes.at(0);
    EXPECT_DOUBLE_EQ(pass.radial, 0.010 * kInch);
    EXPECT_DOUBLE_EQ(pass.feed_per_tooth, 0.0024 * kInch);
    EXPECT_NEAR(pass.speed->rpm(), 9000, 1e-9);
    EXPECT_EQ(pass.tier, 1U);
    EXPECT_EQ(pass.cutting.name, "aluminium 6061-T6");
    ASSERT_EQ(pass.path.size(), 1U);
    EXPECT_NEAR(pass.path[0].z(), 3.25 * kInch, 1e-12);  // the top less the axial depth
    EXPECT_FALSE(pass.feed_heading.has_value());
}

TEST(ReadJob, ShortestJobListsWhatItAssumed) {
    const std::set<std::string> expected{R"(machine.rotary)",
                                         R"(machine.spindle.axial)",
                                         R"(machine.spindle.lateral)",
                                         R"(machine.spindle.loss)",
                                         R"(machine.spindle.nose.length)",
                                         R"(machine.spindle.nose.round)",
                                         R"(machine.spindle.tilting)",
                                         R"(machine.spindle.twisting)",
                                         R"(machine.table.lateral)",
                                         R"(machine.table.loss)",
                                         R"(machine.table.tilting)",
                                         R"(machine.table.twisting)",
                                         R"(machine.table.vertical)",
                                         R"(machine.power)",
                                         R"(machine.spindle.inertia)",
                                         R"(machine.spindle.mass)",
                                         R"(machine.torque)",
                                         R"(machine.tilt_max)",
                                         R"(pass."pass 1".at)",
                                         R"(pass."pass 1".cutting)",
                                         R"(pass."pass 1".cutting.edge)",
                                         R"(pass."pass 1".cutting.process_damping)",
                                         R"(pass."pass 1".feed_heading)",
                                         R"(pass."pass 1".milling)",
                                         R"(pass."pass 1".tilt)",
                                         R"(tier."part".joint.clamp)",
                                         R"(tier."part".joint.depth)",
                                         R"(tier."part".joint.flank)",
                                         R"(tier."part".joint.length)",
                                         R"(tier."riser".joint.clamp)",
                                         R"(tier."riser".joint.kind)",
                                         R"(tool."tool 1".cutter.corner)",
                                         R"(tool."tool 1".cutter.flute)",
                                         R"(tool."tool 1".cutter.helix)",
                                         R"(tool."tool 1".cutter.material)",
                                         R"(tool."tool 1".cutter.runout)",
                                         R"(tool."tool 1".cutter.shank)",
                                         R"(tool."tool 1".grip.length)",
                                         R"(tool."tool 1".holder)",
                                         R"(tool."tool 1".holder[0])",
                                         R"(tool."tool 1".holder[1])",
                                         R"(tool."tool 1".taper.kind)"};
    EXPECT_EQ(assumed_paths(read(kShortest)), expected);
}

TEST(ReadJob, AssumedCatalogueValuesNameTheirSource) {
    for (const Assumption& assumption : read(kShortest).assumed) {
        if (assumption.path.starts_with("machine.table") ||
            assumption.path.starts_with("machine.spindle")) {
            EXPECT_FALSE(assumption.source.empty()) << assumption.path;
            EXPECT_GT(assumption.value.value_or(0), 0) << assumption.path;
        }
    }
}

TEST(ReadJob, FullMachineBecomesSiData) {
    const Machine machine = read(kFull).machine;
    EXPECT_NEAR(*machine.tilt_max, 110 * kDegree, 1e-15);
    EXPECT_DOUBLE_EQ(*machine.carry_max, 35);
    EXPECT_DOUBLE_EQ((*machine.table.given.lateral)[0], 150e6);
    EXPECT_DOUBLE_EQ((*machine.table.given.lateral)[1], 150e6);
    EXPECT_DOUBLE_EQ(*machine.table.given.vertical, 400e6);
    EXPECT_DOUBLE_EQ((*machine.table.given.tilting)[0], 6e6);
    EXPECT_DOUBLE_EQ(*machine.table.given.twisting, 4e6);
    EXPECT_DOUBLE_EQ(machine.table.diameter, 0.320);
    EXPECT_DOUBLE_EQ((*machine.spindle.given.lateral)[0], 60e6);
    EXPECT_DOUBLE_EQ(*machine.spindle.given.vertical, 150e6);
    EXPECT_DOUBLE_EQ(*machine.spindle.given.loss, 0.05);
    EXPECT_DOUBLE_EQ(machine.spindle.nose_diameter, 0.080);
    EXPECT_DOUBLE_EQ(machine.spindle.nose_length, 0.160);
    EXPECT_EQ(machine.spindle_kind.taper, "HSK-A63");  // from the tool's own taper
}

TEST(ReadJob, FullStackBecomesSiData) {
    const Stack stack = read(kFull).stack;
    ASSERT_EQ(stack.tiers.size(), 4U);
    const Joint& bolted = stack.tiers[0].joint;
    EXPECT_EQ(bolted.screws->count, 4);
    EXPECT_DOUBLE_EQ(bolted.screws->diameter, 0.012);
    EXPECT_DOUBLE_EQ(*bolted.screws->torque, 85);
    EXPECT_DOUBLE_EQ(std::get<TubeShape>(stack.tiers[1].shape).inner, 0.070);
    EXPECT_DOUBLE_EQ(std::get<TubeShape>(*stack.tiers[1].top).outer, 0.090);
    EXPECT_DOUBLE_EQ(*stack.tiers[2].joint.preload, 25e3);
    const Dovetail& dovetail = *stack.tiers[3].joint.dovetail;
    EXPECT_DOUBLE_EQ(dovetail.length, 0.060);
    EXPECT_DOUBLE_EQ(dovetail.width, 0.032);
    EXPECT_NEAR(dovetail.flank, 60 * kDegree, 1e-15);
    EXPECT_DOUBLE_EQ(*dovetail.clamp, 18e3);
}

TEST(ReadJob, FullToolAndPassBecomeSiData) {
    const Job job = read(kFull);
    const ToolChain& tool = job.tools.at(0);
    ASSERT_EQ(tool.holder.size(), 2U);
    EXPECT_DOUBLE_EQ(tool.holder[0].diameter_to, 0.050);
    EXPECT_DOUBLE_EQ(tool.holder[1].diameter_to, 0.026);
    EXPECT_FALSE(tool.holder_assumed);
    EXPECT_DOUBLE_EQ(tool.grip_length, 0.040);
    EXPECT_DOUBLE_EQ(*tool.grip_least, 0.036);
    EXPECT_NEAR(gauge_length(tool), 0.153, 1e-12);
    EXPECT_NEAR(tool.speed_max->rpm(), 22000, 1e-9);
    const Pass& pass = job.passes.at(0);
    ASSERT_EQ(pass.path.size(), 2U);
    EXPECT_DOUBLE_EQ(pass.path[1].y(), -0.025);
    EXPECT_EQ(*pass.wall, Eigen::Vector3d::UnitX());
    EXPECT_DOUBLE_EQ(*pass.axial, 0.020);
    EXPECT_NEAR((*pass.speeds)[1].rpm(), 10000, 1e-9);
    EXPECT_DOUBLE_EQ(*pass.tolerance, 0.02e-3);
}

TEST(ReadJob, FullJobAssumesOnlyWhatItLeavesOpen) {
    const std::set<std::string> expected{"limits.clearance",
                                         "machine.power",
                                         "machine.torque",
                                         "machine.spindle.inertia",
                                         "machine.spindle.mass",
                                         "machine.spindle.twisting",
                                         R"(pass."finish the tall wall".cutting.edge)",
                                         R"(pass."finish the tall wall".cutting.process_damping)",
                                         R"(tier."base plate".joint.screw_circle)",
                                         R"(tier."riser".joint.screw_circle)",
                                         R"(tool."long finisher".cutter.runout)"};
    EXPECT_EQ(assumed_paths(read(kFull)), expected);
}

std::string with(std::string text, const std::string& old, const std::string& fresh) {
    const std::size_t at = text.find(old);
    EXPECT_NE(at, std::string::npos) << old;
    return text.replace(at, old.size(), fresh);
}

// 120 m/min on 10 mm is 120 / (pi 0.010) = 3819.7 rpm; 900 mm/min there with 4 teeth is
// 900 / (4 x 3819.7) = 0.0589 mm a tooth.
TEST(ReadJob, CuttingSpeedAndFeedRateFollowFromCutterAndTeeth) {
    std::string text = with(kFull, R"(speed = "9000 rpm")", R"(speed = "120 m/min")");
    text = with(text, R"(feed = "0.06 mm")", R"(feed = "900 mm/min")");
    text = with(text, R"(radial = "0.3 mm")", R"(radial = "3 %")");
    const Pass pass = read(text).passes.at(0);
    EXPECT_NEAR(pass.speed->rpm(), 3819.7186, 1e-3);
    EXPECT_NEAR(pass.feed_per_tooth * 1e3, 0.0589049, 1e-6);
    EXPECT_NEAR(pass.radial, 0.3e-3, 1e-12);
}

TEST(ReadJob, GaugeLengthAndStickoutAreTwoWordsForOneThing) {
    const Job job = read(with(kFull, R"(stickout = "58 mm")", R"(gauge_length = "153 mm")"));
    EXPECT_NEAR(job.tools.at(0).cutter.stickout, 0.058, 1e-12);
}

TEST(ReadJob, SlotIsAsWideAsTheCutter) {
    std::string text = with(kFull, R"(milling = "down")", R"(milling = "slot")");
    text = with(text, "radial = \"0.3 mm\"\n", "");
    text = with(text, "wall = \"+x\"\n", "");
    const Pass pass = read(text).passes.at(0);
    EXPECT_EQ(pass.milling, Milling::slot);
    EXPECT_DOUBLE_EQ(pass.radial, 0.010);
    EXPECT_NEAR(*pass.feed_heading, -90 * kDegree, 1e-12);  // along the path
}

TEST(ReadJob, PathAgainstTheClimbOfAWallIsUpMillingUnlessTheJobSaysOtherwise) {
    std::string text =
        with(kFull, R"(to = ["35 mm", "-25 mm", "45 mm"])", R"(to = ["35 mm", "25 mm", "45 mm"])");
    EXPECT_FALSE(read_job_text(text, "job.toml").job.has_value());
    text = with(text, "milling = \"down\"\n", "");
    EXPECT_EQ(read(text).passes.at(0).milling, Milling::up);
}

TEST(ReadJob, TheScrewCircleIsReadAndAssumedWhereNobodySaysIt) {
    const std::string torque = R"(torque = "85 N m")";
    const Job job = read(with(kFull, torque, torque + R"(, screw_circle = "76 mm")"));
    EXPECT_DOUBLE_EQ(*job.stack.tiers[0].joint.screws->circle, 0.076);
    EXPECT_FALSE(assumed_paths(job).contains(R"(tier."base plate".joint.screw_circle)"));
    EXPECT_FALSE(read(kFull).stack.tiers[0].joint.screws->circle);
    EXPECT_TRUE(assumed_paths(read(kFull)).contains(R"(tier."base plate".joint.screw_circle)"));
}

TEST(ReadJob, ASeatIsTrueFalseOrNotSaid) {
    const std::string width = R"(width = "32 mm")";
    EXPECT_FALSE(read(kFull).stack.tiers[3].joint.dovetail->seat);
    EXPECT_TRUE(
        *read(with(kFull, width, width + ", seat = true")).stack.tiers[3].joint.dovetail->seat);
    EXPECT_FALSE(
        *read(with(kFull, width, width + ", seat = false")).stack.tiers[3].joint.dovetail->seat);
    EXPECT_FALSE(read_job_text(with(kFull, width, width + R"(, seat = "yes")"), "job.toml").job);
    // Bolts have none.
    const std::string torque = R"(torque = "85 N m")";
    EXPECT_FALSE(read_job_text(with(kFull, torque, torque + ", seat = true"), "job.toml").job);
}

TEST(ReadJob, PreloadWinsOverTorqueAndSaysSo) {
    const Job job =
        read(with(kFull, R"(torque = "85 N m")", R"(torque = "85 N m", preload = "140 kN")"));
    EXPECT_DOUBLE_EQ(*job.stack.tiers[0].joint.preload, 140e3);
    EXPECT_TRUE(assumed_paths(job).contains(R"(tier."base plate".joint.preload)"));
}

TEST(ReadJob, SegmentsMakeUpTheStickoutAndALongerOneLengthensTheUppermost) {
    const std::string segments =
        R"(segments = [ { round = "10 mm", length = "30 mm" }, { round = "8 mm", length = "20 mm" } ])";
    const Cutter plain = read(with(kFull, R"(stickout = "58 mm")", segments)).tools.at(0).cutter;
    EXPECT_NEAR(plain.stickout, 0.050, 1e-12);
    const Cutter longer =
        read(with(kFull, R"(stickout = "58 mm")", R"(stickout = "58 mm", )" + segments))
            .tools.at(0)
            .cutter;
    EXPECT_NEAR(longer.segments[0].length, 0.038, 1e-12);
    EXPECT_NEAR(longer.segments[1].length, 0.020, 1e-12);
}

TEST(ReadJob, LumpSideMassAndSupportAreRead) {
    const Job job = read(R"(
[machine]
kind = "4-axis"
taper = "BT40"
speed = ["300 rpm", "10000 rpm"]
[[tier]]
name = "tower"
material = "ductile iron"
box = ["90 mm", "90 mm", "20 mm"]
height = "320 mm"
[[tier.side]]
name = "counterweight"
mass = "3.2 kg"
at = ["-60 mm", "0 mm", "100 mm"]
[[tier]]
name = "casting"
lump = { mass = "7 lb", centre = ["0 mm", "0 mm", "40 mm"], inertia = { xx = "0.004 kg m2", yy = "0.004 kg m2", zz = "0.003 kg m2", xy = "-0.0001 kg m2" } }
[[support]]
tier = "tower"
at = ["0 mm", "0 mm", "320 mm"]
stiffness = { lateral = ["90 N/um", "70 N/um"], vertical = "10 N/um" }
[[tool]]
grip = "collet"
cutter = { diameter = "16 mm", teeth = 3, stickout = "48 mm" }
[[pass]]
cutting = "6061"
at = ["0 mm", "0 mm", "30 mm"]
radial = "1 mm"
axial = "2 mm"
feed = "0.08 mm"
)");
    EXPECT_DOUBLE_EQ(job.stack.tiers[0].side.at(0).mass, 3.2);
    EXPECT_DOUBLE_EQ(job.stack.tiers[0].side.at(0).at.x(), -0.060);
    EXPECT_NEAR(job.stack.tiers[1].lump->mass, 7 * 0.45359237, 1e-12);
    EXPECT_DOUBLE_EQ(job.stack.tiers[1].lump->inertia(0, 1), -0.0001);
    EXPECT_DOUBLE_EQ(job.stack.tiers[1].lump->inertia(1, 0), -0.0001);
    EXPECT_DOUBLE_EQ((*job.stack.supports.at(0).given.lateral)[1], 70e6);
    EXPECT_FALSE(job.passes[0].speed.has_value());
}

}  // namespace
}  // namespace standfast
