// A family of invented cuts followed by a simulation of its own: teeth, speeds, modes, immersions,
// runout, noise, hum and pump drawn at random. Guards against a diagnosis that fits a handful of
// recordings.
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <random>

#include "fea/studies/sound/sound_finding.hpp"
#include "tests/support/milling_sound.hpp"

namespace standfast {
namespace {

using test::CutTruth;
using test::SoundingCut;

struct Draw {
    explicit Draw(unsigned seed) : random(seed) {}
    std::mt19937 random;
    double operator()(double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    }
    double scale(double low, double high) {
        return std::exp((*this)(std::log(low), std::log(high)));
    }
    int whole(int low, int high) { return std::uniform_int_distribution<int>(low, high)(random); }
};

SoundingCut any_cut(Draw& draw) {
    SoundingCut cut;
    cut.teeth = draw.whole(2, 5);
    cut.rpm = draw(2500, 14'000);
    cut.immersion = std::min(1.0, draw.scale(0.03, 1.1));
    cut.feed = draw(3e-5, 1e-4);
    cut.depth = draw.scale(1e-4, 6e-3);
    const int modes = draw.whole(1, 3);
    for (int m = 0; m < modes; ++m) {
        const double angle = draw(0, 3.14);
        cut.modes.push_back({.hertz = draw.scale(250, 3000),
                             .damping = draw(0.008, 0.04),
                             .stiffness = draw.scale(1.5e6, 2e7),
                             .ux = std::cos(angle),
                             .uy = std::sin(angle)});
    }
    return cut;
}

/// Light radial cuts below a lobe's flank, where periods double.
SoundingCut doubling_cut(Draw& draw) {
    SoundingCut cut;
    cut.teeth = draw(0, 1) < 0.5 ? 2 : (draw(0, 1) < 0.5 ? 3 : 4);
    cut.feed = draw(3e-5, 1e-4);
    const double hertz = draw(400, 1500);
    cut.rpm = 60 / static_cast<double>(cut.teeth) * hertz / (draw.whole(0, 4) + 0.5) *
              (1 + draw(-0.09, 0));
    cut.immersion = draw(0.03, 0.08);
    cut.depth = draw.scale(1.5e-3, 6e-3);
    cut.modes.push_back({.hertz = hertz,
                         .damping = draw(0.008, 0.015),
                         .stiffness = draw.scale(1e6, 4e6),
                         .ux = 1,
                         .uy = 0});
    return cut;
}

test::Microphone any_microphone(Draw& draw) {
    test::Microphone microphone;
    microphone.noise = draw(0.02, 0.1);
    microphone.coolant = draw(0, 0.05);
    microphone.mains = draw(0, 1) < 0.5 ? 50 : 60;
    if (draw(0, 1) < 0.3) {
        microphone.pump = draw(0.005, 0.03);
        microphone.pump_hertz = draw(150, 900);
    }
    return microphone;
}

struct Score {
    int cuts = 0, right = 0, unclear = 0, wrong = 0;
    int sure = 0, sure_and_wrong = 0;  ///< confidence 0.8 and more
    double worst_speed = 0;
};

bool is_right(CutTruth truth, SoundCause cause) {
    switch (truth) {
        case CutTruth::steady:
            return cause == SoundCause::forced || cause == SoundCause::runout;
        case CutTruth::chatter:
            return cause == SoundCause::chatter;
        case CutTruth::doubled:
            return cause == SoundCause::period_doubling;
        case CutTruth::on_the_edge:
            break;
    }
    return false;
}

/// Runout may itself turn one kind of motion into another; then nobody knows the truth.
bool runout_keeps(CutTruth truth, const test::SoundingMotion& motion, int teeth) {
    const double unlike = test::change_after(motion, teeth);
    return truth == CutTruth::chatter ? unlike > 0.1 : unlike < 1e-3;
}

void try_cut(SoundingCut cut, Draw& draw, unsigned seed, std::optional<CutTruth> wanted,
             double most_runout, Score& score) {
    test::SoundingMotion motion = test::follow_cut(cut, 2);
    const CutTruth truth = test::truth_of(motion);
    // Vibration many times the chip is what no shop lets run.
    if (!(test::largest(motion) < 3 * cut.feed)) return;
    if (truth == CutTruth::on_the_edge || (wanted && truth != *wanted)) return;
    if (draw(0, 1) < 0.6) {
        for (int j = 0; j < cut.teeth; ++j)
            cut.runout.push_back(draw(-most_runout, most_runout) * cut.feed);
        motion = test::follow_cut(cut, 2);
        if (!runout_keeps(truth, motion, truth == CutTruth::doubled ? 2 * cut.teeth : cut.teeth))
            return;
    }
    const Recording recording = test::recorded(motion, any_microphone(draw), seed);
    const SoundFinding found = listen(
        recording,
        {.revolutions_per_second = cut.rpm / 60 * (1 + draw(-0.01, 0.01)), .teeth = cut.teeth});
    const bool right = is_right(truth, found.cause);
    ++score.cuts;
    score.right += right ? 1 : 0;
    score.unclear += found.cause == SoundCause::unclear ? 1 : 0;
    score.wrong += !right && found.cause != SoundCause::unclear ? 1 : 0;
    score.sure += found.confidence >= 0.8 ? 1 : 0;
    score.sure_and_wrong += !right && found.confidence >= 0.8 ? 1 : 0;
    if (right)
        score.worst_speed = std::max(
            score.worst_speed, std::abs(60 * found.speed.revolutions_per_second / cut.rpm - 1));
}

void report(const char* what, const Score& score) {
    std::cout << what << ": " << score.cuts << " cuts, " << score.right << " right, "
              << score.unclear << " unclear, " << score.wrong << " wrong; of " << score.sure
              << " surely named " << score.sure_and_wrong << " wrong; speed within "
              << score.worst_speed << "\n";
}

TEST(SoundFamily, FewCutsOfAnyKindAreNamedWronglyAndHardlyAnySurely) {
    Score score;
    for (unsigned seed = 0; seed < 160; ++seed) {
        Draw draw(20'000 + seed);
        const SoundingCut cut = any_cut(draw);
        try_cut(cut, draw, seed, {}, 0.2, score);
    }
    report("any cut", score);
    ASSERT_GE(score.cuts, 120);
    EXPECT_GE(score.right, 0.92 * score.cuts);
    EXPECT_LE(score.wrong, 0.04 * score.cuts);
    EXPECT_LE(score.sure_and_wrong, 0.03 * score.sure);
    EXPECT_LT(score.worst_speed, 3e-3);
}

TEST(SoundFamily, ChatterIsFoundInNineOfTenCutsThatChatter) {
    Score score;
    for (unsigned seed = 0; seed < 220; ++seed) {
        Draw draw(40'000 + seed);
        SoundingCut cut = any_cut(draw);
        cut.depth *= 3;
        try_cut(cut, draw, seed, CutTruth::chatter, 0.1, score);
    }
    report("chatter", score);
    ASSERT_GE(score.cuts, 25);
    EXPECT_GE(score.right, 0.85 * score.cuts);
}

TEST(SoundFamily, DoubledPeriodsAreFoundWithEvenTeethAndWithOdd) {
    Score score;
    for (unsigned seed = 0; seed < 300; ++seed) {
        Draw draw(60'000 + seed);
        const SoundingCut cut = doubling_cut(draw);
        if (cut.rpm < 2000 || cut.rpm > 20'000) continue;
        try_cut(cut, draw, seed, CutTruth::doubled, 0.1, score);
    }
    report("doubled", score);
    ASSERT_GE(score.cuts, 25);
    EXPECT_GE(score.right, 0.85 * score.cuts);
    EXPECT_LE(score.wrong, 0.08 * score.cuts);
}

}  // namespace
}  // namespace standfast
