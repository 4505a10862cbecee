#include "cli/starters/starter_job.hpp"

#include <gtest/gtest.h>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

std::size_t count(const std::string& text, std::string_view piece) {
    std::size_t found = 0;
    for (std::size_t at = text.find(piece); at != std::string::npos;
         at = text.find(piece, at + 1)) {
        ++found;
    }
    return found;
}

TEST(Starters, EveryKindReadsWithoutAnErrorInMillimetresAndInInches) {
    ASSERT_EQ(starter_kinds().size(), 5U);
    for (const StarterKind& kind : starter_kinds()) {
        for (const UnitSystem units : {UnitSystem::metric, UnitSystem::inch}) {
            SCOPED_TRACE(kind.name);
            const ReadResult read = read_job_text(starter_job(kind.name, units), "job.toml");
            EXPECT_TRUE(read.errors.empty()) << format_diagnostics(read.errors);
            EXPECT_TRUE(read.warnings.empty());
            ASSERT_TRUE(read.job);
            EXPECT_FALSE(read.job->passes.empty());
        }
    }
}

TEST(Starters, SayThatTheyAreInventedAndKeepToOneSystemOfUnits) {
    for (const StarterKind& kind : starter_kinds()) {
        SCOPED_TRACE(kind.name);
        const std::string metric = starter_job(kind.name, UnitSystem::metric);
        const std::string inch = starter_job(kind.name, UnitSystem::inch);
        EXPECT_NE(metric.find("(invented)"), std::string::npos);
        EXPECT_NE(metric.find("Everything here is invented"), std::string::npos);
        EXPECT_EQ(count(metric, " in\""), 2U) << "only the examples in the head";
        EXPECT_EQ(count(inch, " mm\""), 1U) << "only the example in the head";
        for (const std::string& text : {metric, inch}) {
            EXPECT_EQ(text.find_first_of("<>|"), std::string::npos) << "a mark of the template";
        }
    }
}

TEST(Starters, BothSystemsDescribeNearlyTheSameStack) {
    for (const StarterKind& kind : starter_kinds()) {
        SCOPED_TRACE(kind.name);
        const ReadResult metric =
            read_job_text(starter_job(kind.name, UnitSystem::metric), "job.toml");
        const ReadResult inch = read_job_text(starter_job(kind.name, UnitSystem::inch), "job.toml");
        ASSERT_TRUE(metric.job && inch.job);
        ASSERT_EQ(metric.job->stack.tiers.size(), inch.job->stack.tiers.size());
        for (std::size_t i = 0; i < metric.job->stack.tiers.size(); ++i) {
            const double height = metric.job->stack.tiers[i].height;
            EXPECT_NEAR(inch.job->stack.tiers[i].height, height, 0.05 * height);
        }
        ASSERT_EQ(metric.job->passes.size(), inch.job->passes.size());
        for (std::size_t i = 0; i < metric.job->passes.size(); ++i) {
            const double axial = metric.job->passes[i].axial.value_or(0);
            EXPECT_NEAR(inch.job->passes[i].axial.value_or(0), axial, 0.1 * axial);
        }
    }
}

TEST(Starters, AKindAnswersToTheWordsOfTheShop) {
    EXPECT_EQ(starter_kind("Vise")->name, "vice");
    EXPECT_EQ(starter_kind("measured modes")->name, "measured-modes");
    EXPECT_EQ(starter_kind("measured_modes")->name, "measured-modes");
    EXPECT_EQ(starter_kind("tombstone")->name, "tower");
    EXPECT_EQ(starter_kind("rizer"), nullptr);
}

}  // namespace
}  // namespace standfast
