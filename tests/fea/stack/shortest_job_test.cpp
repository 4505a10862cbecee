#include "tests/fea/stack/shortest_job.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <vector>

#include "fea/solution/give.hpp"
#include "fea/stack/cut_receptance.hpp"

namespace standfast {
namespace {

// Ranges of common practice, each good to a factor of about 2, no source: they catch defaults that
// would make the subject vanish (everything rigid) or absurd (everything soft).

SolvedSide work_side(const sample::ShortestJob& job) {
    return solve_work_side(job.machine, job.stack, job.pass, job.pass.path.front());
}

double share_of(const SolvedSide& side, const Eigen::Vector3d& direction, const std::string& name) {
    const Eigen::VectorXd shares = give_shares(*side.system, side.point, direction, direction);
    const auto& members = side.system->members;
    const auto found = std::find_if(members.begin(), members.end(),
                                    [&](const Member& member) { return member.name == name; });
    return found == members.end() ? 0 : shares[found - members.begin()];
}

TEST(ShortestJob, TheStackIsAsStiffAsSuchStacksAre) {
    const SolvedSide work = work_side(sample::shortest_job());
    // A part 10 in up on a trunnion table: some N/um to a few tens sideways (5 and 3 N/um here,
    // first mode 217 Hz).
    EXPECT_GT(1 / work.compliance(0, 0), 2e6);
    EXPECT_LT(1 / work.compliance(0, 0), 60e6);
    EXPECT_GT(1 / work.compliance(2, 2), 1 / work.compliance(0, 0)) << "stiffest straight down";
    EXPECT_GT(work.modes[0].frequency.hertz(), 60);
    EXPECT_LT(work.modes[0].frequency.hertz(), 800);
    for (const Mode& mode : work.modes) {
        EXPECT_GT(mode.damping_ratio, 0.001);
        EXPECT_LT(mode.damping_ratio, 0.06);
    }
}

TEST(ShortestJob, TheToolIsAsStiffAsSuchToolsAre) {
    const sample::ShortestJob job = sample::shortest_job();
    const SolvedSide tool = solve_tool_side(job.machine, job.tool);
    // 3/8 in of carbide 6 diameters out: 1 to 6 N/um at the tip, first bending of the cutter
    // about 1 kHz.
    EXPECT_GT(1 / tool.compliance(0, 0), 0.7e6);
    EXPECT_LT(1 / tool.compliance(0, 0), 6e6);
    EXPECT_GT(tool.modes[0].frequency.hertz(), 200);
    EXPECT_GT(share_of(tool, Eigen::Vector3d::UnitX(), "cutter"), 0.3);
    EXPECT_LT(tool.compliance(2, 2), 0.2 * tool.compliance(0, 0)) << "stiff along its axis";
}

TEST(ShortestJob, APlainSteelRiserIsSeldomTheSoftMember) {
    // Common practice, no source.
    sample::ShortestJob job = sample::shortest_job();
    for (const double inches : {3.0, 4.0, 6.0, 8.0}) {
        job.stack = sample::riser_and_part(inches * sample::kInch);
        const SolvedSide work = work_side(job);
        for (const Eigen::Vector3d& direction :
             {Eigen::Vector3d(1, 0, 0), Eigen::Vector3d(0, 1, 0)}) {
            EXPECT_LT(share_of(work, direction, "riser"), 0.25)
                << inches << " in, along " << direction.transpose();
        }
    }
}

TEST(ShortestJob, ATallerRiserIsSofterAndALongerStickoutToo) {
    sample::ShortestJob job = sample::shortest_job();
    const double before = work_side(job).compliance(0, 0);
    job.stack = sample::riser_and_part(8 * sample::kInch);
    EXPECT_GT(work_side(job).compliance(0, 0), before);
    const double tool = solve_tool_side(job.machine, job.tool).compliance(0, 0);
    job.tool = sample::shrunk_cutter(2.75 * sample::kInch);
    EXPECT_GT(solve_tool_side(job.machine, job.tool).compliance(0, 0), 1.2 * tool);
}

TEST(ShortestJob, EveryStiffnessThatTheCatalogueSuppliedIsNoted) {
    const sample::ShortestJob job = sample::shortest_job();
    const SolvedSide work = work_side(job), tool = solve_tool_side(job.machine, job.tool);
    std::vector<std::string> paths;
    for (const SolvedSide* side : {&work, &tool}) {
        for (const Assumption& note : side->notes) {
            paths.push_back(note.path);
            EXPECT_FALSE(note.source.empty()) << note.path;
        }
    }
    EXPECT_EQ(paths, (std::vector<std::string>{"machine.table", "tier \"riser\".joint",
                                               "tier \"part\".joint", "tier \"part\".joint.seat",
                                               "machine.spindle", "tool \"cutter\".taper",
                                               "tool \"cutter\".grip"}));
}

TEST(ShortestJob, ParametersAreDrawnTogetherByKind) {
    const SolvedSide work = work_side(sample::shortest_job());
    for (const StiffnessParameter& parameter : work.system->stiffness) {
        EXPECT_FALSE(parameter.stiffness_spread.group.empty()) << parameter.name;
        EXPECT_GE(parameter.stiffness_spread.factor, 1) << parameter.name;
    }
    const auto group = [&](const std::string& name) -> std::string {
        for (const StiffnessParameter& parameter : work.system->stiffness) {
            if (parameter.name == name) return parameter.stiffness_spread.group;
        }
        return "no such parameter";
    };
    EXPECT_EQ(group("part joint.tilting_x"), "joint stiffness: dovetail");
    EXPECT_EQ(group("riser joint.vertical"), "joint stiffness: bolted");
    EXPECT_EQ(group("table.lateral_x"), "table stiffness");
}

}  // namespace
}  // namespace standfast
