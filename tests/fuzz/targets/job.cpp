#include <cmath>

#include "cli/job/read_job.hpp"
#include "tests/cli/job/job_numbers.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void try_job(std::string_view bytes) {
    // "use" must not read files of the machine that runs this.
    const ReadResult result = read_job_text(std::string(bytes), "/nonexistent/folder/job.toml");
    if (result.job.has_value() != result.errors.empty()) broken("a job and faults, or neither");
    (void)format_diagnostics(result.errors);
    if (!result.job) return;
    for (const auto& [name, value] : testing::numbers_of(*result.job)) {
        if (!std::isfinite(value)) broken(name.c_str());
    }
}

}  // namespace standfast::fuzz
