// What rests on rubbing of the flank that nobody measured.
#include <gtest/gtest.h>

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <string>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using nlohmann::json;
using tests::ProgramResult;
using tests::run_program;
using tests::TemporaryFolder;

// A finishing cut in steel, three diameters out (invented).
std::string steel_finish(double rpm, double axial_mm, const std::string& cutting = "") {
    return fmt::format(R"([machine]
kind = "3-axis"
taper = "BT40"
speed = ["500 rpm", "8000 rpm"]
[[tier]]
name = "part"
material = "4140"
block = ["100 mm", "75 mm"]
height = "32 mm"
joint = {{ kind = "vice", length = "100 mm", width = "75 mm", clamp = "25 kN" }}
[[tool]]
name = "cutter"
grip = "shrink"
cutter = {{ diameter = "12 mm", teeth = 4, stickout = "36 mm", shank = "12 mm", flute = "26 mm" }}
{}[[pass]]
name = "finish"
milling = "down"
radial = "0.15 mm"
axial = "{} mm"
feed = "0.05 mm"
speed = "{} rpm"
wall = "+x"
)",
                       cutting, axial_mm, rpm);
}

json judged(const std::string& job) {
    const TemporaryFolder folder;
    folder.write("job.toml", job);
    const ProgramResult run = run_program({"check", folder.path() + "/job.toml", "--json"});
    EXPECT_EQ(run.exit_code, 0) << run.standard_error;
    return run.exit_code == 0 ? json::parse(run.standard_output)["passes"][0] : json();
}

TEST(Rubbing, OfTheMaterialsGroupNeverLiftsACutAboveMarginal) {
    const json pass = judged(steel_finish(2900, 10));
    EXPECT_LT(pass["odds"]["probability"], 0.2);
    EXPECT_GT(pass["odds"]["fresh_edge"]["probability"], 0.5);
    EXPECT_EQ(pass["verdict"]["level"], "marginal");
    EXPECT_NE(pass["verdict"]["text"].get<std::string>().find("a used edge rubs"),
              std::string::npos);
}

TEST(Rubbing, OfAFreshEdgeIsCountedInTheBestThatIsPromised) {
    const json best = judged(steel_finish(2900, 10))["best"];
    ASSERT_FALSE(best.is_null());
    const json done = judged(steel_finish(best["rpm"], 1e3 * best["axial_m"].get<double>()));
    EXPECT_EQ(done["verdict"]["level"], best["level"]) << best.dump();
}

}  // namespace
}  // namespace standfast
