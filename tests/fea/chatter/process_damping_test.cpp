// Rubbing of the flank: what it adds to the delay equation.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <vector>

#include "fea/chatter/equation/flank_drag.hpp"
#include "fea/chatter/limits/limit_search.hpp"
#include "fea/chatter/map/floquet.hpp"
#include "fea/chatter/motion/steady_motion.hpp"
#include "fea/chatter/motion/time_march.hpp"
#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

using reference::benchmark_system;
using reference::m1_system;

DelaySystem rubbing(DelaySystem system, double coefficient) {
    system.law.process_damping = coefficient;
    return system;
}

double limit_at(const DelaySystem& system, double rpm) {
    return periodic_limit(system, SpindleSpeed::from_rpm(rpm), 0.2, 1.0).limit.value_or(0.2);
}

TEST(ProcessDamping, OfNextToNothingChangesNothing) {
    for (const DelaySystem& system :
         {benchmark_system(2, 0.5, Milling::down), m1_system(38, 0.06), m1_system(0, 0.3)}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(5200);
        const double without = largest_multiplier(system, speed, 1e-3).radius();
        EXPECT_NEAR(largest_multiplier(rubbing(system, 1e-6), speed, 1e-3).radius(), without, 2e-6);
    }
}

TEST(ProcessDamping, RaisesTheLimitAtLowSpeedAndHardlyAtHighSpeed) {
    const DelaySystem bare = benchmark_system(1, 0.5, Milling::down);
    const DelaySystem rubs = rubbing(bare, 1e5);
    const double slow = limit_at(rubs, 1000) / limit_at(bare, 1000);
    const double fast = limit_at(rubs, 15000) / limit_at(bare, 15000);
    EXPECT_GT(slow, 2);
    EXPECT_GT(fast, 1 - 1e-6);
    EXPECT_LT(fast, 1.2);
}

DelaySystem by_its_mean(DelaySystem system, double coefficient, WaveFade fade = {}) {
    system.law.process_damping = coefficient;
    system.law.rubbing = Rubbing::mean;
    system.law.fade = fade;
    return system;
}

TEST(ProcessDamping, ByItsMeanMovesTheLimitAsTheMomentaryDoesWithinAFifth) {
    for (const DelaySystem& bare :
         {benchmark_system(1, 0.5, Milling::down), benchmark_system(2, 0.5, Milling::up),
          benchmark_system(2, 1.0, Milling::down), m1_system(38, 0.06), m1_system(0, 0.3)}) {
        for (const double rpm : {1500.0, 2200.0, 3000.0, 5200.0}) {
            const double without = limit_at(bare, rpm);
            const double momentary = limit_at(rubbing(bare, 4e4), rpm);
            const double mean = limit_at(by_its_mean(bare, 4e4), rpm);
            // Rubbing acts while a tooth is in the cut, where it is needed; spread over the
            // revolution it mostly does less, the safe side.
            EXPECT_LT(mean / momentary, 1.06) << rpm << ": " << without << " m without";
            EXPECT_GT(mean / momentary, 0.8) << rpm << ": " << without << " m without";
        }
    }
}

TEST(ProcessDamping, OfAWaveLongerThanItsReachIsNone) {
    const DelaySystem bare = benchmark_system(1, 0.5, Milling::down);
    const double frequency = bare.receptance.terms.front().frequency.hertz();
    const double rpm = 5000, cutting_speed = rpm / 60 * 3.14159265 * bare.cutter.diameter;
    const double wave = cutting_speed / frequency;
    const double without = limit_at(bare, rpm);
    EXPECT_NEAR(limit_at(by_its_mean(bare, 1e5, {.full = 0.4 * wave, .none = 0.9 * wave}), rpm),
                without, 1e-6 * without);
    const double whole = limit_at(by_its_mean(bare, 1e5), rpm);
    EXPECT_GT(whole, 1.01 * without);
    EXPECT_NEAR(limit_at(by_its_mean(bare, 1e5, {.full = 1.1 * wave, .none = 2 * wave}), rpm),
                whole, 1e-6 * whole);
}

