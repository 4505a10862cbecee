// Invented sounds made of tones, each a case that a shop meets, and what is said of it.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <random>
#include <vector>

#include "fea/studies/sound/background.hpp"
#include "fea/studies/sound/sharp_lines.hpp"
#include "fea/studies/sound/sound_finding.hpp"
#include "fea/studies/sound/wall_marks.hpp"

namespace standfast {
namespace {

struct Tone {
    double hertz = 0, amplitude = 0;
};

Recording sound_of(const std::vector<Tone>& tones, double seconds = 4, double noise = 0.003) {
    Recording recording{.rate = 12'000, .channels = {{}}};
    std::mt19937 random(7);
    std::normal_distribution<double> normal(0, noise);
    const auto samples = static_cast<int>(seconds * recording.rate);
    for (int i = 0; i < samples; ++i) {
        const double t = 2 * std::numbers::pi * i / recording.rate;
        double x = normal(random);
        for (const Tone& tone : tones) x += tone.amplitude * std::sin(tone.hertz * t + tone.hertz);
        recording.channels[0].push_back(static_cast<float>(x));
    }
    return recording;
}

/// Multiples of the tooth passing that fall off slowly.
std::vector<Tone> teeth_at(double hertz, int count = 8) {
    std::vector<Tone> tones;
    for (int k = 1; k <= count; ++k) tones.push_back({k * hertz, 1.0 / k});
    return tones;
}

std::vector<Tone> both(std::vector<Tone> a, const std::vector<Tone>& b) {
    a.insert(a.end(), b.begin(), b.end());
    return a;
}

const HeardCut kFourTeeth{.revolutions_per_second = 3200.0 / 60, .teeth = 4};

TEST(NamedSounds, AFamilyThirtyDecibelsBelowTheTeethIsChatter) {
    const std::vector<Tone> family{{1420, 0.02}, {1633, 0.02}, {1847, 0.02}};
    const SoundFinding found =
        listen(sound_of(both(teeth_at(4 * 3200.0 / 60), family)), kFourTeeth);
    EXPECT_EQ(found.cause, SoundCause::chatter);
    EXPECT_LT(found.family_share, 1e-3 * 1.5);
    ASSERT_TRUE(found.chatter_hertz);
    EXPECT_TRUE(std::any_of(family.begin(), family.end(), [&](const Tone& tone) {
        return std::abs(tone.hertz - *found.chatter_hertz) < 0.5;
    }));
}

TEST(NamedSounds, TheSameLinesOffTheLatticeAreNoFamily) {
    const std::vector<Tone> tones{{1420, 0.03}, {1601, 0.03}, {1877, 0.03}};
    const SoundFinding found = listen(sound_of(both(teeth_at(4 * 3200.0 / 60), tones)), kFourTeeth);
    EXPECT_EQ(found.cause, SoundCause::forced);
    EXPECT_LT(found.confidence, 0.9);
}

TEST(NamedSounds, ALoneLoudToneIsNotQuiet) {
    const SoundFinding found = listen(sound_of({{1633, 0.05}}), kFourTeeth);
    EXPECT_EQ(found.cause, SoundCause::unclear);
    EXPECT_EQ(found.doubt, Doubt::lone_tone);
}

TEST(NamedSounds, AHertzBesideAMultipleOfTheSpindleIsToldApartByTheWholeRecording) {
    // 80 turns a second, four teeth: 1040 Hz is the 13th multiple of the spindle.
    const HeardCut cut{.revolutions_per_second = 80, .teeth = 4};
    for (const double off : {0.8, -0.8}) {
        std::vector<Tone> family;
        for (const int k : {-1, 0, 1, 2}) family.push_back({1040 + off + k * 320.0, 0.2});
        const SoundFinding chatter = listen(sound_of(both(teeth_at(320), family)), cut);
        EXPECT_EQ(chatter.cause, SoundCause::chatter) << off;
    }
    std::vector<Tone> runout;
    for (const int k : {-1, 0, 1, 2}) runout.push_back({1040 + k * 320.0, 0.2});
    EXPECT_EQ(listen(sound_of(both(teeth_at(320), runout)), cut).cause, SoundCause::runout);
}

TEST(NamedSounds, TwoLinesWithinAHertzBecomeTwo) {
    const Recording recording = sound_of({{1000, 0.1}, {1001.2, 0.1}}, 6);
    const PowerSpectrum brief = averaged_spectrum(recording, 1);
    const PowerSpectrum whole = averaged_spectrum(recording, 6);
    const auto lines = sharpened(spectral_lines(brief), whole, brief.resolution);
    ASSERT_EQ(lines.size(), 2U);
    EXPECT_NEAR(lines[0].frequency, 1000, 0.05);
    EXPECT_NEAR(lines[1].frequency, 1001.2, 0.05);
    EXPECT_NEAR(lines[0].power / lines[1].power, 1, 0.1);
}

TEST(NamedSounds, WhatSoundsForAQuarterOfTheTimeDoesNotLast) {
    Recording recording = sound_of({{700, 0.1}});
    const Recording word = sound_of({{1100, 0.4}});
    for (std::size_t i = 0; i < recording.samples() / 4; ++i) {
        recording.channels[0][i] += word.channels[0][i];
    }
    const auto lines = lasting(spectral_lines(averaged_spectrum(recording, 1)), recording);
    ASSERT_EQ(lines.size(), 1U);
    EXPECT_NEAR(lines[0].frequency, 700, 0.1);
}

TEST(NamedSounds, HalfToothLinesOfTwoTeethMayBeRunoutAndThatIsSaid) {
    const HeardCut cut{.revolutions_per_second = 100, .teeth = 2};
    std::vector<Tone> tones = teeth_at(200);
    // Half as strong as the teeth beside them, one of them loud by a mode.
    for (const int k : {1, 3, 5, 7, 9, 11}) tones.push_back({k * 100.0, k == 7 ? 1.0 : 1.4 / k});
    const SoundFinding found = listen(sound_of(tones), cut);
    EXPECT_EQ(found.cause, SoundCause::unclear);
    EXPECT_EQ(found.doubt, Doubt::doubled_or_runout);
}

TEST(NamedSounds, ADisplayTwoPercentOffIsFoundByTheTeeth) {
    for (const double display : {0.98, 1.02}) {
        HeardCut cut = kFourTeeth;
        cut.revolutions_per_second *= display;
        const SoundFinding found = listen(sound_of(teeth_at(4 * 3200.0 / 60)), cut);
        ASSERT_TRUE(found.speed.refined) << display;
        EXPECT_NEAR(60 * found.speed.revolutions_per_second, 3200, 1) << display;
        EXPECT_EQ(found.cause, SoundCause::forced) << display;
    }
}

TEST(NamedSounds, NoSpeedIsReadOffLinesThatFitNoneBetterThanAnother) {
    const SoundFinding found = listen(sound_of({{517, 0.1}, {933, 0.1}, {1391, 0.1}, {2270, 0.1}}),
                                      {.revolutions_per_second = 71, .teeth = 3});
    EXPECT_FALSE(found.speed.refined);
}

TEST(NamedSounds, ASecondMachineInTheBackgroundIsNoChatter) {
    // Another spindle's teeth at 291 Hz, louder than this one's.
    std::vector<Tone> other = teeth_at(291, 6);
    for (Tone& tone : other) tone.amplitude *= 3;
    const Recording background = sound_of(other);
    const Recording cut = sound_of(both(teeth_at(4 * 3200.0 / 60), other));
    EXPECT_EQ(listen(cut, kFourTeeth, &background).cause, SoundCause::forced);
    EXPECT_EQ(listen(cut, kFourTeeth, &background).background_tones.size(), 6U);
    EXPECT_NE(listen(cut, kFourTeeth).cause, SoundCause::forced);
}

TEST(NamedSounds, ChatterIsStillHeardBesideASecondMachine) {
    const Recording background = sound_of(teeth_at(291, 6));
    const std::vector<Tone> family{{1206, 0.3}, {1420, 0.3}, {1633, 0.3}};
    const Recording cut = sound_of(both(both(teeth_at(4 * 3200.0 / 60), family), teeth_at(291, 6)));
    EXPECT_EQ(listen(cut, kFourTeeth, &background).cause, SoundCause::chatter);
}

TEST(NamedSounds, AToneReadOffAPhoneTellsLessWhereTheGuardFillsTheGap) {
    const HeardCut cut{.revolutions_per_second = 200, .teeth = 3};
    // Each a fifth of the gap above a harmonic.
    double before = 1;
    for (const int k : {1, 3, 5, 9}) {
        const ToneFinding found = place_tone((k + 0.3) * 600, cut);
        EXPECT_LT(found.confidence, before) << k;
        before = found.confidence;
    }
}

}  // namespace
}  // namespace standfast
