#include "fea/studies/sound/spectrum.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <random>
#include <stdexcept>

#include "fea/studies/sound/spectral_lines.hpp"
#include "fea/studies/sound/spindle_comb.hpp"

namespace standfast {
namespace {

struct Tone {
    double hertz = 0, amplitude = 0;
};

Recording tones(double rate, double seconds, const std::vector<Tone>& list, double noise = 0) {
    Recording recording{.rate = rate, .channels = {{}}};
    std::mt19937 random(7);
    std::normal_distribution<double> normal;
    for (int i = 0; i < static_cast<int>(rate * seconds); ++i) {
        double x = noise * normal(random);
        for (const Tone& tone : list)
            x += tone.amplitude * std::sin(2 * std::numbers::pi * tone.hertz * i / rate + 0.7);
        recording.channels[0].push_back(static_cast<float>(x));
    }
    return recording;
}

TEST(Spectrum, SineOfAmplitudeAHasMeanSquareHalfASquared) {
    const PowerSpectrum spectrum = averaged_spectrum(tones(8000, 2, {{1000, 0.3}}), 1);
    EXPECT_NEAR(spectrum.resolution, 1, 1e-12);
    EXPECT_NEAR(spectrum.power[1000], 0.5 * 0.3 * 0.3, 1e-6);
}

TEST(Spectrum, NothingLeaksFartherThanThreeResolutionsAbove58Decibels) {
    const PowerSpectrum spectrum = averaged_spectrum(tones(8000, 2, {{1000.5, 1}}), 1);
    for (std::size_t i = 0; i < spectrum.power.size(); ++i) {
        if (std::abs(spectrum.frequency(i) - 1000.5) <= kLobe) continue;
        EXPECT_LT(10 * std::log10(spectrum.power[i] / 0.5), -57) << spectrum.frequency(i) << " Hz";
    }
}

TEST(Spectrum, WhiteNoiseSumsToItsMeanSquareOverTheNoiseWidth) {
    const PowerSpectrum spectrum = averaged_spectrum(tones(8000, 20, {}, 0.2), 1);
    double sum = 0;
    for (const double power : spectrum.power) sum += power;
    EXPECT_NEAR(sum / kNoiseWidth, 0.2 * 0.2, 0.02 * 0.2 * 0.2);
    EXPECT_GE(spectrum.windows, 38);
}

TEST(Spectrum, ChannelsAddTheirPowerWhateverTheirPhase) {
    Recording stereo = tones(8000, 2, {{1000, 0.3}});
    stereo.channels.push_back(stereo.channels[0]);
    for (float& x : stereo.channels[1]) x = -x;
    EXPECT_NEAR(averaged_spectrum(stereo, 1).power[1000], 2 * 0.5 * 0.3 * 0.3, 1e-6);
}

TEST(Spectrum, TooFewSamplesAreRefused) {
    EXPECT_THROW(averaged_spectrum(tones(8000, 0.004, {{1000, 1}}), 1), std::domain_error);
    Recording silent = tones(8000, 1, {});
    silent.rate = 0;
    EXPECT_THROW(averaged_spectrum(silent, 1), std::domain_error);
}

TEST(SpectralLines, FrequencyBetweenEntriesIsFoundToATwentiethOfTheResolution) {
    for (double off = 0; off < 1; off += 0.1) {
        const auto lines =
            spectral_lines(averaged_spectrum(tones(8000, 2, {{1234 + off, 0.3}}, 0.003), 1));
        ASSERT_EQ(lines.size(), 1U) << off;
        EXPECT_NEAR(lines[0].frequency, 1234 + off, 0.05) << off;
        EXPECT_NEAR(lines[0].power, 0.5 * 0.3 * 0.3, 0.03 * 0.5 * 0.3 * 0.3) << off;
    }
}

TEST(SpectralLines, NoiseAloneHasNone) {
    const auto lines = spectral_lines(averaged_spectrum(tones(20'000, 3, {}, 0.1), 1));
    EXPECT_LE(lines.size(), 1U);
}

TEST(SpectralLines, WeakToneBesideAStrongOneIsFoundAndLeakageIsNot) {
    const auto lines =
        spectral_lines(averaged_spectrum(tones(8000, 2, {{1000, 1}, {1012, 0.02}}), 1));
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_NEAR(lines[1].frequency, 1012, 0.1);
}

// A display that is off by 1 %, harmonics far up: without the comb the 20th harmonic would lie a
// third of the spindle's spacing away from its place.
TEST(SpindleSpeed, IsFoundFromHarmonicsThoughTheDisplayIsOffByOnePercent) {
    const double spindle = 103.7;
    std::vector<Tone> list;
    for (const int k : {3, 6, 9, 12, 18, 21}) list.push_back({k * spindle, 0.1});
    list.push_back({7 * spindle, 0.02});
    const PowerSpectrum spectrum = averaged_spectrum(tones(8000, 2, list, 0.01), 1);
    const auto lines = spectral_lines(spectrum);
    for (const double error : {-0.01, -0.004, 0.0, 0.01}) {
        const RefinedSpeed speed =
            refine_speed(lines, {.revolutions_per_second = spindle * (1 + error), .teeth = 3},
                         spectrum.resolution);
        ASSERT_TRUE(speed.refined);
        EXPECT_NEAR(speed.revolutions_per_second, spindle, 1e-4 * spindle) << error;
    }
}

TEST(SpindleSpeed, IsFoundFromTheDistancesBetweenChatterLinesAlone) {
    const double tooth = 4 * 71.3, chatter = 1609;
    std::vector<Tone> list;
    for (const int k : {-2, -1, 0, 1, 2}) list.push_back({chatter + k * tooth, k == 0 ? 1 : 0.05});
    const PowerSpectrum spectrum = averaged_spectrum(tones(8000, 2, list, 0.01), 1);
    const RefinedSpeed speed =
        refine_speed(spectral_lines(spectrum), {.revolutions_per_second = 71.9, .teeth = 4},
                     spectrum.resolution);
    ASSERT_TRUE(speed.refined);
    EXPECT_NEAR(speed.revolutions_per_second, 71.3, 3e-4 * 71.3);
}

TEST(SpindleSpeed, StaysTheDisplaysWhereNothingIsHeard) {
    const RefinedSpeed speed = refine_speed({}, {.revolutions_per_second = 71.9, .teeth = 4}, 1);
    EXPECT_FALSE(speed.refined);
    EXPECT_EQ(speed.revolutions_per_second, 71.9);
    EXPECT_GT(guard_hertz(speed, 20, 1), 10 * guard_hertz(speed, 1, 1) / 3);
}

TEST(Hum, IsALowMultipleOfTheMainsAndOfItsOwnFrequencyWhereKnown) {
    EXPECT_TRUE(may_be_hum(100, 1, 0));
    EXPECT_TRUE(may_be_hum(119.9, 1, 0));
    EXPECT_FALSE(may_be_hum(119.9, 1, 50));
    EXPECT_FALSE(may_be_hum(1650, 1, 0));
    EXPECT_FALSE(may_be_hum(333, 1, 0));
}

}  // namespace
}  // namespace standfast
