#include <cmath>

#include "cli/job/merge_files.hpp"
#include "cli/job/read/read_data.hpp"
#include "cli/job/read_job.hpp"
#include "tests/cli/job/job_numbers.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {
namespace {

constexpr const char* kJob =
    "[machine]\nkind = \"3-axis\"\ntaper = \"BT40\"\nspeed = [\"500 rpm\", \"12000 rpm\"]\n"
    "[[tier]]\nname = \"riser\"\nmaterial = \"steel\"\nround = \"100 mm\"\nheight = \"150 mm\"\n"
    "[[tier]]\nname = \"part\"\nmaterial = \"6061\"\nblock = [\"70 mm\", \"50 mm\"]\n"
    "height = \"95 mm\"\njoint = { kind = \"dovetail\", width = \"32 mm\" }\n"
    "[[tool]]\nname = \"mill\"\ncutter = { diameter = \"10 mm\", teeth = 3, stickout = \"40 mm\" "
    "}\n"
    "[[pass]]\nradial = \"1 mm\"\naxial = \"5 mm\"\nfeed = \"0.05 mm\"\nspeed = \"9000 rpm\"\n";

}  // namespace

void try_overlay(std::string_view bytes) {
    static const Job job = *read_job_text(kJob, "job.toml").job;
    Reading reading{.job = job};
    const auto file = make_source_file("/nonexistent/folder/overlay.toml", std::string(bytes));
    if (const auto tree = merge_text(file, reading.errors)) {
        apply_overlay(reading, *tree, bytes.size() % 2 == 0);
    }
    (void)format_diagnostics(reading.errors);
    if (!reading.errors.empty()) return;
    for (const auto& [name, value] : testing::numbers_of(reading.job)) {
        if (!std::isfinite(value)) broken(name.c_str());
    }
}

}  // namespace standfast::fuzz
