#include "fea/packing/packed_job.hpp"

#include <gtest/gtest.h>

#include <filesystem>

#include "cli/job/read_job.hpp"
#include "cli/report/check/json.hpp"
#include "fea/judgement/pass/check.hpp"

namespace standfast {
namespace {

namespace fs = std::filesystem;

Job example(const std::string& name) {
    ReadResult read = read_job(STANDFAST_SOURCE_DIR "/examples/" + name + "/job.toml", {});
    return std::move(*read.job);
}

TEST(PackedJob, EveryExampleComesBackAsItWas) {
    int jobs = 0;
    for (const auto& entry : fs::directory_iterator(STANDFAST_SOURCE_DIR "/examples")) {
        if (!entry.is_directory()) continue;
        const Job job = example(entry.path().filename().string());
        const std::string bytes = packed_job(job);
        const Job back = unpacked_job(bytes);
        EXPECT_EQ(packed_job(back), bytes) << entry.path();
        EXPECT_EQ(back.title, job.title);
        EXPECT_EQ(back.assumed.size(), job.assumed.size());
        ++jobs;
    }
    EXPECT_GE(jobs, 15);
}

TEST(PackedJob, IsAnsweredToTheLastDigitAsTheJobItself) {
    for (const char* name : {"01-shortest-job", "07-thin-tall-wall", "06-fourth-axis-tailstock"}) {
        if (!fs::exists(std::string(STANDFAST_SOURCE_DIR "/examples/") + name)) continue;
        const Job job = example(name);
        CheckOptions how;
        how.speeds = {SpindleSpeed::from_rpm(6000), SpindleSpeed::from_rpm(9000)};
        how.only_pass = 0;
        how.odds.draws = 8;
        how.advise = false;
        const Job back = unpacked_job(packed_job(job));
        EXPECT_EQ(check_json(back, check_job(back, how), UnitSystem::metric),
                  check_json(job, check_job(job, how), UnitSystem::metric))
            << name;
    }
}

/// Every field counts: a job that differs in one number, text or choice has other bytes.
TEST(PackedJob, EveryChangeShows) {
    const Job job = example("01-shortest-job");
    const std::string bytes = packed_job(job);
    const auto differs = [&](auto change) {
        Job changed = job;
        change(changed);
        return packed_job(changed) != bytes &&
               packed_job(unpacked_job(packed_job(changed))) == packed_job(changed);
    };
    EXPECT_TRUE(differs([](Job& j) { j.title += "\xE2\x80\xAE</script>"; }));
    EXPECT_TRUE(differs([](Job& j) { j.stack.tiers[0].height *= 1 + 1e-15; }));
    EXPECT_TRUE(differs([](Job& j) { j.stack.tiers[0].shape = BoxShape{0.1, 0.1, 0.01}; }));
    EXPECT_TRUE(differs([](Job& j) { j.tools[0].cutter.pitch = {1, 2, 3}; }));
    EXPECT_TRUE(differs([](Job& j) { j.passes[0].wall = Eigen::Vector3d(0, 1, 0); }));
    EXPECT_TRUE(differs([](Job& j) { j.uncertainty.joint_loss.by_name["dovetail"] = 1.5; }));
    EXPECT_TRUE(differs([](Job& j) { j.uncertainty.seed = 1ULL << 63U; }));
    EXPECT_TRUE(differs([](Job& j) {
        j.fitted = FittedTogether{{"a", "b"}, Eigen::MatrixXd::Identity(2, 2)};
    }));
    EXPECT_TRUE(differs([](Job& j) {
        j.measured.resize(1);
        j.measured[0].receptance = ReceptanceTest{};
        j.measured[0].receptance->receptance = {{1, -2}};
    }));
}

TEST(PackedJob, BytesThatAreNoJobAreRefused) {
    const std::string bytes = packed_job(example("01-shortest-job"));
    EXPECT_THROW(unpacked_job(""), std::domain_error);
    EXPECT_THROW(unpacked_job(bytes + "x"), std::domain_error);
    for (std::size_t size = 0; size < bytes.size(); size += 97) {
        EXPECT_THROW(unpacked_job(bytes.substr(0, size)), std::domain_error) << size;
    }
    EXPECT_THROW(unpacked_job(std::string(4000, '\xFF')), std::domain_error);
}

}  // namespace
}  // namespace standfast
