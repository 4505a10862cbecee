// Any bytes from outside end in an answer or in a fault that the reader names: what the fuzzing
// programs once found or were started from, and small changes of these.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>
#include <string>
#include <vector>

#include "tests/fuzz/targets/targets.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

const std::vector<fuzz::Target>& targets() {
    static const std::vector<fuzz::Target> list{{"overlay", fuzz::try_overlay},
                                                {"catalogue", fuzz::try_catalogue},
                                                {"universal-file", fuzz::try_universal_file},
                                                {"csv", fuzz::try_receptance_table},
                                                {"recording", fuzz::try_recording},
                                                {"shard", fuzz::try_shard},
                                                {"command-line", fuzz::try_command_line},
                                                {"program", fuzz::try_program}};
    return list;
}

std::vector<std::string> found_for(std::string_view target) {
    std::vector<std::string> inputs;
    const fs::path folder = fs::path(STANDFAST_SOURCE_DIR) / "tests/fuzz/found" / target;
    for (const auto& entry : fs::directory_iterator(folder)) {
        std::ifstream stream(entry.path(), std::ios::binary);
        inputs.emplace_back(std::istreambuf_iterator<char>(stream),
                            std::istreambuf_iterator<char>());
    }
    return inputs;
}

/// One byte more, less or other, or a stretch twice.
std::string changed(std::string bytes, std::mt19937& random) {
    for (unsigned i = 0, n = 1 + random() % 8; i < n && !bytes.empty(); ++i) {
        const std::size_t at = random() % bytes.size();
        switch (random() % 4) {
            case 0:
                bytes[at] = static_cast<char>(random() % 256);
                break;
            case 1:
                bytes.erase(at, 1 + random() % 20);
                break;
            case 2:
                bytes.insert(at, 1, "0123456789-.\"[]{}=,\n"[random() % 20]);
                break;
            default:
                bytes += bytes.substr(at, 40);
        }
    }
    return bytes;
}

TEST(FoundBytes, EndInAnAnswerOrInAFaultOfEveryReader) {
    std::mt19937 random(1);
    for (const fuzz::Target& target : targets()) {
        SCOPED_TRACE(target.name);
        const std::vector<std::string> inputs = found_for(target.name);
        ASSERT_FALSE(inputs.empty());
        for (const std::string& input : inputs) {
            target.try_bytes(input);
            for (int i = 0; i < 40 && input.size() < 20'000; ++i) {
                target.try_bytes(changed(input, random));
            }
        }
    }
}

}  // namespace
}  // namespace standfast
