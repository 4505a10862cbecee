#include "cli/job/usual_units.hpp"

#include <gtest/gtest.h>

#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

using tests::TemporaryFolder;

TEST(UsualUnits, AreThoseOfMostLengthsAndMetricOfATie) {
    const TemporaryFolder folder;
    const std::string file = folder.path() + "/job.toml";
    const auto units = [&](const char* text) {
        folder.write("job.toml", text);
        return usual_units({file});
    };
    EXPECT_EQ(units("a = \"3 in\"\nb = [\"1/2 in\", \"5 thou\"]\nc = \"20 mm\"\n"),
              UnitSystem::inch);
    EXPECT_EQ(units("a = \"3 in\"\nb = \"20 mm\"\n"), UnitSystem::metric);
    EXPECT_EQ(units("a = \"9000 rpm\"\nb = \"5 N\"\n"), UnitSystem::metric);
    EXPECT_EQ(units("this is no job"), UnitSystem::metric);
    EXPECT_EQ(usual_units({folder.path() + "/none.toml"}), UnitSystem::metric);
}

TEST(UsualUnits, CountLengthsDeepInTablesOfSeveralJobsTogether) {
    const TemporaryFolder folder;
    folder.write("a.toml",
                 "[[tool]]\ncutter = { diameter = \"3/8 in\", stickout = \"2.25 in\" }\n");
    folder.write("b.toml", "height = \"20 mm\"\n");
    EXPECT_EQ(usual_units({folder.path() + "/a.toml", folder.path() + "/b.toml"}),
              UnitSystem::inch);
}

}  // namespace
}  // namespace standfast