// Two equal modes may be stated along any two directions square to each other.
TEST(ProcessDamping, OfEqualModesDoesNotDependOnHowTheyAreStated) {
    DelaySystem along = m1_system(20, 0.1);
    auto& terms = along.receptance.terms;
    terms.resize(1);
    const double size = terms.front().shape.norm();
    terms.push_back(terms.front());
    const auto limit_turned = [&](double angle) {
        DelaySystem turned = along;
        turned.receptance.terms[0].shape =
            size * Eigen::Vector3d(std::cos(angle), std::sin(angle), 0);
        turned.receptance.terms[1].shape =
            size * Eigen::Vector3d(-std::sin(angle), std::cos(angle), 0);
        return limit_at(by_its_mean(turned, 2e4), 3000);
    };
    const double limit = limit_turned(0);
    for (const double angle : {0.3, 0.785, 1.3})
        EXPECT_NEAR(limit_turned(angle), limit, 1e-3 * limit);
}

/// Largest rate of growth, 1/s, of modes that lie a little apart and move the edge alike.
double fastest_growth(int count, double apart, double drag) {
    std::vector<reference::TabledMode> modes;
    double hertz = 1000;
    for (int m = 0; m < count; ++m, hertz *= apart) {
        modes.push_back({hertz, 0.01, 3e7, m % 3 == 0 ? 0.8 : 1.0, m % 3 == 0 ? 0.6 : 0.0});
    }
    EdgeMatrix mean = EdgeMatrix::Zero(3, 3);
    mean(0, 0) = drag;
    mean(1, 1) = 0.6 * drag;
    mean(0, 1) = mean(1, 0) = 0.2 * drag;
    const ModalState dragged =
        with_flank_drag(modal_state(reference::receptance_of(modes)), mean, 1.0, {});
    return dragged.lambda.real().maxCoeff();
}

TEST(ProcessDamping, NeverFeedsTheMotionOfModesThatLieALittleApart) {
    const double alone = -0.01 * 2 * std::numbers::pi * 1000;  // of the slowest, without drag
    for (const double apart : {1.01, 1.05, 1.12, 1.25}) {
        for (const double drag : {1.0, 30.0, 1e3, 3e4}) {
            for (const int count : {2, 6, 24}) {
                EXPECT_LE(fastest_growth(count, apart, drag), 0.98 * alone)
                    << apart << " " << drag << " " << count;
            }
        }
    }
}

TEST(ProcessDamping, GrowsAsTheTimeMarchSays) {
    struct Row {
        DelaySystem system;
        double rpm, depth;
    };
    for (const Row& row : {Row{benchmark_system(1, 0.5, Milling::down), 5000, 1.2e-3},
                           Row{benchmark_system(2, 1.0, Milling::down), 4000, 0.6e-3},
                           Row{m1_system(38, 0.06), 3000, 4e-3}}) {
        const DelaySystem system = rubbing(row.system, 5e4);
        const SpindleSpeed speed = SpindleSpeed::from_rpm(row.rpm);
        const RigidCut cut{system.cutter, system.engagement, system.law, 1e-4, row.depth};
        const double marched = growth_per_tooth(
            time_march(system.receptance, cut, speed, {.revolutions = 60, .leaves_cut = false}));
        const double multiplier = largest_multiplier(system, speed, row.depth).radius();
        EXPECT_NEAR(marched, multiplier, 4e-3) << row.rpm;
        const double bare = largest_multiplier(row.system, speed, row.depth).radius();
        EXPECT_LT(multiplier, bare - 0.01) << row.rpm;
    }
}

TEST(ProcessDamping, OfAModeThatFeelsOnlyTheFlankIsAViscousDamper) {
    // Full slot, many straight teeth, next to no chip stiffness: n n^T of all teeth adds up to
    // half their number, so that each mode of mass m is damped by C b N/(4 m V) beside its own.
    DelaySystem system = benchmark_system(2, 1.0, Milling::down);
    system.cutter = reference::even_cutter(8, 0.010);
    system.law.tangential = system.law.radial = 1e-3;
    system.law.process_damping = 2e4;
    const double depth = 1e-3, mass = 0.03993;
    const SpindleSpeed speed = SpindleSpeed::from_rpm(3000);
    const double cutting_speed = speed.radians_per_second * 0.005;
    const double teeth_in_cut = 4;
    const double decay = 0.011 * 2 * std::numbers::pi * 922 +
                         2e4 * depth * teeth_in_cut / 2 / (2 * mass * cutting_speed);
    const double tooth_period = 60.0 / 3000 / 8;
    EXPECT_NEAR(largest_multiplier(system, speed, depth).radius(), std::exp(-decay * tooth_period),
                1e-5);
}

}  // namespace
}  // namespace standfast
