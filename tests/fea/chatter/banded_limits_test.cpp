#include "fea/chatter/banded_limits.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/chatter/anchored_limits.hpp"
#include "fea/chatter/band_search.hpp"
#include "fea/chatter/depth_stability.hpp"
#include "fea/chatter/floquet.hpp"
#include "fea/chatter/limit_search.hpp"
#include "fea/chatter/mode_bands.hpp"

namespace standfast {
namespace {

/// An invented tall stack and long tool: pairs of bending modes of the tool, some of the stand, and
/// stiff ones far above.
DelaySystem many_modes(double helix, double corner = 0) {
    struct Pair {
        double hertz, ratio, size;  // size: compliance at rest, m/N
    };
    constexpr Pair kPairs[] = {{180, 0.03, 6e-9},    {210, 0.03, 5e-9},  {640, 0.03, 8e-9},
                               {1000, 0.03, 2.5e-8}, {1630, 0.02, 3e-8}, {2150, 0.02, 4e-9},
                               {3000, 0.02, 3e-9},   {3900, 0.02, 8e-9}, {5200, 0.02, 1e-9}};
    DelaySystem system;
    int turn = 0;
    for (const Pair& pair : kPairs) {
        const double w = 2 * 3.14159265358979323846 * pair.hertz;
        const double u = w * std::sqrt(pair.size);
        const double angle = 0.37 * turn++;
        system.receptance.terms.push_back(
            {{w}, pair.ratio, {u * std::cos(angle), u * std::sin(angle), 0.1 * u}});
        system.receptance.terms.push_back(
            {{1.004 * w}, pair.ratio, {-u * std::sin(angle), u * std::cos(angle), 0}});
    }
    system.receptance.residual = Eigen::Matrix3d::Identity() * 2e-9;
    system.cutter = {.diameter = 0.010,
                     .helix = helix,
                     .tooth_angle = {0, 2.0943951023931953, 4.1887902047863905}};
    system.cutter.corner_radius = corner;
    system.engagement = engagement(Milling::down, 0.0005, 0.010);
    system.law = {.tangential = 7e8, .radial = 2.8e8, .axial = 1e8};
    return system;
}

std::vector<SpindleSpeed> speeds(int count, double from = 2000, double to = 14000) {
    std::vector<SpindleSpeed> result;
    for (int i = 0; i < count; ++i)
        result.push_back(SpindleSpeed::from_rpm(from * std::pow(to / from, i / (count - 1.0))));
    return result;
}

TEST(ModeBands, KeepTheReceptanceNearTheirCentre) {
    const DelaySystem system = many_modes(0.6);
    const std::vector<ModeBand> bands = mode_bands(system, 8);
    ASSERT_GE(bands.size(), 3U);
    for (const ModeBand& band : bands) {
        EXPECT_EQ(band.system.receptance.terms.size(), 8U);
        for (const double share : {0.95, 1.0, 1.05}) {
            const AngularFrequency w{share * band.centre.radians_per_second};
            const Eigen::Matrix3cd whole = receptance_at(system.receptance, w);
            const Eigen::Matrix3cd near = receptance_at(band.system.receptance, w);
            EXPECT_LT((near - whole).norm(), 0.05 * whole.norm()) << w.hertz();
        }
    }
}

TEST(ModeBands, AreTheSystemItselfWhereItHasFewModes) {
    DelaySystem system = many_modes(0.6);
    system.receptance.terms.resize(6);
    const std::vector<ModeBand> bands = mode_bands(system, 8);
    ASSERT_EQ(bands.size(), 1U);
    EXPECT_EQ(bands.front().system.receptance.terms.size(), 6U);
}

TEST(ModeBands, KeepGroupsFarAboveThemWholeOrNotAtAll) {
    // Low pairs, and nine modes close together far above: more than a band has room for.
    DelaySystem system = many_modes(0.6);
    system.receptance.terms.resize(4);
    for (int i = 0; i < 9; ++i) {
        const double w = 2 * 3.14159265358979323846 * (2000 + 30 * i);
        const double u = w * std::sqrt(1e-8);
        system.receptance.terms.push_back({{w}, 0.02, {u * std::cos(i), u * std::sin(i), 0}});
    }
    for (const ModeBand& band : mode_bands(system, 8)) {
        if (band.centre.hertz() > 1000) continue;
        for (const ModalTerm& term : band.system.receptance.terms)
            EXPECT_LT(term.frequency.hertz(), 1000);
    }
}

TEST(BandSearch, TheQuickLimitIsThatOfTheWholeSystemToAFewPercent) {
    for (const double corner : {0.0, 0.0005}) {
        const DelaySystem system = many_modes(0.6, corner);
        const std::vector<SpindleSpeed> asked = speeds(40);
        const BandSearch search(system, asked, 0.05, 2.5);
        double squares = 0;
        for (std::size_t i = 0; i < asked.size(); ++i) {
            const auto quick = search.depth_on_bands(i);
            const BandSearch::OnWhole whole = search.on_whole(i, 1);
            ASSERT_EQ(quick.has_value(), whole.limit.limit.has_value());
            if (quick) squares += std::pow(*quick / *whole.limit.limit - 1, 2);
        }
        EXPECT_LT(std::sqrt(squares / 40), 0.05) << "corner " << corner;
    }
}

TEST(BandSearch, AtOtherSpeedsIsASearchAtThose) {
    const DelaySystem system = many_modes(0.6);
    const BandSearch search(system, speeds(5), 0.05);
    const BandSearch other = search.at(speeds(7));
    const BandSearch anew(system, speeds(7), 0.05);
    for (std::size_t i = 0; i < 7; ++i) EXPECT_EQ(other.depth_on_bands(i), anew.depth_on_bands(i));
}

TEST(AnchoredLimits, SayHowFarWhatTheyFillInIsOff) {
    const DelaySystem system = many_modes(0.6);
    const BandSearch search(system, speeds(120, 1000, 14000), 0.05);
    const StabilityLimits limits = anchored_limits(search);
    ASSERT_EQ(limits.stand_ins.size(), 1U);
    const StandIn& said = limits.stand_ins.front();
    EXPECT_EQ(said.kind, SolvedOn::ratio);
    EXPECT_GT(said.speeds, 20);
    EXPECT_GT(said.sample, 2);
    int filled = 0;
    double squares = 0;
    for (std::size_t i = 0; i < limits.speeds.size(); ++i) {
        const auto solved = search.depth_on_bands(i);
        ASSERT_EQ(limits.speeds[i].limit.has_value(), solved.has_value());
        if (!solved) continue;
        const double off = *limits.speeds[i].limit / *solved - 1;
        if (limits.speeds[i].solved_on == SolvedOn::bands) {
            EXPECT_EQ(off, 0);
            continue;
        }
        ++filled;
        squares += off * off;
    }
    EXPECT_EQ(filled, said.speeds);
    EXPECT_LT(std::sqrt(squares / filled), 0.05);
}

TEST(AnchoredLimits, SolveEverySpeedOfFew) {
    const DelaySystem system = many_modes(0.6);
    const BandSearch search(system, speeds(2), 0.05);
    const StabilityLimits limits = anchored_limits(search);
    EXPECT_TRUE(limits.stand_ins.empty());
    EXPECT_EQ(limits.speeds[1].limit, search.depth_on_bands(1));
}

TEST(BandedLimits, AreThoseOfTheWholeSystem) {
    for (const double corner : {0.0, 0.0005}) {
        const DelaySystem system = many_modes(0.6, corner);
        const std::vector<SpindleSpeed> asked = speeds(25);
        const StabilityLimits banded = banded_limits(system, asked, 0.05);
        const StabilityLimits whole = periodic_limits(system, asked, 0.05, 1);
        EXPECT_TRUE(banded.stand_ins.empty());
        for (std::size_t i = 0; i < asked.size(); ++i) {
            ASSERT_EQ(banded.speeds[i].limit.has_value(), whole.speeds[i].limit.has_value());
            if (!whole.speeds[i].limit) continue;
            EXPECT_NEAR(*banded.speeds[i].limit, *whole.speeds[i].limit,
                        1e-3 * *whole.speeds[i].limit)
                << asked[i].rpm() << " rpm, corner " << corner;
            EXPECT_EQ(banded.speeds[i].kind, whole.speeds[i].kind) << asked[i].rpm();
        }
    }
}

TEST(BandedLimits, SayHowFarTheirStandInsAreOff) {
    const DelaySystem system = many_modes(0.6);
    const std::vector<SpindleSpeed> asked = speeds(80, 500, 14000);
    BandedOptions options;
    options.matters = [](SpindleSpeed speed) { return speed.rpm() > 8000; };
    options.most_lobes = 15;
    const StabilityLimits banded = banded_limits(system, asked, 0.05, options);
    ASSERT_EQ(banded.stand_ins.size(), 2U);
    for (const StandIn& stand_in : banded.stand_ins) {
        EXPECT_GT(stand_in.speeds, 0);
        EXPECT_GT(stand_in.sample, 1);
        EXPECT_LE(stand_in.root_mean_square, stand_in.worst);
    }
    const StabilityLimits whole = periodic_limits(system, asked, 0.05, 1);
    double squares = 0;
    int count = 0;
    for (std::size_t i = 0; i < asked.size(); ++i) {
        if (banded.speeds[i].solved_on != SolvedOn::ratio || !whole.speeds[i].limit) continue;
        squares += std::pow(*banded.speeds[i].limit / *whole.speeds[i].limit - 1, 2);
        ++count;
    }
    ASSERT_GT(count, 5);
    const double said = banded.stand_ins.back().root_mean_square;
    EXPECT_LT(std::sqrt(squares / count), 2 * said + 0.01);
}

TEST(BandedLimits, IslandsAreStableOnTheWholeSystem) {
    const DelaySystem system = many_modes(0.6);
    const std::vector<SpindleSpeed> asked = speeds(40, 6000, 14000);
    int islands = 0;
    for (const SpeedLimit& limit : banded_limits(system, asked, 0.05, {.islands_to = 3}).speeds) {
        for (const auto& [from, to] : limit.islands) {
            if (to < 1.05 * from) continue;
            ++islands;
            const double middle = std::sqrt(from * to);
            EXPECT_LT(largest_multiplier(system, limit.speed, middle, 1e-4).radius(), 1.02)
                << limit.speed.rpm() << " rpm, " << middle;
        }
    }
    RecordProperty("islands", islands);
}

TEST(DepthStability, GrowthIsTheLargestMultiplierOfTheWholeSystem) {
    const DelaySystem system = many_modes(0.6);
    int compared = 0;
    for (const SpindleSpeed speed : speeds(12, 3000, 14000)) {
        const std::optional<double> limit = periodic_limit(system, speed, 0.05, 1).limit;
        if (!limit) continue;
        ++compared;
        for (const double share : {0.9, 1.1}) {
            const double depth = share * *limit;
            const bool unstable = growth(prepare_depth(system, depth), speed) > 1;
            EXPECT_EQ(unstable, share > 1) << speed.rpm() << " rpm, " << depth;
        }
    }
    EXPECT_GE(compared, 4);
}

TEST(DepthStability, ACutThatCannotShakeAnythingDoesNotGrow) {
    const DelaySystem system = many_modes(0.6);
    EXPECT_EQ(growth(prepare_depth(system, 1e-7), SpindleSpeed::from_rpm(9000)), 0);
}

}  // namespace
}  // namespace standfast
