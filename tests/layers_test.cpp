// A room is a folder with a library of its own and a list of the rooms that it may include; this is
// the machine that holds every #include against those lists.
#include <gtest/gtest.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

/// What each room may include besides itself, as the CMakeLists.txt of fea and cli say it.
using Neighbours = std::map<std::string, std::set<std::string>>;

Neighbours declared_neighbours() {
    Neighbours found{{"materials", {}}, {"materials/tables", {"materials"}}};
    const std::regex declaration(R"(standfast_(?:fea|cli)_room\(((?:fea|cli)/[^)]*)\))");
    for (const char* list : {"fea/CMakeLists.txt", "cli/CMakeLists.txt"}) {
        std::ifstream stream(std::filesystem::path(STANDFAST_SOURCE_DIR) / list);
        const std::string text{std::istreambuf_iterator<char>(stream), {}};
        for (std::sregex_iterator room(text.begin(), text.end(), declaration), end; room != end;
             ++room) {
            std::istringstream words((*room)[1]);
            std::string name, neighbour;
            words >> name;
            std::set<std::string>& neighbours = found[name];
            while (words >> neighbour) neighbours.insert(neighbour);
        }
    }
    // The programs stand beside the rooms and may take from all of them.
    std::set<std::string>& programs = found["cli"];
    for (const auto& [name, neighbours] : found) programs.insert(name);
    return found;
}

struct Include {
    std::string file;
    int line = 0;
    std::string target;
    bool quoted = false;
};

std::string room_of(const std::string& path) {
    return fs::path(path).parent_path().generic_string();
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

TEST(Layers, ARoomIncludesItselfAndTheNeighboursThatItDeclares) {
    const Neighbours rooms = declared_neighbours();
    ASSERT_GT(rooms.size(), 40U);
    for (const char* folder : {"materials", "fea", "cli"}) {
        for (const Include& include : includes_below(folder)) {
            if (!include.quoted) continue;
            const std::string from = room_of(include.file), to = room_of(include.target);
            ASSERT_TRUE(rooms.contains(from)) << include.file << " is in no declared room";
            EXPECT_TRUE(from == to || rooms.at(from).contains(to))
                << include.file << ":" << include.line << " includes \"" << include.target
                << "\", but " << from << " does not declare " << to;
        }
    }
}

TEST(Layers, EveryNeighbourIsDeclaredBeforeTheRoomThatNamesItSoThatNoCircleCloses) {
    const Neighbours rooms = declared_neighbours();
    std::set<std::string> standing;
    for (std::size_t round = 0; round < rooms.size(); ++round) {
        for (const auto& [room, neighbours] : rooms) {
            if (std::ranges::all_of(neighbours, [&](const std::string& neighbour) {
                    return neighbour == room || standing.contains(neighbour);
                })) {
                standing.insert(room);
            }
        }
    }
    for (const auto& [room, neighbours] : rooms) {
        EXPECT_TRUE(standing.contains(room)) << room << " is part of a circle, or names no room";
    }
}

TEST(Layers, TheCoreKnowsNothingOfTheCommandLine) {
    for (const auto& [room, neighbours] : declared_neighbours()) {
        if (room.starts_with("cli")) continue;
        for (const std::string& neighbour : neighbours) {
            EXPECT_FALSE(neighbour.starts_with("cli")) << room << " names " << neighbour;
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
