#pragma once

#include <gtest/gtest.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>

namespace standfast::tests {

/// Compares a text with tests/cli/golden/NAME. With STANDFAST_UPDATE_GOLDEN=1 in the environment
/// the file is written instead, to be read in review.
inline void expect_golden(const std::string& name, const std::string& text) {
    const std::string path = STANDFAST_SOURCE_DIR "/tests/cli/golden/" + name;
    if (std::getenv("STANDFAST_UPDATE_GOLDEN") != nullptr) {
        std::ofstream(path, std::ios::binary) << text;
    }
    std::ifstream stream(path, std::ios::binary);
    const std::string expected{std::istreambuf_iterator<char>(stream), {}};
    EXPECT_EQ(text, expected) << "differs from " << path
                              << "; STANDFAST_UPDATE_GOLDEN=1 writes it anew";
}

}  // namespace standfast::tests
