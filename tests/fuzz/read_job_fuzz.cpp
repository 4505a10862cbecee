// libFuzzer target: any bytes as a job. Build with clang and -DSTANDFAST_FUZZ=ON, then
//   read_job_fuzz tests/fuzz/found
// A crash, a hang or a number that is not finite is a fault; put its input into tests/fuzz/found.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "cli/job/read_job.hpp"
#include "tests/cli/job/job_numbers.hpp"

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer looks for
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    // "use" must not read files of the machine that runs this.
    const std::string text(reinterpret_cast<const char*>(data), size);
    const standfast::ReadResult result =
        standfast::read_job_text(text, "/nonexistent/folder/job.toml");
    if (result.job.has_value() != result.errors.empty()) {
        std::abort();
    }
    (void)standfast::format_diagnostics(result.errors);
    if (result.job) {
        for (const auto& [name, value] : standfast::testing::numbers_of(*result.job)) {
            if (!std::isfinite(value)) {
                std::abort();
            }
        }
    }
    return 0;
}
