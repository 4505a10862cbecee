// The same job written in millimetres and in inches is the same job. The inch is 25.4 mm exactly,
// so every size below is the same length in both texts.
#include <gtest/gtest.h>

#include <string>

#include "cli/job/read_job.hpp"
#include "tests/cli/job/job_numbers.hpp"

namespace standfast {
namespace {

constexpr const char* kMetric = R"(
[machine]
kind = "5-axis, table tilts"
taper = "HSK-A63"
speed = ["600 rpm", "15000 rpm"]
carry_max = "45.359237 kg"
table = { lateral = "175126835.24647 N/m", diameter = "304.8 mm" }
[[tier]]
name = "riser"
material = "steel"
tube = ["101.6 mm", "63.5 mm"]
top = { tube = ["88.9 mm", "57.15 mm"] }
height = "152.4 mm"
joint = { kind = "bolted", screws = 4, size = "12.7 mm", torque = "67.79089741657002 N m" }
[[tier]]
name = "part"
material = "6061"
block = ["69.85 mm", "50.8 mm"]
height = "95.25 mm"
at = ["2.54 mm", "0 mm", "152.4 mm"]
joint = { kind = "dovetail", width = "31.75 mm", clamp = "17792.886461042 N" }
[[tier.side]]
name = "weight"
mass = "0.45359237 kg"
at = ["50.8 mm", "0 mm", "25.4 mm"]
[[tool]]
name = "finisher"
holder = [ { round = "50.8 mm", length = "25.4 mm" }, { round = "31.75 mm", to = "25.4 mm", length = "63.5 mm" } ]
grip = { kind = "shrink", length = "38.1 mm" }
cutter = { diameter = "9.525 mm", teeth = 3, corner = "0.381 mm", overall = "101.6 mm", stickout = "57.15 mm" }
[[pass]]
name = "wall"
at = ["34.925 mm", "0 mm", "76.2 mm"]
to = ["34.925 mm", "-25.4 mm", "76.2 mm"]
wall = "+x"
radial = "0.254 mm"
axial = "12.7 mm"
feed = "1646 mm/min"
speed = "9000 rpm"
tolerance = "0.0254 mm"
)";

constexpr const char* kInch = R"(
[machine]
kind = "5-axis, table tilts"
taper = "HSK-A63"
speed = ["600 rpm", "15000 rpm"]
carry_max = "100 lb"
table = { lateral = "1000000 lbf/in", diameter = "12 in" }
[[tier]]
name = "riser"
material = "steel"
tube = ["4 in", "2-1/2 in"]
top = { tube = ["3.5 in", "2 1/4 in"] }
height = "6 in"
joint = { kind = "bolted", screws = 4, size = "1/2-13", torque = "50 ft lb" }
[[tier]]
name = "part"
material = "6061"
block = ["2.75 in", "2 in"]
height = "3-3/4 in"
at = ["100 thou", "0 in", "6 in"]
joint = { kind = "dovetail", width = "1-1/4 in", clamp = "4000 lbf" }
[[tier.side]]
name = "weight"
mass = "1 lb"
at = ["2 in", "0 in", "1 in"]
[[tool]]
name = "finisher"
holder = [ { round = "2 in", length = "1 in" }, { round = "1.25 in", to = "1 in", length = "2.5 in" } ]
grip = { kind = "shrink", length = "1.5 in" }
cutter = { diameter = "3/8 in", teeth = 3, corner = "15 thou", overall = "4 in", stickout = "2.25 in" }
[[pass]]
name = "wall"
at = ["1.375 in", "0 in", "3 in"]
to = ["1.375 in", "-1 in", "3 in"]
wall = "+x"
radial = "0.010 in"
axial = "0.5 in"
feed = "64.80314960629921 ipm"
speed = "9000 rpm"
tolerance = "0.001 in"
)";

TEST(ReadJob, SameJobInInchesAndMillimetresIsTheSameJob) {
    const ReadResult metric = read_job_text(kMetric, "metric.toml");
    const ReadResult inch = read_job_text(kInch, "inch.toml");
    ASSERT_TRUE(metric.job) << format_diagnostics(metric.errors);
    ASSERT_TRUE(inch.job) << format_diagnostics(inch.errors);
    testing::expect_same_job(*metric.job, *inch.job, 1e-12);
}

TEST(ReadJob, LineEndingsAndAByteOrderMarkDoNotMatter) {
    std::string other = kMetric;
    for (std::size_t at = 0; (at = other.find('\n', at)) != std::string::npos; at += 2) {
        other.replace(at, 1, "\r\n");
    }
    const ReadResult plain = read_job_text(kMetric, "a.toml");
    const ReadResult marked = read_job_text("\xEF\xBB\xBF" + other, "b.toml");
    ASSERT_TRUE(plain.job && marked.job) << format_diagnostics(marked.errors);
    testing::expect_same_job(*plain.job, *marked.job, 0);
}

}  // namespace
}  // namespace standfast
