// Files that are no jobs at all, and files that use each other.
#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>
#include <string>

#include "cli/job/read_job.hpp"
#include "tests/cli/job/job_numbers.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

class JobFiles : public ::testing::Test {
protected:
    void SetUp() override {
        const auto* const info = ::testing::UnitTest::GetInstance()->current_test_info();
        folder_ = fs::temp_directory_path() / (std::string("standfast_job_files_") + info->name());
        fs::remove_all(folder_);
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    std::string write(const std::string& name, const std::string& text) const {
        fs::create_directories((folder_ / name).parent_path());
        std::ofstream(folder_ / name, std::ios::binary) << text;
        return (folder_ / name).string();
    }
    /// The faults without the folder's own name.
    std::string faults(const std::string& path, const ReadOptions& options = {}) const {
        const ReadResult result = read_job(path, options);
        EXPECT_EQ(result.job.has_value(), result.errors.empty());
        std::string text = result.errors.empty() ? "" : format_diagnostics(result.errors);
        const std::string own = folder_.string() + "/";
        for (std::size_t at = text.find(own); at != std::string::npos; at = text.find(own)) {
            text.erase(at, own.size());
        }
        return text;
    }
    fs::path folder_;
};

TEST_F(JobFiles, EmptyFileIsRefused) {
    EXPECT_EQ(faults(write("job.toml", " \n\n")),
              "job.toml: error: the file is empty\n"
              "  accepted: a job; \"standfast new\" writes one to start from\n"
              "1 error in job.toml; nothing was computed.\n");
}

TEST_F(JobFiles, FileThatIsNotUtf8NamesTheByte) {
    EXPECT_EQ(faults(write("job.toml", "title = \"caf\xE9\"\n")),
              "job.toml:1:13: error: byte 13 (0xE9) is not UTF-8\n"
              " 1 | title = \"caf\\x{E9}\"\n"
              "   |             ^~~~~~\n"
              "  accepted: plain text saved as UTF-8\n"
              "1 error in job.toml; nothing was computed.\n");
}

TEST_F(JobFiles, NulCharacterIsRefused) {
    const std::string text("title = \"a\"\n\0", 13);
    EXPECT_NE(faults(write("job.toml", text)).find("byte 13 is a NUL character"),
              std::string::npos);
}

TEST_F(JobFiles, FolderMissingFileAndDeviceAreNamed) {
    fs::create_directories(folder_ / "jobs");
    EXPECT_EQ(faults((folder_ / "jobs").string()),
              "jobs: error: is a folder, not a file\n"
              "1 error in jobs; nothing was computed.\n");
    EXPECT_EQ(faults((folder_ / "nope.toml").string()),
              "nope.toml: error: there is no such file\n"
              "1 error in nope.toml; nothing was computed.\n");
    EXPECT_NE(faults("/dev/zero").find("is not an ordinary file"), std::string::npos);
}

TEST_F(JobFiles, HundredMegabytesAreRefusedWithoutBeingRead) {
    const std::string path = write("job.toml", "x");
    fs::resize_file(path, 100'000'000);
    EXPECT_EQ(faults(path),
              "job.toml: error: is 100 MB; a job file has at most 8 MB\n"
              "1 error in job.toml; nothing was computed.\n");
}

TEST_F(JobFiles, DeepNestingIsRefusedBeforeItIsBuilt) {
    const std::string brackets = "a = " + std::string(100'000, '[');
    EXPECT_NE(faults(write("a.toml", brackets)).find("nested more deeply"), std::string::npos);
    std::string dotted = "[a";
    for (int i = 0; i < 100'000; ++i) dotted += ".a";
    EXPECT_NE(faults(write("b.toml", dotted + "]")).find("nested more deeply"), std::string::npos);
}

TEST_F(JobFiles, MillionKeysAreRefused) {
    std::string text;
    for (int i = 0; i < 200'000; ++i) text += "k" + std::to_string(i) + " = 1\n";
    EXPECT_NE(faults(write("job.toml", text)).find("a table with 200000 keys"), std::string::npos);
}

TEST_F(JobFiles, ThousandsOfTiersAreRefused) {
    std::string text;
    for (int i = 0; i < 20'000; ++i) text += "[[tier]]\n";
    EXPECT_NE(faults(write("job.toml", text)).find("[[tier]] tables, at most 200"),
              std::string::npos);
}

const std::string kMill =
    "[machine]\nkind = \"5-axis, table tilts\"\ntaper = \"BT40\"\n"
    "speed = [\"500 rpm\", \"12000 rpm\"]\n";
const std::string kBase =
    "[[tier]]\nname = \"base\"\nmaterial = \"steel\"\nround = \"100 mm\"\nheight = \"90 mm\"\n";
const std::string kPart =
    "[[tier]]\nname = \"part\"\nmaterial = \"6061\"\nblock = [\"70 mm\", \"50 mm\"]\n"
    "height = \"95 mm\"\njoint = { kind = \"dovetail\", width = \"30 mm\" }\n";
const std::string kTools =
    "[[tool]]\nname = \"finisher\"\ngrip = \"shrink\"\n"
    "cutter = { diameter = \"10 mm\", teeth = 3, stickout = \"50 mm\" }\n";
const std::string kPasses =
    "[[pass]]\ntool = \"finisher\"\nradial = \"1 mm\"\naxial = \"5 mm\"\nfeed = \"0.05 mm\"\n"
    "speed = \"9000 rpm\"\n";

TEST_F(JobFiles, JobSplitOverSeveralFilesIsTheSameJob) {
    const std::string whole = write("whole.toml", kMill + kBase + kPart + kTools + kPasses);
    write("shop/mill.toml", kMill);
    write("shop/all.toml", "use = [\"mill.toml\", \"tools.toml\"]\n" + kBase);
    write("shop/tools.toml", kTools);
    const std::string split =
        write("jobs/split.toml", "use = [\"../shop/all.toml\"]\n" + kPart + kPasses);
    const ReadResult a = read_job(whole);
    const ReadResult b = read_job(split);
    ASSERT_TRUE(a.job && b.job) << format_diagnostics(b.errors);
    testing::expect_same_job(*a.job, *b.job, 0);
}

TEST_F(JobFiles, UsingFileHasTheLastWord) {
    write("mill.toml", kMill);
    const std::string job =
        write("job.toml", "use = \"mill.toml\"\n[machine]\nspeed = [\"500 rpm\", \"15000 rpm\"]\n" +
                              kBase + kPart + kTools + kPasses);
    const ReadResult result = read_job(job);
    ASSERT_TRUE(result.job) << format_diagnostics(result.errors);
    EXPECT_NEAR(result.job->machine.fastest.rpm(), 15000, 1e-9);
    EXPECT_EQ(result.job->machine.kind.name, "5-axis, table tilts");
}

TEST_F(JobFiles, FileReachedByTwoWaysCountsOnce) {
    write("mill.toml", kMill);
    write("a.toml", "use = [\"mill.toml\", \"tools.toml\"]\n");
    write("tools.toml", "use = [\"mill.toml\"]\n" + kTools);
    const std::string job =
        write("job.toml", "use = [\"a.toml\", \"tools.toml\"]\n" + kBase + kPart + kPasses);
    EXPECT_EQ(faults(job), "");
}

TEST_F(JobFiles, CircleOfUsesIsNamed) {
    write("b.toml", "use = [\"a.toml\"]\n" + kMill);
    const std::string job = write("a.toml", "use = [\"b.toml\"]\n" + kTools);
    EXPECT_NE(faults(job).find("b.toml:1:8: error: use: a.toml is being read already, so the files "
                               "use each other in a circle"),
              std::string::npos)
        << faults(job);
}

TEST_F(JobFiles, LongChainOfUsesIsRefused) {
    for (int i = 0; i < 40; ++i) {
        write("f" + std::to_string(i) + ".toml",
              "use = [\"f" + std::to_string(i + 1) + ".toml\"]\n");
    }
    EXPECT_NE(faults((folder_ / "f0.toml").string()).find("use each other too deeply"),
              std::string::npos);
}

TEST_F(JobFiles, MissingUsedFileIsNamedAtItsLine) {
    const std::string job = write("job.toml", "use = [\"mill.toml\"]\n" + kTools);
    EXPECT_EQ(faults(job),
              "job.toml:1:8: error: use: mill.toml: there is no such file\n"
              " 1 | use = [\"mill.toml\"]\n"
              "   |        ^~~~~~~~~~~\n"
              "  accepted: files by their path from the folder of this one\n"
              "1 error in job.toml; nothing was computed.\n");
}

TEST_F(JobFiles, FaultOfAUsedFileCarriesItsOwnName) {
    write("tools.toml",
          "[[tool]]\nname = \"finisher\"\ngrip = \"shrnk\"\n"
          "cutter = { diameter = \"10 mm\", teeth = 3, stickout = \"50 mm\" }\n");
    const std::string job =
        write("job.toml", "use = [\"tools.toml\"]\n" + kMill + kBase + kPart + kPasses);
    EXPECT_NE(faults(job).find("tools.toml:3:8: error: tool 1 (\"finisher\"): grip is \"shrnk\""),
              std::string::npos)
        << faults(job);
}

TEST_F(JobFiles, OverlayAdjustsJointsByName) {
    const std::string job = write("job.toml", kMill + kBase + kPart + kTools + kPasses);
    const std::string overlay = write("fitted.toml",
                                      "[adjust.\"part\".joint]\nstiffness = 0.6\nloss = 1.4\n"
                                      "stiffness_spread = 1.2\n"
                                      "[adjust.\"finisher\".grip]\nstiffness = 0.8\n"
                                      "[measured_on]\nmachine = \"3-axis\"\nbase = \"base\"\n");
    const std::string refused = faults(job, {.overlay = overlay, .material_files = {}});
    EXPECT_NE(refused.find("machine \"3-axis\" there"), std::string::npos) << refused;
    EXPECT_NE(refused.find("--other-machine"), std::string::npos) << refused;
    const ReadResult result =
        read_job(job, {.overlay = overlay, .other_machine = true, .material_files = {}});
    ASSERT_TRUE(result.job) << format_diagnostics(result.errors);
    EXPECT_DOUBLE_EQ(result.job->stack.tiers[1].joint.stiffness_adjust, 0.6);
    EXPECT_DOUBLE_EQ(result.job->stack.tiers[1].joint.loss_adjust, 1.4);
    EXPECT_DOUBLE_EQ(*result.job->stack.tiers[1].joint.stiffness_spread, 1.2);
    EXPECT_DOUBLE_EQ(result.job->tools[0].grip.stiffness_adjust, 0.8);
    ASSERT_EQ(result.job->measured_elsewhere.size(), 1U);
    EXPECT_NE(result.job->measured_elsewhere[0].find("machine \"3-axis\" there"),
              std::string::npos);
}

TEST_F(JobFiles, OverlayOfAnotherHeightOrHoldIsRefused) {
    const std::string job = write("job.toml", kMill + kBase + kPart + kTools + kPasses);
    const auto answer = [&](const std::string& lines) {
        return faults(job, {.overlay = write("fitted.toml",
                                             "[measured_on]\n[[measured_on.tiers]]\n"
                                             "tier = \"part\"\n" +
                                                 lines),
                            .material_files = {}});
    };
    const ReadResult itself = read_job(job, {});
    ASSERT_TRUE(itself.job);
    const Tier& part = itself.job->stack.tiers[1];
    const std::string height = "height = \"" + std::to_string(part.height * 1e3) + " mm\"\n";
    const std::string joint = "joint = \"" + part.joint.kind.name + "\"\n";
    EXPECT_EQ(answer(height + joint), "");
    EXPECT_NE(answer("height = \"123.4 mm\"\n" + joint).find("part 123.4 mm high there"),
              std::string::npos);
    EXPECT_NE(answer(height + "joint = \"vacuum\"\n").find("part joint \"vacuum\" there"),
              std::string::npos);
}

TEST_F(JobFiles, OverlayForATierThatIsNotThereNamesTheNearest) {
    const std::string job = write("job.toml", kMill + kBase + kPart + kTools + kPasses);
    const std::string overlay = write("fitted.toml", "[adjust.\"prat\".joint]\nstiffness = 0.6\n");
    const std::string text = faults(job, {.overlay = overlay, .material_files = {}});
    EXPECT_NE(
        text.find("fitted.toml:1:9: error: adjust: no tier, tool or support is called \"prat\""),
        std::string::npos)
        << text;
    EXPECT_NE(text.find("did you mean \"part\"?"), std::string::npos) << text;
}

TEST_F(JobFiles, MaterialFileServesTheJob) {
    const std::string job =
        write("job.toml", kMill + kBase + kTools + kPasses +
                              "cutting = \"6061\"\n"
                              "[material.\"shop alloy\"]\nyoungs = \"70 GPa\"\npoisson = 0.33\n"
                              "density = \"2700 kg/m3\"\nsource = \"invented\"\n"
                              "[[tier]]\nname = \"part\"\nmaterial = \"shop alloy\"\n"
                              "block = [\"2 in\", \"2 in\"]\nheight = \"2 in\"\n");
    const ReadResult result = read_job(job);
    ASSERT_TRUE(result.job) << format_diagnostics(result.errors);
    EXPECT_DOUBLE_EQ(result.job->stack.tiers[1].material.youngs_modulus, 70e9);
    EXPECT_EQ(result.job->stack.tiers[1].material.source.text, "invented");
}

}  // namespace
}  // namespace standfast
