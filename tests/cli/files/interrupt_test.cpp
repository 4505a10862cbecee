#include "cli/files/interrupt.hpp"

#include <fcntl.h>
#include <gtest/gtest.h>
#include <sys/file.h>
#include <sys/wait.h>
#include <unistd.h>

#include <csignal>
#include <filesystem>
#include <string>

#include "cli/files/safe_file.hpp"
#include "tests/support/run_program.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;
using tests::TemporaryFolder;

/// Forks a process that is in the middle of writing, interrupts it and gives its exit status.
int interrupted_while_writing(const std::string& part, int signal) {
    const pid_t child = fork();
    if (child == 0) {
        close(STDERR_FILENO);
        end_at_interrupt();
        const Unfinished unfinished(part);
        raise(signal);
        _exit(0);
    }
    int status = 0;
    waitpid(child, &status, 0);
    return status;
}

TEST(Interrupt, EndsWithTheCodeOfItsSignalAndRemovesWhatWasHalfWritten) {
    for (const int signal : {SIGINT, SIGTERM}) {
        const TemporaryFolder folder;
        const std::string part = folder.write("page.html.1.part", "half");
        const std::string other = folder.write("mine.part", "whole");
        const int status = interrupted_while_writing(part, signal);
        ASSERT_TRUE(WIFEXITED(status));
        EXPECT_EQ(WEXITSTATUS(status), 128 + signal);
        EXPECT_FALSE(fs::exists(part));
        EXPECT_TRUE(fs::exists(other));
    }
}

TEST(Interrupt, TheNextRunRemovesWhatAKilledOneLeft) {
    const TemporaryFolder folder;
    // A process that has ended and been waited for has this number no more.
    const pid_t gone = fork();
    if (gone == 0) _exit(0);
    waitpid(gone, nullptr, 0);
    const std::string left = "out.csv." + std::to_string(gone) + ".part";
    const std::string living = "out.csv." + std::to_string(getpid() == 1 ? 2 : 1) + ".part";
    folder.write(left, "half");
    const std::string held = folder.write(living, "another run is at it");
    const int descriptor = open(held.c_str(), O_RDONLY | O_CLOEXEC);
    ASSERT_EQ(flock(descriptor, LOCK_EX), 0);
    // The number of a process that is gone may be another's by now: its file is left over too.
    folder.write("out.csv." + std::to_string(getppid()) + ".part", "half");
    folder.write("out.csv.notes.part", "the user's");
    write_file(folder.path() + "/out.csv", "whole");
    EXPECT_FALSE(folder.has(left));
    EXPECT_FALSE(folder.has("out.csv." + std::to_string(getppid()) + ".part"));
    EXPECT_TRUE(folder.has(living));
    close(descriptor);
    EXPECT_TRUE(folder.has("out.csv.notes.part"));
    EXPECT_EQ(folder.read("out.csv"), "whole");
}

TEST(Interrupt, CtrlCWhileItComputesIsExitCode130) {
    const TemporaryFolder folder;
    const std::string page = folder.path() + "/page.html";
    const pid_t child = fork();
    if (child == 0) {
        tests::run_program_detail::become(
            {},
            {STANDFAST_PROGRAM, "check",
             STANDFAST_SOURCE_DIR "/examples/08-rough-then-finish/job.toml", "--draws", "5000",
             "--report", page},
            folder.path() + "/out", folder.path() + "/err");
    }
    usleep(300'000);  // far into thousands of draws, and long after the handler is there
    kill(child, SIGINT);
    int status = 0;
    waitpid(child, &status, 0);
    ASSERT_TRUE(WIFEXITED(status));
    EXPECT_EQ(WEXITSTATUS(status), 130);
    EXPECT_FALSE(fs::exists(page));
    EXPECT_EQ(folder.read("out"), "");
}

}  // namespace
}  // namespace standfast
