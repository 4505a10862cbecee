// Eight recordings with known truth, as they are and spoilt in the ways that shop recordings are.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "cli/sound/read_recording.hpp"
#include "fea/studies/sound/sound_finding.hpp"

namespace standfast {
namespace {

struct KnownRecording {
    const char* name;
    double rpm;
    int teeth;
    SoundCause cause;
    double hertz;  ///< 0: none
};

// Truth from tests/data/recordings/README.md. Stable cuts may be called forced or runout; o2 has
// 17 um of it on a feed of 50.
constexpr KnownRecording kKnown[] = {
    {"o1", 6200, 4, SoundCause::forced, 0},
    {"o2", 6200, 4, SoundCause::runout, 0},
    {"o3", 4400, 4, SoundCause::chatter, 1639.0},
    {"o4", 7500, 4, SoundCause::chatter, 1669.0},
    {"o5", 4650, 4, SoundCause::forced, 0},
    {"o6", 7400, 2, SoundCause::period_doubling, 3.5 * 7400 * 2 / 60},
    {"o7", 3700, 4, SoundCause::period_doubling, 3.5 * 3700 * 4 / 60},
    {"o8", 9800, 2, SoundCause::chatter, 930.5}};

Recording read(const KnownRecording& known) {
    return read_recording(std::string(STANDFAST_SOURCE_DIR) + "/tests/data/recordings/" +
                          known.name + ".flac")
        .recording;
}

double rms_of(const Recording& recording) {
    double sum = 0;
    for (const float x : recording.channels[0]) sum += static_cast<double>(x) * x;
    return std::sqrt(sum / static_cast<double>(recording.samples()));
}

void expect_truth(const KnownRecording& known, const Recording& recording, double display = 1) {
    const SoundFinding found = listen(
        recording, {.revolutions_per_second = display * known.rpm / 60, .teeth = known.teeth});
    EXPECT_EQ(found.cause, known.cause) << known.name << ", display x " << display;
    EXPECT_EQ(found.chatter_hertz.has_value(), known.hertz > 0) << known.name;
    if (found.chatter_hertz) {
        EXPECT_NEAR(*found.chatter_hertz, known.hertz, std::max(3.0, 0.003 * known.hertz))
            << known.name;
    }
    EXPECT_GE(found.confidence, 0.6) << known.name;
    EXPECT_LE(found.confidence, 1) << known.name;
    EXPECT_NEAR(60 * found.speed.revolutions_per_second, known.rpm, 5e-4 * known.rpm) << known.name;
}

TEST(Recordings, AllEightAreNamedRightly) {
    for (const KnownRecording& known : kKnown) expect_truth(known, read(known));
}

TEST(Recordings, ADisplayOffByOnePercentMakesNoDifference) {
    for (const KnownRecording& known : kKnown)
        for (const double display : {0.99, 0.995, 1.005, 1.01})
            expect_truth(known, read(known), display);
}

TEST(Recordings, NoiseTwentyDecibelsBelowMakesNoDifference) {
    for (const KnownRecording& known : kKnown) {
        Recording recording = read(known);
        std::mt19937 random(11);
        std::normal_distribution<float> noise(0, static_cast<float>(0.1 * rms_of(recording)));
        for (float& x : recording.channels[0]) x += noise(random);
        expect_truth(known, recording, 1.01);
    }
}

TEST(Recordings, NeitherClippingNorGainNorSignMakesADifference) {
    for (const KnownRecording& known : kKnown) {
        Recording clipped = read(known), faint = clipped;
        const auto stop = static_cast<float>(1.2 * rms_of(clipped));
        for (float& x : clipped.channels[0]) x = std::clamp(x, -stop, stop);
        for (float& x : faint.channels[0]) x *= -1e-3F;
        expect_truth(known, clipped);
        expect_truth(known, faint);
    }
}

TEST(Recordings, HalfASecondIsEnoughForEachButSaysLessSurely) {
    for (const KnownRecording& known : kKnown) {
        Recording part = read(known);
        part.channels[0].resize(static_cast<std::size_t>(0.5 * part.rate));
        const SoundFinding found =
            listen(part, {.revolutions_per_second = known.rpm / 60, .teeth = known.teeth});
        EXPECT_EQ(found.cause, known.cause) << known.name;
    }
}

Recording room(double hum, double pump, double noise) {
    Recording recording{.rate = 44'100, .channels = {{}, {}}};
    std::mt19937 random(3);
    std::normal_distribution<double> normal;
    double brown = 0;
    for (int i = 0; i < 3 * 44'100; ++i) {
        const double t = 2 * 3.14159265358979 * i / recording.rate;
        brown = 0.995 * brown + 0.1 * normal(random);
        for (auto& channel : recording.channels)
            channel.push_back(
                static_cast<float>(noise * (normal(random) + brown) + hum * std::sin(100 * t) +
                                   0.4 * hum * std::sin(50 * t) + 0.3 * hum * std::sin(150 * t) +
                                   pump * std::sin(338.4 * t)));
    }
    return recording;
}

TEST(Recordings, AQuietRoomIsQuietWithHumAndPumpToo) {
    for (const double rpm : {3000.0, 6000.0, 7350.0, 12'345.0})
        for (const int teeth : {2, 3, 4}) {
            const HeardCut cut{.revolutions_per_second = rpm / 60, .teeth = teeth};
            EXPECT_EQ(listen(room(0, 0, 0.001), cut).cause, SoundCause::quiet) << rpm;
            EXPECT_EQ(listen(room(0.02, 0, 0.001), cut).cause, SoundCause::quiet) << rpm;
            EXPECT_EQ(listen(room(0.02, 2e-4, 0.001), cut).cause, SoundCause::quiet) << rpm;
            EXPECT_EQ(listen(room(0, 0, 0), cut).cause, SoundCause::quiet) << rpm;
            // A loud tone alone is no cut, nor is it silence.
            EXPECT_EQ(listen(room(0.002, 0.05, 0.001), cut).cause, SoundCause::unclear) << rpm;
        }
}

}  // namespace
}  // namespace standfast
