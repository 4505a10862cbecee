#include "cli/files/safe_file.hpp"

#include <gtest/gtest.h>

#include "cli/files/file_name.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/report/common/csv.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;
using tests::TemporaryFolder;

const std::vector<OutputFile> kFiles = {{"a-speeds.csv", "rpm\n1\n"}, {"b-speeds.csv", "rpm\n2\n"}};

TEST(Fingerprint, OfNothingAndOfAIsTheOnePublishedForFnv1a) {
    // FNV test vectors, 64-bit FNV-1a of "" and "a" (from memory).
    EXPECT_EQ(fingerprint(""), "cbf29ce484222325");
    EXPECT_EQ(fingerprint("a"), "af63dc4c8601ec8c");
}

TEST(SafeFile, LeavesNoTemporaryBehind) {
    const TemporaryFolder folder;
    write_file(folder.path() + "/out.txt", "text");
    EXPECT_EQ(folder.read("out.txt"), "text");
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), fs::directory_iterator{}), 1);
}

TEST(SafeFile, AFailureKeepsTheOldFileAndNamesTheNewOne) {
    const TemporaryFolder folder;
    fs::create_directory(folder.path() + "/taken");
    try {
        write_file(folder.path() + "/taken", "text");
        FAIL() << "a folder was overwritten";
    } catch (const std::runtime_error& error) {
        EXPECT_NE(std::string(error.what()).find("taken"), std::string::npos) << error.what();
    }
    EXPECT_EQ(std::distance(fs::directory_iterator(folder.path()), fs::directory_iterator{}), 1);
}

TEST(CsvFolder, IsMadeAndMayBeWrittenAgain) {
    const TemporaryFolder folder;
    const fs::path out = fs::path(folder.path()) / "deep" / "out";
    write_csv_folder(out, kFiles, {"corners"}, false);
    write_csv_folder(out, {{"a-speeds.csv", "rpm\n3\n"}}, {"corners"}, false);
    write_csv_folder(out, kFiles, {"corners"}, false);
    EXPECT_EQ(file_bytes(out / "a-speeds.csv"), "rpm\n1\n");
}

TEST(CsvFolder, CompanionCarriesCautionsAndWhatWasNotJudged) {
    const TemporaryFolder folder;
    write_csv_folder(folder.path(), kFiles, {"corners and entries"}, false);
    const std::string companion = folder.read(std::string(kCompanionName));
    EXPECT_NE(companion.find("Overspeed"), std::string::npos);
    EXPECT_NE(companion.find("- corners and entries"), std::string::npos);
}

TEST(CsvFolder, AForeignFileStopsEverythingBeforeAnythingIsWritten) {
    const TemporaryFolder folder;
    folder.write("b-speeds.csv", "mine");
    EXPECT_THROW(write_csv_folder(folder.path(), kFiles, {}, false), UsageError);
    EXPECT_EQ(folder.read("b-speeds.csv"), "mine");
    EXPECT_FALSE(folder.has("a-speeds.csv"));
    EXPECT_FALSE(folder.has(std::string(kCompanionName)));
    write_csv_folder(folder.path(), kFiles, {}, true);
    EXPECT_EQ(folder.read("b-speeds.csv"), "rpm\n2\n");
}

TEST(CsvFolder, AFileThatSomebodyEditedIsNoLongerOurs) {
    const TemporaryFolder folder;
    write_csv_folder(folder.path(), kFiles, {}, false);
    folder.write("a-speeds.csv", "rpm\n1\nmy note\n");
    EXPECT_THROW(write_csv_folder(folder.path(), kFiles, {}, false), UsageError);
    EXPECT_EQ(folder.read("a-speeds.csv"), "rpm\n1\nmy note\n");
}

