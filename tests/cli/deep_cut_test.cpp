// Cuts spread along the edge against limits and walls that two independent methods agree on to
// 0.7 %: clamped Timoshenko beams as tools and strips as parts, no axial coefficients.
// Source: tests/data/deep_cut.json says how they were computed; not published figures.
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/job/read_job.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"

namespace standfast {
namespace {

constexpr double kTolerance = 0.02;  // of the limit, or of a wall's largest error

const nlohmann::json& reference() {
    static const nlohmann::json data = [] {
        std::ifstream file(STANDFAST_SOURCE_DIR "/tests/data/deep_cut.json");
        return nlohmann::json::parse(file);
    }();
    return data;
}

struct Case {
    Job job;
    CutProblem problem;
    double heading = 0;
};

// The job must stay where it is while the problem is used.
void open_case(const std::string& text, Case& out) {
    const ReadResult read = read_job_text(text, "reference case");
    ASSERT_TRUE(read.job.has_value()) << text;
    out.job = *read.job;
    const JobSides sides = solve_sides(out.job, {0});
    out.problem = cut_problem(out.job, 0, sides.tool[0], sides.work[0], StabilityMethod::periodic);
    out.heading = fixed_heading(out.job, out.job.passes[0]).value_or(0);
}

std::vector<SpeedLimit> limits(const Case& of, const std::vector<double>& rpm) {
    std::vector<SpindleSpeed> speeds;
    for (const double one : rpm) speeds.push_back(SpindleSpeed::from_rpm(one));
    return limits_at_heading(of.problem, of.heading, speeds).speeds;
}

void expect_limit(const SpeedLimit& found, const nlohmann::json& wanted, const std::string& what) {
    if (wanted.is_null()) {
        EXPECT_FALSE(found.limit.has_value()) << what << ": stable as deep as searched";
        return;
    }
    ASSERT_TRUE(found.limit.has_value()) << what;
    const double limit = wanted.get<double>() * 1e-3;
    EXPECT_NEAR(*found.limit, limit, kTolerance * limit) << what;
}

TEST(DeepCut, LimitsOfSlenderAndStubbyToolsAreThoseOfTwoIndependentMethods) {
    for (const auto& one : reference()["cases"]) {
        if (!one.contains("job")) continue;
        Case of;
        open_case(one["job"], of);
        EXPECT_GE(of.problem.searched_to, one["searched_to_mm"].get<double>() * 1e-3);
        std::vector<double> rpm;
        for (const auto& row : one["rows"]) rpm.push_back(row["rpm"]);
        const std::vector<SpeedLimit> found = limits(of, rpm);
        for (std::size_t i = 0; i < rpm.size(); ++i) {
            expect_limit(found[i], one["rows"][i]["limit_mm"],
                         one["id"].get<std::string>() + " at " + std::to_string(rpm[i]));
        }
    }
}

TEST(DeepCut, LimitsOfAFlexiblePartCutFromItsTopDownAreThoseOfTwoIndependentMethods) {
    for (const auto& one : reference()["cases"]) {
        if (one.contains("job")) continue;
        for (const auto& row : one["rows"]) {
            const std::string what = one["id"].get<std::string>() + " at " + row["rpm"].dump();
            Case of;
            open_case(row["job"], of);
            expect_limit(limits(of, {row["rpm"]}).front(), row["limit_mm"], what);
            if (!row.contains("band_job")) continue;
            Case band;
            open_case(row["band_job"], band);
            expect_limit(limits(band, {row["rpm"]}).front(), row["band_limit_mm"],
                         what + ", tip below the top");
        }
    }
}

TEST(DeepCut, AFlexiblePartIsOnTheRightSideThreePercentAboveAndBelowItsLimit) {
    for (const auto& one : reference()["cases"]) {
        if (one.contains("job")) continue;
        for (const auto& row : one["rows"]) {
            const std::string what = one["id"].get<std::string>() + " at " + row["rpm"].dump();
            Case stable, unstable;
            open_case(row["job_stable"], stable);
            open_case(row["job_unstable"], unstable);
            const auto below = limits(stable, {row["rpm"]}).front().limit;
            const auto above = limits(unstable, {row["rpm"]}).front().limit;
            EXPECT_GT(below.value_or(1), *stable.job.passes[0].axial) << what;
            EXPECT_LT(above.value_or(1), *unstable.job.passes[0].axial) << what;
        }
    }
}

TEST(DeepCut, WallsFollowTheShapesAlongTheEdge) {
    for (const auto& one : reference()["surface_error"]) {
        Case of;
        open_case(one["job"], of);
        const double depth = one["axial_mm"].get<double>() * 1e-3;
        std::vector<double> heights;
        for (const auto& z : one["height_mm"]) heights.push_back(z.get<double>() * 1e-3);
        RigidCut cut = of.problem.cut;
        cut.depth = depth;
        const StableMotion motion = stable_motion(edge_at_heading(of.problem, of.heading, depth),
                                                  cut, SpindleSpeed::from_rpm(one["rpm"]), heights);
        double largest = 0;
        for (const auto& error : one["error_um"]) {
            largest = std::max(largest, std::abs(error.get<double>()) * 1e-6);
        }
        for (std::size_t i = 0; i < heights.size(); ++i) {
            EXPECT_NEAR(motion.error[i], one["error_um"][i].get<double>() * 1e-6,
                        kTolerance * largest)
                << one["id"] << " at height " << heights[i];
        }
    }
}

}  // namespace
}  // namespace standfast
