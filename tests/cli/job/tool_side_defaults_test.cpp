// What a job gets on the tool side where it does not say, and what it is refused.
#include <gtest/gtest.h>

#include <cmath>
#include <string>

#include "cli/job/read_job.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {
namespace {

std::string job_with(const std::string& tool, const std::string& machine = "") {
    return "[machine]\nkind = \"3-axis\"\ntaper = \"CAT40\"\nspeed = [\"500 rpm\", \"12000 "
           "rpm\"]\n" +
           machine +
           "[[tier]]\nname = \"part\"\nmaterial = \"6061\"\nblock = [\"70 mm\", \"50 mm\"]\n"
           "height = \"60 mm\"\n[[tool]]\nname = \"mill\"\n" +
           tool +
           "[[pass]]\nradial = \"0.5 mm\"\naxial = \"2 mm\"\nfeed = \"0.03 mm\"\n"
           "speed = \"9000 rpm\"\n";
}

Job job_of(const std::string& text) {
    const ReadResult result = read_job_text(text, "job.toml");
    EXPECT_TRUE(result.errors.empty()) << format_diagnostics(result.errors);
    return result.job.value_or(Job{});
}

std::string faults_of(const std::string& text) {
    const ReadResult result = read_job_text(text, "job.toml");
    return result.errors.empty() ? "" : format_diagnostics(result.errors);
}

const Assumption* assumed(const Job& job, const std::string& path) {
    for (const Assumption& assumption : job.assumed) {
        if (assumption.path == path) {
            return &assumption;
        }
    }
    return nullptr;
}

std::string cutter(const std::string& diameter, const std::string& more = "") {
    return "cutter = { diameter = \"" + diameter + "\", teeth = 3, stickout = \"40 mm\"" + more +
           " }\n";
}

TEST(ToolSideDefaults, ASmallCutterHasAShankOfItsOwnDiameterUnlessTheJobSaysSo) {
    EXPECT_DOUBLE_EQ(
        job_of(job_with("grip = \"collet\"\n" + cutter("3 mm"))).tools[0].cutter.shank_diameter,
        0.003);
    EXPECT_DOUBLE_EQ(job_of(job_with("grip = \"collet\"\n" + cutter("3 mm", ", shank = \"6 mm\"")))
                         .tools[0]
                         .cutter.shank_diameter,
                     0.006);
}

// The steps that are listed, written into the job, give the same holder.
TEST(ToolSideDefaults, TheAssumedHolderIsListedStepByStepAndCanBeRebuilt) {
    const std::string tool = "grip = \"shrink\"\n" + cutter("16 mm");
    const Job typical = job_of(job_with(tool));
    std::string steps;
    for (std::size_t i = 0; i < typical.tools[0].holder.size(); ++i) {
        const Assumption* const step =
            assumed(typical, "tool.\"mill\".holder[" + std::to_string(i) + "]");
        ASSERT_NE(step, nullptr) << i;
        steps += (i == 0 ? "" : ", ") + step->text;
    }
    const Job rebuilt = job_of(job_with(tool + "holder = [" + steps + "]\n"));
    ASSERT_EQ(rebuilt.tools[0].holder.size(), typical.tools[0].holder.size());
    for (std::size_t i = 0; i < rebuilt.tools[0].holder.size(); ++i) {
        const HolderStep& own = rebuilt.tools[0].holder[i];
        const HolderStep& stood_in = typical.tools[0].holder[i];
        EXPECT_NEAR(own.diameter, stood_in.diameter, 1e-7);
        EXPECT_NEAR(own.diameter_to, stood_in.diameter_to, 1e-7);
        EXPECT_NEAR(own.length, stood_in.length, 1e-7);
        EXPECT_EQ(own.material.name, stood_in.material.name);
    }
}

TEST(ToolSideDefaults, AShrinkHolderOfAFortyTaperIsEightyMillimetresLong) {
    const Job job = job_of(job_with("grip = \"shrink\"\n" + cutter("12 mm")));
    EXPECT_NEAR(gauge_length(job.tools[0]), 0.080 + 0.040, 1e-12);
}

TEST(ToolSideDefaults, ACutterThatItsGripCannotHoldIsRefusedWithBothPlaces) {
    EXPECT_EQ(
        faults_of(job_with("grip = \"ER32\"\n" + cutter("10 mm", ", shank = \"25 mm\""))),
        "job.toml:13:71: error: tool 1 (\"mill\"): a \"collet\" grip does not hold a shank of "
        "25 mm\n"
        " 13 | cutter = { diameter = \"10 mm\", teeth = 3, stickout = \"40 mm\", shank = "
        "\"25 mm\" }\n"
        "    |                                                                       "
        "^~~~~~~\n"
        "  accepted: a shank of 0.5 mm to 20 mm (shank = \"...\"), or another grip\n"
        "job.toml:12:8: note: the grip\n"
        " 12 | grip = \"ER32\"\n"
        "    |        ^~~~~~\n"
        "1 error in job.toml; nothing was computed.\n");
    EXPECT_EQ(faults_of(job_with("grip = \"ER40\"\n" + cutter("10 mm", ", shank = \"25 mm\""))),
              "");
    EXPECT_NE(faults_of(job_with("grip = \"side-lock\"\n" + cutter("3 mm")))
                  .find("as thick as the cutter, since no shank is given"),
              std::string::npos);
    EXPECT_NE(faults_of(job_with("grip = { kind = \"ER16\" }\n" + cutter("12 mm")))
                  .find("0.5 mm to 10 mm"),
              std::string::npos);
}

TEST(ToolSideDefaults, AFaceMillSitsOnThePilotOfAnArborWithABodyOfSteel) {
    const Job job =
        job_of(job_with("grip = \"face mill arbor\"\n" + cutter("50 mm", ", flute = \"8 mm\"")));
    const ToolChain& tool = job.tools[0];
    EXPECT_TRUE(tool.grip.kind.on_pilot);
    EXPECT_DOUBLE_EQ(tool.cutter.shank_diameter, 0.022);  // ISO 6462, from memory
    EXPECT_NE(tool.cutter.material.name.find("steel"), std::string::npos);
    EXPECT_NEAR(tool.cutter.neck_length, 0.032, 1e-12);
    EXPECT_GT(tool.cutter.neck_diameter, tool.cutter.shank_diameter);
    EXPECT_EQ(faults_of(job_with("grip = \"shell mill arbor\"\n" +
                                 cutter("63 mm", ", overall = \"40 mm\""))),
              "");
}

TEST(ToolSideDefaults, TheNoseAndTheSpindlesRatingsComeFromTheirKindsAndAreListed) {
    const Job job = job_of(job_with("grip = \"shrink\"\n" + cutter("12 mm")));
    EXPECT_DOUBLE_EQ(job.machine.spindle_kind.mass, 2.5);
    for (const char* path :
         {"machine.spindle.mass", "machine.spindle.inertia", "machine.power", "machine.torque"}) {
        EXPECT_NE(assumed(job, path), nullptr) << path;
    }
}

TEST(ToolSideDefaults, NoTableMassIsCountedUnlessTheJobSays) {
    const Job job = job_of(job_with("grip = \"shrink\"\n" + cutter("12 mm")));
    EXPECT_FALSE(job.machine.table.mass.has_value());
    EXPECT_EQ(job.machine.kind.table_mass, 0);
    EXPECT_EQ(assumed(job, "machine.table.mass"), nullptr);
}

// Mann, Young, Schmitz and Dilley, J. Manuf. Sci. Eng. 127 (2005) 446, from memory: carbide, 12.75
// mm, one inserted edge, 106 mm out: 833 and 829 Hz, 1.67 and 1.52 N/um along x and y. Holder and
// taper are not told, so those that a job gets when it says neither stand in. It set no default.
TEST(ToolSideDefaults, ALongCarbideToolRingsAsMeasured) {
    const Job job = job_of(job_with(
        "cutter = { diameter = \"12.75 mm\", teeth = 1, segments = [ { round = \"12.75 mm\", "
        "length = \"106 mm\" } ] }\n"));
    double softest = 1e300, hertz = 0;
    for (const ModalTerm& term : solve_tool_side(job.machine, job.tools[0]).modal.terms) {
        const double stiffness =
            std::pow(term.frequency.radians_per_second, 2) / term.shape.head<2>().squaredNorm();
        if (stiffness < softest) {
            softest = stiffness;
            hertz = term.frequency.hertz();
        }
    }
    EXPECT_NEAR(hertz, 831, 0.10 * 831);
    EXPECT_NEAR(softest, 1.593e6, 0.25 * 1.593e6);
}

TEST(ToolSideDefaults, TheJobsOwnFiguresWin) {
    const Job job = job_of(job_with("grip = \"shrink\"\n" + cutter("12 mm"),
                                    "power = \"20 hp\"\ntorque = \"90 ft lb\"\n"
                                    "spindle = { mass = \"3 kg\", inertia = \"0.01 kg m2\", centre "
                                    "= \"20 mm\", lateral = [\"50 N/um\", \"60 N/um\"] }\n"
                                    "table = { mass = \"120 kg\" }\n"));
    EXPECT_NEAR(job.machine.power.value_or(0), 20 * 745.6999, 0.01);  // NIST SP 811
    EXPECT_NEAR(job.machine.torque.value_or(0), 90 * 1.355818, 1e-4);
    EXPECT_DOUBLE_EQ(job.machine.spindle.mass.value_or(0), 3);
    EXPECT_DOUBLE_EQ(job.machine.spindle.inertia.value_or(0), 0.01);
    EXPECT_DOUBLE_EQ(job.machine.spindle.centre.value_or(0), 0.02);
    EXPECT_DOUBLE_EQ(job.machine.table.mass.value_or(0), 120);
    EXPECT_TRUE(job.machine.spindle.given.told_apart);
    EXPECT_FALSE(job.machine.table.given.told_apart);
    for (const char* path : {"machine.spindle.mass", "machine.table.mass", "machine.power"}) {
        EXPECT_EQ(assumed(job, path), nullptr) << path;
    }
}

}  // namespace
}  // namespace standfast