TEST(CsvFolder, ALinkToSomebodysFileIsNotFollowed) {
    const TemporaryFolder folder;
    const std::string target = folder.write("elsewhere/precious.txt", "precious");
    fs::create_symlink(target, folder.path() + "/a-speeds.csv");
    EXPECT_THROW(write_csv_folder(folder.path(), kFiles, {}, false), UsageError);
    write_csv_folder(folder.path(), kFiles, {}, true);
    EXPECT_EQ(folder.read("elsewhere/precious.txt"), "precious");
}

const std::vector<OutputFile> kThree = {
    {"a-speeds.csv", "rpm\n1\n"}, {"b-speeds.csv", "rpm\n2\n"}, {"c-speeds.csv", "rpm\n3\n"}};

/// Writes until this file, in whose place a folder stands, and stops there as if it were killed.
void write_as_far_as(const fs::path& folder, const std::vector<OutputFile>& files,
                     const std::string& stop) {
    fs::remove(folder / stop);
    fs::create_directories(folder / stop / "in the way");
    EXPECT_THROW(write_csv_folder(folder, files, {}, true), std::runtime_error);
    fs::remove_all(folder / stop);
}

TEST(CsvFolder, InterruptedAnywhereTheSameCommandCompletesIt) {
    for (const bool renewed : {false, true}) {
        for (const OutputFile& stop : kThree) {
            SCOPED_TRACE(stop.name);
            const TemporaryFolder folder;
            if (renewed) {
                std::vector<OutputFile> older = kThree;
                for (OutputFile& file : older) file.bytes += "older\n";
                write_csv_folder(folder.path(), older, {}, false);
            }
            write_as_far_as(folder.path(), kThree, stop.name);
            EXPECT_NO_THROW(write_csv_folder(folder.path(), kThree, {}, false));
            for (const OutputFile& file : kThree) {
                EXPECT_EQ(folder.read(file.name), file.bytes) << file.name;
            }
            EXPECT_NO_THROW(write_csv_folder(folder.path(), kThree, {}, false));
        }
    }
}

TEST(CsvFolder, AnInterruptionDoesNotMakeAForeignFileOurs) {
    const TemporaryFolder folder;
    folder.write("c-speeds.csv", "mine");
    write_as_far_as(folder.path(), kThree, "b-speeds.csv");
    folder.write("c-speeds.csv", "mine");
    EXPECT_THROW(write_csv_folder(folder.path(), kThree, {}, false), UsageError);
    EXPECT_EQ(folder.read("c-speeds.csv"), "mine");
}

TEST(CsvFolder, TheNextRunRemovesWhatAKilledOneLeftOfAnyOfItsFiles) {
    const TemporaryFolder folder;
    write_csv_folder(folder.path(), kThree, {}, false);
    folder.write("c-speeds.csv.4711.part", "half");
    folder.write("film.4711.part", "somebody's download");
    write_csv_folder(folder.path(), kFiles, {}, false);
    EXPECT_FALSE(folder.has("c-speeds.csv.4711.part"));
    EXPECT_TRUE(folder.has("film.4711.part"));
}

TEST(FileNames, OfPassesAreSafeOnEverySystem) {
    EXPECT_EQ(file_stem("finish the tall wall"), "finish-the-tall-wall");
    EXPECT_EQ(file_stem("../../etc/passwd"), "etc-passwd");
    EXPECT_EQ(file_stem("a:b*c?"), "a-b-c");
    EXPECT_EQ(file_stem("..."), "pass");
    EXPECT_EQ(file_stem("NUL"), "NUL-pass");
    EXPECT_EQ(file_stem("Wandfräsen"), "Wandfräsen");
    EXPECT_LE(file_stem(std::string(500, 'x')).size(), 80U);
}

TEST(FileNames, OfTwoPassesNeverCollide) {
    std::set<std::string> used;
    EXPECT_EQ(unique_stem("a/b", used), "a-b");
    EXPECT_EQ(unique_stem("a b", used), "a-b-2");
    EXPECT_EQ(unique_stem("A B", used), "A-B-3");
}

}  // namespace
}  // namespace standfast
