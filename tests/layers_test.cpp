// The layers are a list, from the bottom up, and this is the machine that checks it: a file may
// include its own room and rooms above it in this list, nothing below.
#include <gtest/gtest.h>

#include <array>
#include <filesystem>
#include <fstream>
#include <regex>
#include <set>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

constexpr std::array<const char*, 12> kRooms{
    "materials",   "fea/quantities", "fea/structure", "fea/solution", "fea/job",       "fea/stack",
    "fea/cutting", "fea/chatter",    "fea/judgement", "fea/studies",  "fea/reach_fcl", "cli"};

// fea/job is plain data: of all the rooms above it, it needs only these.
const std::set<std::string> kJobMayInclude{"materials", "fea/quantities", "fea/job"};

struct Include {
    std::string file;
    int line = 0;
    std::string target;
    bool quoted = false;
};

int room_of(const std::string& path) {
    for (std::size_t room = 0; room < kRooms.size(); ++room) {
        if (path.starts_with(std::string(kRooms.at(room)) + "/")) return static_cast<int>(room);
    }
    return -1;
}

std::vector<Include> includes_below(const std::string& folder) {
    const fs::path root = STANDFAST_SOURCE_DIR;
    const std::regex pattern(R"re(^\s*#\s*include\s*(["<])([^">]+)[">])re");
    std::vector<Include> found;
    for (const auto& entry : fs::recursive_directory_iterator(root / folder)) {
        const std::string extension = entry.path().extension().string();
        if (extension != ".hpp" && extension != ".cpp") continue;
        std::ifstream stream(entry.path());
        std::string text;
        for (int line = 1; std::getline(stream, text); ++line) {
            std::smatch match;
            if (!std::regex_search(text, match, pattern)) continue;
            found.push_back({fs::relative(entry.path(), root).generic_string(), line, match[2],
                             match[1] == "\""});
        }
    }
    return found;
}

TEST(Layers, IncludesRunUpwardsOnly) {
    for (const char* folder : {"materials", "fea", "cli"}) {
        for (const Include& include : includes_below(folder)) {
            if (!include.quoted) continue;
            const int from = room_of(include.file);
            const int to = room_of(include.target);
            ASSERT_GE(from, 0) << include.file << " is in no room";
            ASSERT_GE(to, 0) << include.file << ":" << include.line << " includes \""
                             << include.target << "\", which is in no room";
            EXPECT_LE(to, from) << include.file << ":" << include.line << " includes \""
                                << include.target << "\" from a room below its own";
            if (include.file.starts_with("fea/job/")) {
                EXPECT_TRUE(kJobMayInclude.contains(kRooms.at(static_cast<std::size_t>(to))))
                    << include.file << ":" << include.line << ": plain data needs no "
                    << include.target;
            }
        }
    }
}

TEST(Layers, PublicHeadersOfThePhysicsShowOnlyEigenAndTheStandardLibrary) {
    for (const char* folder : {"materials", "fea"}) {
        for (const Include& include : includes_below(folder)) {
            if (include.quoted || !include.file.ends_with(".hpp")) continue;
            const bool eigen = include.target.starts_with("Eigen/");
            const bool standard = include.target.find('/') == std::string::npos &&
                                  include.target.find('.') == std::string::npos;
            EXPECT_TRUE(eigen || standard)
                << include.file << ":" << include.line << " leaks <" << include.target << ">";
        }
    }
}

TEST(Layers, TheTopLevelIsTheOneThatTheOwnerSet) {
    const std::set<std::string> allowed{
        "CMakeLists.txt", "README.md", "DEVELOPERS.md", "fea",     "cli",
        "materials",      "tests",     "validation",    "examples"};
    for (const auto& entry : fs::directory_iterator(fs::path(STANDFAST_SOURCE_DIR))) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with(".") || name.starts_with("build")) continue;
        EXPECT_TRUE(allowed.contains(name)) << name;
    }
}

TEST(Layers, ComputationNeitherPrintsNorReadsNorExits) {
    const fs::path root = STANDFAST_SOURCE_DIR;
    const std::regex loud(
        R"(std::cout|std::cerr|std::clog|\bprintf\s*\(|\bputs\s*\(|std::exit|std::abort|getenv|fopen|ifstream|ofstream)");
    for (const auto& entry : fs::recursive_directory_iterator(root / "fea")) {
        if (!entry.is_regular_file()) continue;
        std::ifstream stream(entry.path());
        std::string text;
        for (int line = 1; std::getline(stream, text); ++line) {
            EXPECT_FALSE(std::regex_search(text, loud))
                << entry.path() << ":" << line << ": " << text;
        }
    }
}

}  // namespace
