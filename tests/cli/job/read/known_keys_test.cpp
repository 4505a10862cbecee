// The hints know the same keys as the readers.
#include "cli/job/read/known_keys.hpp"

#include <gtest/gtest.h>

#include <string>

#include "cli/job/read_job.hpp"

namespace standfast {
namespace {

TEST(KnownKeys, EveryKeyOfTheHintsIsOneThatTheReadersAskFor) {
    for (const KnownTable& table : known_tables()) {
        std::string text = std::string(table.header) + "\n";
        for (const std::string_view key : table.keys) {
            text += std::string(key) + " = true\n";
        }
        for (const Diagnostic& fault : read_job_text(text, "job.toml").errors) {
            EXPECT_EQ(fault.message.find("unknown key"), std::string::npos) << fault.message;
        }
    }
}

TEST(KnownKeys, HintNamesTheTableWhereTheKeyBelongs) {
    EXPECT_EQ(landed_hint("radial", "[[tool]]"),
              "a line belongs to the last table header above it, here [[tool]]: \"radial\" belongs "
              "under [[pass]]");
    EXPECT_EQ(landed_hint("radial", "[[pass]]"), "");
    EXPECT_EQ(landed_hint("radail", "[[tool]]"), "");
}

}  // namespace
}  // namespace standfast
