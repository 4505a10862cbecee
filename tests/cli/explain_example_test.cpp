// The example's recording is computed from the example's own job: the cut followed in time, its
// motion as sound with noise and hum. With STANDFAST_UPDATE_GOLDEN=1 it is written anew.
#include <gtest/gtest.h>
#include <sndfile.h>

#include <cmath>
#include <cstdlib>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "cli/sound/read_recording.hpp"
#include "fea/chatter/motion/time_march.hpp"
#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/studies/sound/sound_finding.hpp"

namespace standfast {
namespace {

const std::string kFolder = STANDFAST_SOURCE_DIR "/examples/15-bad-surface-to-cure/";
constexpr double kRate = 24'000, kLeftOut = 0.8, kKept = 2;

Job example_job() {
    const ReadResult read = read_job(kFolder + "job.toml", {});
    EXPECT_TRUE(read.job.has_value());
    return *read.job;
}

March example_march(const Job& job) {
    const Pass& pass = job.passes.front();
    const CutProblem problem = cut_problem(job, 0, tool_side_of(job, pass), work_side_of(job, pass),
                                           StabilityMethod::zero_order);
    const double heading = judged_headings(problem, {*pass.speed}, *pass.axial).stability;
    RigidCut cut = problem.cut;
    cut.depth = *pass.axial;
    const double revolutions = pass.speed->revolutions_per_second();
    MarchSetting setting;
    setting.steps_per_revolution = static_cast<int>(std::lround(kRate / revolutions));
    setting.revolutions = static_cast<int>((kLeftOut + kKept) * revolutions);
    return time_march(receptance_at_heading(problem, heading).modal, cut, *pass.speed, setting);
}

/// Velocities of all directions together, to 0.3 of full scale, with noise 25 dB below and hum.
std::vector<short> sound_of(const March& march) {
    std::vector<double> velocity;
    const auto first = static_cast<std::size_t>(kLeftOut / march.step);
    for (std::size_t i = first; i < march.displacement.size(); ++i)
        velocity.push_back((march.displacement[i] - march.displacement[i - 1]).sum());
    double most = 0, square = 0;
    for (const double v : velocity) {
        most = std::max(most, std::abs(v));
        square += v * v;
    }
    const double rms = std::sqrt(square / static_cast<double>(velocity.size()));
    std::mt19937 random(15);
    std::normal_distribution<double> noise(0, 0.055 * rms);
    std::vector<short> samples;
    for (std::size_t i = 0; i < velocity.size(); ++i) {
        const double t = 2 * std::numbers::pi * static_cast<double>(i) * march.step;
        const double hum = 0.02 * rms * (std::sin(100 * t) + std::sin(50 * t + 1));
        samples.push_back(static_cast<short>(
            std::lround(32'767 * 0.3 / most * (velocity[i] + noise(random) + hum))));
    }
    return samples;
}

void write_flac(const std::string& path, const std::vector<short>& samples, double rate) {
    SF_INFO info{};
    info.samplerate = static_cast<int>(std::lround(rate));
    info.channels = 1;
    info.format = SF_FORMAT_FLAC | SF_FORMAT_PCM_16;
    SNDFILE* const file = sf_open(path.c_str(), SFM_WRITE, &info);
    ASSERT_NE(file, nullptr) << path;
    sf_writef_short(file, samples.data(), static_cast<sf_count_t>(samples.size()));
    sf_close(file);
}

TEST(ExplainExample, TheRecordingIsWhatTheJobsOwnCutSoundsLike) {
    const Job job = example_job();
    const March march = example_march(job);
    const std::vector<short> samples = sound_of(march);
    if (std::getenv("STANDFAST_UPDATE_GOLDEN") != nullptr)
        write_flac(kFolder + "cut.flac", samples, 1 / march.step);
    Recording fresh{.rate = 1 / march.step, .channels = {{}}};
    for (const short s : samples) fresh.channels[0].push_back(static_cast<float>(s) / 32'768.0F);
    const HeardCut cut{.revolutions_per_second = job.passes.front().speed->revolutions_per_second(),
                       .teeth = 3};
    const SoundFinding computed = listen(fresh, cut);
    const SoundFinding heard = listen(read_recording(kFolder + "cut.flac").recording, cut);
    EXPECT_EQ(computed.cause, SoundCause::chatter);
    EXPECT_EQ(heard.cause, computed.cause);
    ASSERT_TRUE(heard.chatter_hertz && computed.chatter_hertz);
    EXPECT_NEAR(*heard.chatter_hertz, *computed.chatter_hertz, 3);
}

}  // namespace
}  // namespace standfast
