// Programs are invented.
#include "cli/starters/program_job.hpp"

#include <gtest/gtest.h>

#include <stdexcept>

#include "cli/job/read_job.hpp"
#include "cli/starters/starter_job.hpp"

namespace standfast {
namespace {

constexpr const char* kProgram =
    "G21 G90\n(12 MM, 3 FLUTES)\nT1 M6\nS6000 M3\nG0 Z5.\nG1 Z-4. F300\nX40. F1200\nZ-8. F300\nX0. "
    "F1200\nT2 M6\nS9000 M3\nG0 Z5.\nG1 Z-8. F200\nX40. F700\nG95\nX0. F.2\nM30\n";

std::string job_of(std::string_view program, UnitSystem units = UnitSystem::metric) {
    return program_job(read_nc_program(program), "part.nc", starter_stand("vice", units));
}

std::string filled_in(std::string job) {
    for (std::size_t at = job.find(kFillIn); at != std::string::npos; at = job.find(kFillIn, at)) {
        job.erase(at, kFillIn.size());
    }
    return job;
}

TEST(ProgramJob, ReadsOnceItsBlanksAreFilledAndHoldsTheProgramsFigures) {
    const std::string text = job_of(kProgram);
    const ReadResult read = read_job_text(filled_in(text), "job.toml");
    ASSERT_TRUE(read.errors.empty()) << format_diagnostics(read.errors) << text;
    ASSERT_EQ(read.job->tools.size(), 2U);
    ASSERT_EQ(read.job->passes.size(), 3U);
    EXPECT_EQ(read.job->tools[1].name, "T2");
    const Pass& rough = read.job->passes[0];
    EXPECT_NEAR(rough.speed->rpm(), 6000, 1e-6);
    EXPECT_NEAR(rough.feed_per_tooth, 1200e-3 / (3 * 6000), 1e-12) << "3 teeth are filled in";
    EXPECT_EQ(rough.tool, 0U);
    EXPECT_EQ(read.job->passes[2].tool, 1U);
}

TEST(ProgramJob, WhatTheProgramDoesNotSayIsABlankAndNoFigure) {
    const std::string text = job_of(kProgram);
    const ReadResult read = read_job_text(text, "job.toml");
    EXPECT_FALSE(read.job);
    std::string faults = format_diagnostics(read.errors);
    EXPECT_NE(faults.find("radial is missing"), std::string::npos) << faults;
    EXPECT_NE(faults.find("cutter is missing"), std::string::npos) << faults;
    EXPECT_NE(text.find("levels Z -4, -8 mm, 4 mm apart"), std::string::npos) << text;
    EXPECT_NE(text.find("0.2 mm a turn"), std::string::npos) << text;
    EXPECT_NE(text.find("the program calls it: 12 MM, 3 FLUTES"), std::string::npos) << text;
}

TEST(ProgramJob, InchesStayInches) {
    const std::string text =
        job_of("G20 G90\nT3 M6\nS8000 M3\nG0 Z.1\nG1 Z-.2 F10.\nX2. F35.\nM30\n", UnitSystem::inch);
    EXPECT_NE(text.find("feed = \"35 ipm\""), std::string::npos) << text;
    const ReadResult read = read_job_text(filled_in(text), "job.toml");
    ASSERT_TRUE(read.errors.empty()) << format_diagnostics(read.errors);
    EXPECT_NEAR(read.job->passes[0].feed_per_tooth, 35 * 0.0254 / (3 * 8000), 1e-9);
}

TEST(ProgramJob, BytesOfTheProgramCannotBecomeKeysOfTheJob) {
    const std::string text = job_of(
        "G21\n(A\"\x1b[31m\xff = \x01)\nT1 M6\nS5000 M3\nG0 Z1.\nG1 X1. F100.\nM\x1b[2J\nG1 \"]\n");
    EXPECT_EQ(text.find('\x1b'), std::string::npos);
    const ReadResult read = read_job_text(filled_in(text), "job.toml");
    EXPECT_TRUE(read.errors.empty()) << format_diagnostics(read.errors);
}

TEST(ProgramJob, AProgramWithoutACutIsRefused) {
    EXPECT_THROW(job_of("G21\nT1 M6\nG0 X1.\n"), std::domain_error);
}

}  // namespace
}  // namespace standfast
