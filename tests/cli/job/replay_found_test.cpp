// Inputs that once broke a reader, or were made to: each must end in a job or in faults, at once,
// and a job must hold no number that is not finite.
#include <gtest/gtest.h>

#include <cmath>
#include <filesystem>
#include <string>

#include "cli/job/read_job.hpp"
#include "tests/cli/job/job_numbers.hpp"

namespace standfast {
namespace {

TEST(FoundInputs, EndInAJobOrInFaults) {
    const std::filesystem::path folder =
        std::filesystem::path(STANDFAST_SOURCE_DIR) / "tests/fuzz/found";
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        SCOPED_TRACE(entry.path().filename().string());
        ++count;
        const ReadResult result = read_job(entry.path().string());
        EXPECT_EQ(result.job.has_value(), result.errors.empty());
        EXPECT_FALSE(format_diagnostics(result.errors).empty());
        if (result.job) {
            for (const auto& [name, value] : testing::numbers_of(*result.job)) {
                EXPECT_TRUE(std::isfinite(value)) << name;
            }
        }
    }
    EXPECT_GE(count, 20);
}

}  // namespace
}  // namespace standfast
