// Every example of the repository is read without a fault.
#include <gtest/gtest.h>

#include <filesystem>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"

namespace {

TEST(ReadJob, ReadsEveryExampleWithoutAFault) {
    const std::filesystem::path root = STANDFAST_SOURCE_DIR;
    int count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(root / "examples")) {
        const std::filesystem::path job = entry.path() / "job.toml";
        if (!std::filesystem::exists(job)) {
            continue;
        }
        ++count;
        const standfast::ReadResult result = standfast::read_job(job.string());
        EXPECT_TRUE(result.job.has_value()) << standfast::format_diagnostics(result.errors);
    }
    EXPECT_GE(count, 8);
}

}  // namespace
