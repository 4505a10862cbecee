#include "fea/studies/sound/wall_marks.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <stdexcept>
#include <string>

namespace standfast {
namespace {

// A table computed independently of this program, from the same physics: rpm, teeth, f, feed a
// tooth, then whole waves, phase, spacing along the wall and, for a 12 mm cutter (16 mm, 10 mm
// where named) with its helix, pitch along the axis. Printed to four digits after the point,
// frequencies to 0.01 Hz; hence the tolerances.
struct MarkRow {
    double rpm;
    int teeth;
    double hertz, feed_mm;
    int whole;
    double phase;
    double spacing_mm;  ///< 0: no pattern
};

constexpr MarkRow kRows[] = {
    {6000, 4, 1652.3, 0.05, 4, 0.8215, 0.3824}, {4000, 4, 1615.2, 0.04, 6, 0.3581, 0.7018},
    {9000, 3, 1122.0, 0.08, 2, 3.0997, 0.1622}, {8000, 2, 1066.66667, 0.06, 4, 0.0, 0},
    {7400, 2, 863.33, 0.06, 3, 3.1415, 0.1200}, {9200, 2, 920.6, 0.06, 3, 0.0123, 30.6667},
    {3000, 4, 355.0, 0.05, 1, 4.8695, 0.2222},  {12000, 3, 2350.0, 0.05, 3, 5.7596, 0.6000},
    {5000, 5, 1400.0, 0.03, 3, 2.2619, 0.0833}, {10000, 2, 833.33, 0.1, 2, 3.1415, 0.2000}};

MarkedCut cut_of(const MarkRow& row) {
    return {.revolutions_per_second = row.rpm / 60,
            .teeth = row.teeth,
            .even_pitch = true,
            .feed_per_tooth = row.feed_mm * 1e-3,
            .diameter = 0.012,
            .helix = 0.6};
}

TEST(WallMarks, SpacingAndPhaseMatchTheIndependentTable) {
    for (const MarkRow& row : kRows) {
        const MarkedCut cut = cut_of(row);
        if (row.spacing_mm == 0) {
            // 1066.66667 / 266.66667 is whole to the digits given.
            EXPECT_GT(mark_spacing(row.hertz, cut).value_or(1e9), 1.0);
            continue;
        }
        const WavesBetweenTeeth waves = waves_between_teeth(row.hertz, cut.tooth_passing_hertz());
        EXPECT_EQ(waves.whole, row.whole) << row.rpm;
        EXPECT_NEAR(waves.phase, row.phase, 1e-4) << row.rpm;
        EXPECT_NEAR(*mark_spacing(row.hertz, cut) * 1e3, row.spacing_mm,
                    6e-5 * (1 + row.spacing_mm))
            << row.rpm;
    }
}

// The same table's axial pitches, with the cutter they belong to: 12 mm and 38 deg fit the first.
TEST(WallMarks, AxialPitchIsThatOfTheEdgesWave) {
    MarkedCut cut = cut_of(kRows[0]);
    cut.helix = 38 * std::numbers::pi / 180;
    EXPECT_NEAR(*axial_mark_pitch(1652.3, cut) * 1e3, 2.9203, 1e-4);
    cut.helix = 0;
    EXPECT_FALSE(axial_mark_pitch(1652.3, cut));
}

TEST(WallMarks, EveryFrequencyIsAmongTheCandidatesOfItsOwnMarks) {
    for (const MarkRow& row : kRows) {
        const MarkedCut cut = cut_of(row);
        if (row.spacing_mm == 0) continue;
        const MarksFinding found = read_marks(*mark_spacing(row.hertz, cut), {}, cut, 6000);
        // 2.03 feeds apart cannot be told from two by eye, and then stand for the half itself.
        const double within = found.cause == SoundCause::chatter ? 1e-5 * row.hertz
                                                                 : 0.01 * cut.tooth_passing_hertz();
        const bool among =
            std::any_of(found.candidates.begin(), found.candidates.end(),
                        [&](double f) { return std::abs(f - row.hertz) < 0.01 + within; });
        EXPECT_TRUE(among) << row.rpm;
    }
}

TEST(WallMarks, EveryCandidateLeavesTheMarksThatWereSeen) {
    const MarkedCut cut = cut_of(kRows[0]);
    const MarksFinding found = read_marks(0.42e-3, {}, cut, 6000);
    EXPECT_EQ(found.cause, SoundCause::chatter);
    ASSERT_GE(found.candidates.size(), 20U);
    for (const double f : found.candidates) EXPECT_NEAR(*mark_spacing(f, cut), 0.42e-3, 1e-9) << f;
}

TEST(WallMarks, SlopeAlongTheAxisTellsOneOfThem) {
    MarkedCut cut = cut_of(kRows[0]);
    cut.helix = 38 * std::numbers::pi / 180;
    // Read with 3 % error each.
    const double spacing = *mark_spacing(1652.3, cut) * 1.03;
    const double axial = *axial_mark_pitch(1652.3, cut) * 0.97;
    const MarksFinding found = read_marks(spacing, axial, cut, 6000);
    ASSERT_TRUE(found.by_axial);
    EXPECT_NEAR(*found.by_axial, 1652.3, 5);
}

TEST(WallMarks, FeedRunoutAndPeriodDoublingLeaveTheirOwnSpacings) {
    MarkedCut cut = cut_of(kRows[2]);  // three teeth, 0.08 mm
    EXPECT_EQ(read_marks(0.08e-3, {}, cut, 6000).cause, SoundCause::forced);
    EXPECT_EQ(read_marks(0.24e-3, {}, cut, 6000).cause, SoundCause::runout);
    const MarksFinding doubled = read_marks(0.16e-3, {}, cut, 6000);
    EXPECT_EQ(doubled.cause, SoundCause::period_doubling);
    for (const double f : doubled.candidates) {
        const double halves = f / (cut.tooth_passing_hertz() / 2);
        EXPECT_NEAR(halves, std::round(halves), 1e-9);
        EXPECT_EQ(static_cast<int>(std::round(halves)) % 2, 1);
    }
    cut.teeth = 2;
    EXPECT_EQ(read_marks(0.16e-3, {}, cut, 6000).cause, SoundCause::unclear);
    EXPECT_EQ(read_marks(0.11e-3, {}, cut, 6000).cause, SoundCause::unclear);
    EXPECT_THROW(read_marks(0, {}, cut, 6000), std::domain_error);
}

TEST(Tone, IsChatterOnlyBeyondAGuardThatGrowsWithTheOrder) {
    const HeardCut cut{.revolutions_per_second = 150, .teeth = 3};
    EXPECT_EQ(place_tone(1480, cut).cause, SoundCause::chatter);
    EXPECT_EQ(place_tone(1352, cut).cause, SoundCause::forced);
    EXPECT_EQ(place_tone(3 * 450 + 150, cut).cause, SoundCause::runout);
    EXPECT_EQ(place_tone(2.5 * 450, cut).cause, SoundCause::period_doubling);
    EXPECT_GT(place_tone(3000, cut).guard_hertz, place_tone(1000, cut).guard_hertz);
    // With four teeth runout stands midway too.
    EXPECT_EQ(place_tone(2.5 * 600, {.revolutions_per_second = 150, .teeth = 4}).cause,
              SoundCause::unclear);
    // At 600 rpm and two teeth the harmonics of a squeal lie within a reading error of each other.
    EXPECT_EQ(place_tone(1480, {.revolutions_per_second = 10, .teeth = 2}).cause,
              SoundCause::unclear);
}

}  // namespace
}  // namespace standfast
