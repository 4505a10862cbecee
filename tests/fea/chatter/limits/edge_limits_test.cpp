// Limits of cuts spread along the edge: the quick way against the walk on the whole, heights
// against more heights, modes against more modes, and all of it against a march in 20 slices that
// knows nothing of heights, Gauss points or period maps.
#include "fea/chatter/limits/edge_limits.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/chatter/equation/slight_modes.hpp"
#include "fea/chatter/limits/limit_search.hpp"
#include "fea/cutting/edge_law.hpp"
#include "fea/solution/modal_receptance.hpp"

namespace standfast {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;

// Shapes of a clamped slender beam (Euler-Bernoulli roots of cosh b cos b = -1), s from the tip.
double beam_shape(int mode, double share_from_tip) {
    static const double root[] = {1.87510407, 4.69409113, 7.85475744};
    const double b = root[mode], x = 1 - share_from_tip;
    const double sigma = (std::sinh(b) - std::sin(b)) / (std::cosh(b) + std::cos(b));
    return std::cosh(b * x) - std::cos(b * x) - sigma * (std::sinh(b * x) - std::sin(b * x));
}

struct BeamCut {
    double length = 0.05, first_hertz = 1500, modal_mass = 0.02, damping = 0.015, split = 1.03;
    double helix = 0.5, radial = 0.002, diameter = 0.010, axial_force = 0;
    int teeth = 2, modes = 2;
    Milling milling = Milling::down;
    bool part_too = false;
    double rpm = 9000;
};

LineReceptance beam_line(const BeamCut& setup, double frequency, bool turned) {
    LineReceptance line{.point = line_points(setup.length, 9)};
    line.residual = Eigen::MatrixXd::Zero(27, 27);
    static const double root[] = {1.87510407, 4.69409113, 7.85475744};
    for (int mode = 0; mode < setup.modes; ++mode) {
        const double ratio = std::pow(root[mode] / root[0], 2);
        for (int axis = 0; axis < 2; ++axis) {
            LineMode one{
                AngularFrequency::from_hertz(frequency * ratio * (axis == 0 ? 1 : setup.split)),
                setup.damping, Eigen::Matrix3Xcd::Zero(3, 9)};
            for (Eigen::Index k = 0; k < 9; ++k) {
                const double share = line.point[static_cast<std::size_t>(k)] / setup.length;
                one.shape(axis, k) =
                    beam_shape(mode, turned ? 1 - share : share) / 2 / std::sqrt(setup.modal_mass);
            }
            line.modes.push_back(one);
        }
    }
    return line;
}

DelaySystem system_of(const BeamCut& setup) {
    DelaySystem system;
    system.cutter.diameter = setup.diameter;
    system.cutter.helix = setup.helix;
    for (int tooth = 0; tooth < setup.teeth; ++tooth) {
        system.cutter.tooth_angle.push_back(kTurn * tooth / setup.teeth);
    }
    system.engagement = engagement(setup.milling, setup.radial, setup.diameter);
    system.law = {.tangential = 8e8, .radial = 2.5e8, .axial = setup.axial_force};
    CutLines lines{.tool = beam_line(setup, setup.first_hertz, false),
                   .lever = setup.axial_force > 0 ? setup.diameter / 2 : 0};
    if (setup.part_too) lines.work = beam_line(setup, 0.7 * setup.first_hertz, true);
    system.lines = std::make_shared<const CutLines>(lines);
    return system;
}

std::vector<BeamCut> setups() {
    return {
        {},
        {.helix = 0, .rpm = 12000},
        {.radial = 0.010, .milling = Milling::slot, .rpm = 15000},
        {.radial = 0.0005, .teeth = 3, .rpm = 7000},
        {.radial = 0.005, .teeth = 4, .milling = Milling::up, .rpm = 6000},
        {.length = 0.03, .first_hertz = 2600, .rpm = 20000},
        {.part_too = true, .rpm = 11000},
        {.first_hertz = 900, .modal_mass = 0.05, .part_too = true, .rpm = 5000},
        {.helix = 0.7, .axial_force = 3e8, .rpm = 9000},
        {.radial = 0.001, .axial_force = 2.5e8, .teeth = 3, .milling = Milling::up, .rpm = 10000}};
}

// Growth of small motion a tooth period, by a march in slices of the edge: every slice meets its
// own displacement, and what it left a tooth period ago. Modes exact under forces linear in a step.
double marched_growth(const BeamCut& setup, const DelaySystem& system, double depth) {
    constexpr int kSlices = 20, kSteps = 1600, kPeriods = 60;
    const CutLines& lines = *system.lines;
    const double tau = 60 / setup.rpm / setup.teeth, h = tau / kSteps;
    std::vector<std::complex<double>> pole;
    std::vector<Eigen::MatrixXd> shape;  // 3 x slices, over sqrt(w_d)
    std::vector<Eigen::Vector2d> slope;
    const auto add = [&](const LineReceptance& line, bool tool) {
        for (const LineMode& mode : line.modes) {
            const double w = mode.frequency.radians_per_second;
            const double damped = w * std::sqrt(1 - std::pow(mode.damping_ratio, 2));
            pole.emplace_back(-mode.damping_ratio * w, damped);
            Eigen::MatrixXd at(3, kSlices);
            for (int s = 0; s < kSlices; ++s) {
                at.col(s) = mode.shape.real() *
                            line_weights(line.point, (s + 0.5) * depth / kSlices) /
                            std::sqrt(damped);
            }
            shape.push_back(at);
            slope.push_back(tool ? Eigen::Vector2d((mode.shape.real() *
                                                    line_slope_weights(line.point, depth / 2))
                                                       .head<2>() /
                                                   std::sqrt(damped))
                                 : Eigen::Vector2d(Eigen::Vector2d::Zero()));
        }
    };
    add(lines.tool, true);
    if (lines.work.point.size() > 1) add(lines.work, false);
    const std::size_t modes = pole.size();
    const EdgeSlice whole{.from = 0, .to = depth};
    const auto matrix = force_derivative_per_height(system.cutter, system.law, whole);
    const double lag = std::tan(setup.helix) / (setup.diameter / 2);
    std::vector<std::complex<double>> state(modes, {1e-6, 0});
    std::vector<double> drive(modes, 0);
    std::vector<Eigen::MatrixXd> left(kSteps, Eigen::MatrixXd::Zero(3, kSlices));
    std::vector<double> size(kPeriods, 0);
    for (int step = 0; step < kPeriods * kSteps; ++step) {
        std::vector<std::complex<double>> next(modes);
        std::vector<double> force = drive;
        Eigen::MatrixXd d(3, kSlices);
        for (int pass = 0; pass < 3; ++pass) {
            d.setZero();
            for (std::size_t m = 0; m < modes; ++m) {
                const std::complex<double> z = pole[m] * h, turn = std::exp(z);
                const std::complex<double> all = (turn - 1.0) / pole[m];
                const std::complex<double> last = (turn - 1.0 - z) / (pole[m] * z);
                next[m] = turn * state[m] + (all - last) * drive[m] + last * force[m];
                d += shape[m] * next[m].imag();
            }
            force.assign(modes, 0);
            for (int s = 0; s < kSlices; ++s) {
                for (int tooth = 0; tooth < setup.teeth; ++tooth) {
                    double angle = kTurn / setup.teeth * (step + 1) / kSteps -
                                   kTurn * tooth / setup.teeth - lag * (s + 0.5) * depth / kSlices;
                    angle -= kTurn * std::floor(angle / kTurn);
                    if (angle < system.engagement.entry || angle > system.engagement.exit) continue;
                    const Eigen::Vector3d f =
                        value_at(matrix, angle) *
                        (d.col(s) - left[static_cast<std::size_t>((step + 1) % kSteps)].col(s)) *
                        (depth / kSlices);
                    for (std::size_t m = 0; m < modes; ++m) {
                        force[m] += shape[m].col(s).dot(f) - lines.lever * f.z() *
                                                                 (std::sin(angle) * slope[m].x() +
                                                                  std::cos(angle) * slope[m].y());
                    }
                }
            }
        }
        drive = force;
        state = next;
        left[static_cast<std::size_t>((step + 1) % kSteps)] = d;
        size[static_cast<std::size_t>(step / kSteps)] += d.squaredNorm();
    }
    return std::pow(size[kPeriods - 1] / size[kPeriods / 2 - 1], 0.5 / (kPeriods / 2));
}

TEST(EdgeLimits, TenCutsDieAwayBelowAndGrowAboveInAMarchOfTwentySlices) {
    for (const BeamCut& setup : setups()) {
        const DelaySystem system = system_of(setup);
        const SpeedLimit found =
            EdgeLimits(system, setup.length).limit(SpindleSpeed::from_rpm(setup.rpm));
        ASSERT_TRUE(found.limit) << setup.rpm;
        EXPECT_LT(marched_growth(setup, system, 0.97 * *found.limit), 1) << setup.rpm;
        EXPECT_GT(marched_growth(setup, system, 1.03 * *found.limit), 1) << setup.rpm;
    }
}

TEST(EdgeLimits, AreThoseOfTheWalkOnTheWhole) {
    for (const BeamCut& setup : setups()) {
        const DelaySystem system = system_of(setup);
        const SpindleSpeed speed = SpindleSpeed::from_rpm(setup.rpm);
        const auto walked = periodic_limit(system, speed, setup.length, 1).limit;
        const auto found = EdgeLimits(system, setup.length).limit(speed).limit;
        ASSERT_TRUE(walked && found) << setup.rpm;
        EXPECT_NEAR(*found, *walked, 1e-3 * *walked) << setup.rpm;
    }
}

TEST(EdgeLimits, FourHeightsInsteadOfThreeMoveALimitByLessThanHalfAPercent) {
    for (const BeamCut& setup : setups()) {
        const DelaySystem system = system_of(setup);
        const SpindleSpeed speed = SpindleSpeed::from_rpm(setup.rpm);
        const auto with = [&](int heights) {
            CutLines lines = *system.lines;
            lines.heights = heights;
            DelaySystem other = system;
            other.lines = std::make_shared<const CutLines>(lines);
            return *periodic_limit(other, speed, setup.length, 1).limit;
        };
        const double four = with(4);
        EXPECT_NEAR(with(3), four, 5e-3 * four) << setup.rpm;
        EXPECT_NEAR(with(0), four, 5e-3 * four) << setup.rpm << ", as many as are needed";
    }
}

TEST(EdgeLimits, AThirdModeInEachPlaneMovesALimitByLessThanHalfAPercent) {
    BeamCut setup{.radial = 0.005, .teeth = 4, .milling = Milling::up, .rpm = 6000};
    const SpindleSpeed speed = SpindleSpeed::from_rpm(setup.rpm);
    const double two = *EdgeLimits(system_of(setup), setup.length).limit(speed).limit;
    setup.modes = 3;
    const double three = *EdgeLimits(system_of(setup), setup.length).limit(speed).limit;
    EXPECT_NEAR(two, three, 5e-3 * three);
}

TEST(EdgeLimits, OneHeightOfAPointIsTheEquationOfThePoint) {
    const BeamCut setup;
    const DelaySystem spread = system_of(setup);
    DelaySystem point = spread;
    point.receptance = receptance_at_height(*spread.lines, 0.01, 0);
    point.lines.reset();
    CutLines rigid;
    rigid.tool = rigid_line(point.receptance);
    DelaySystem line = point;
    line.lines = std::make_shared<const CutLines>(rigid);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(setup.rpm);
    EXPECT_NEAR(*periodic_limit(line, speed, 0.05, 1).limit,
                *periodic_limit(point, speed, 0.05, 1).limit, 1e-9);
}

TEST(SlightModes, AtRestMoveALimitByLessThanAThousandth) {
    BeamCut setup{.radial = 0.004, .modes = 3, .part_too = true, .rpm = 8000};
    const DelaySystem system = system_of(setup);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(setup.rpm);
    const double all = *periodic_limit(system, speed, setup.length, 1).limit;
    const DelaySystem fewer = without_slight_modes(system, 3e-3);
    EXPECT_NEAR(*periodic_limit(fewer, speed, setup.length, 1).limit, all, 1e-3 * all);
    EXPECT_LT((static_compliance(receptance_of_cut(fewer, 0.01)) -
               static_compliance(receptance_of_cut(system, 0.01)))
                  .norm(),
              1e-12 * static_compliance(receptance_of_cut(system, 0.01)).norm() + 1e-18);
}

}  // namespace
}  // namespace standfast
