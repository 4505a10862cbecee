#include "fea/chatter/map/floquet.hpp"

#include <gtest/gtest.h>

#include <Eigen/LU>
#include <cmath>
#include <complex>
#include <numbers>
#include <string>

#include "tests/fea/chatter/stability_cases.hpp"

namespace standfast {
namespace {

using reference::benchmark_system;
using reference::m1_system;

const std::string kTables = std::string(STANDFAST_SOURCE_DIR) + "/validation/cases/stability/";

TEST(Floquet, SlotConvergencePointsToOneInAHundredThousand) {
    // Converged values of the convergence points of Y. Ding et al., Int. J. Mach. Tools Manuf. 50
    // (2010) 502-509 (parameters from memory); the multipliers were computed outside this code.
    struct Row {
        double depth_mm, radius, real, imaginary;
    };
    const DelaySystem slot = benchmark_system(1, 1.0, Milling::down);
    for (const Row& row :
         {Row{0.2, 0.819743, -0.634724, 0.518752}, Row{0.5, 1.073976, -0.505077, 0.947798},
          Row{0.7, 1.221556, -0.369368, 1.164374}, Row{1.0, 1.406474, -0.122946, 1.401090}}) {
        const Multiplier got =
            largest_multiplier(slot, SpindleSpeed::from_rpm(5000), row.depth_mm * 1e-3);
        EXPECT_NEAR(got.radius(), row.radius, 1e-5 * row.radius) << row.depth_mm << " mm";
        EXPECT_NEAR(got.value.real(), row.real, 2e-6) << row.depth_mm << " mm";
        EXPECT_NEAR(got.value.imag(), row.imaginary, 2e-6) << row.depth_mm << " mm";
    }
}

TEST(Floquet, EverySpectralRadiusOfTheBenchmarkTable) {
    const reference::Table table = reference::read_table(kTables + "benchmark_radii.csv");
    ASSERT_GE(table.rows.size(), 60U);
    double worst = 0;
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const DelaySystem system = benchmark_system(
            static_cast<int>(table.number(row, "directions")), table.number(row, "immersion"),
            reference::milling_of(table.word(row, "milling")));
        const double expected = table.number(row, "radius");
        const double got =
            largest_multiplier(system, SpindleSpeed::from_rpm(table.number(row, "rpm")),
                               table.number(row, "depth_mm") * 1e-3)
                .radius();
        EXPECT_NEAR(got, expected, 2e-6 * expected) << "row " << row;
        worst = std::max(worst, std::abs(got / expected - 1));
    }
    RecordProperty("worst_relative_error", std::to_string(worst * 1e6) + "e-6");
}

TEST(Floquet, RadiiAboutTheLimitByThreeMethods) {
    const reference::Table table = reference::read_table(kTables + "three_methods.csv");
    for (std::size_t row = 0; row < table.rows.size(); ++row) {
        const DelaySystem system =
            table.word(row, "case") == "m1"
                ? m1_system(table.number(row, "helix_deg"), table.number(row, "immersion"))
                : benchmark_system(static_cast<int>(table.number(row, "directions")),
                                   table.number(row, "immersion"),
                                   reference::milling_of(table.word(row, "milling")));
        for (const char* percent : {"97", "100", "103"}) {
            const double depth = table.number(row, "limit_mm") * 1e-3 * std::stod(percent) / 100;
            const double got =
                largest_multiplier(system, SpindleSpeed::from_rpm(table.number(row, "rpm")), depth)
                    .radius();
            // The tabled limit has five digits, which moves the radius by up to 2e-5.
            EXPECT_NEAR(got, table.number(row, std::string("radius_") + percent), 4e-5)
                << "row " << row << ", " << percent << " %";
            // Time integration took about 250 steps a vibration.
            EXPECT_NEAR(got, table.number(row, std::string("growth_") + percent), 8e-4)
                << "row " << row << ", " << percent << " %";
        }
    }
}

// x'' + d x = b x(t - 2 pi): a slot with four teeth, one mode along the feed and a radial force
// alone has A constant, A_xx = -Kr depth, so d = w^2 + b and b = Kr depth per unit mass.
DelaySystem scalar_delay_system(double d, double b) {
    DelaySystem system;
    system.receptance.terms.push_back(
        {AngularFrequency{std::sqrt(d - b)}, 0.0, Eigen::Vector3d::UnitX()});
    system.cutter = reference::even_cutter(4, 1.0);
    system.engagement = engagement(Milling::slot, 1.0, 1.0);
    system.law.radial = b;
    return system;
}

TEST(Floquet, ScalarDelayEquationHasTheEdgesOfHsuAndBhatt) {
    // Chart of C. S. Hsu and S. J. Bhatt, J. Appl. Mech. 33 (1966): edges on the lines
    // d - k^2/4 = (-1)^k b, which x = exp(i k t/2) shows at once (multiplier (-1)^k).
    const SpindleSpeed speed{0.25};  // four teeth: delay 2 pi
    struct Edge {
        int k;
        double stiffness;  // w^2 = d - b
    };
    for (const Edge& edge : {Edge{1, 0.02}, Edge{1, 0.1}, Edge{1, 0.2}, Edge{1, 0.6}, Edge{1, 0.9},
                             Edge{3, 1.2}, Edge{3, 1.9}, Edge{3, 2.6}, Edge{3, 3.5}}) {
        const double b = (edge.k * edge.k / 4.0 - edge.stiffness) / 2;
        const auto radius = [&](double share) {
            return largest_multiplier(scalar_delay_system(edge.stiffness + share * b, share * b),
                                      speed, 1.0, 1e-9);
        };
        EXPECT_NEAR(radius(1).value.real(), -1, 1e-8) << edge.stiffness;
        EXPECT_NEAR(radius(1).value.imag(), 0, 1e-7) << edge.stiffness;
        EXPECT_LT(radius(0.98).radius(), 1) << edge.stiffness;
        EXPECT_GT(radius(1.02).radius(), 1) << edge.stiffness;
    }
}

// Smallest |det(1 - A (1 - 1/mu) G(s))| over the branches of s = ln mu / tau, for constant A.
double characteristic(const DelaySystem& system, const Eigen::Matrix3d& directional,
                      std::complex<double> multiplier, double tau) {
    double least = 1e9;
    for (int k = -40; k <= 40; ++k) {
        const std::complex<double> s =
            (std::log(multiplier) + std::complex<double>(0, 2 * std::numbers::pi * k)) / tau;
        Eigen::Matrix3cd receptance = system.receptance.residual.cast<std::complex<double>>();
        for (const ModalTerm& term : system.receptance.terms) {
            const double w = term.frequency.radians_per_second;
            receptance += (term.shape * term.shape.transpose()).cast<std::complex<double>>() /
                          (s * s + 2.0 * term.damping_ratio * w * s + w * w);
        }
        const Eigen::Matrix3cd loop =
            Eigen::Matrix3cd::Identity() - directional * receptance * (1.0 - 1.0 / multiplier);
        least = std::min(least, std::abs(loop.determinant()));
    }
    return least;
}

TEST(Floquet, SlotWithFourTeethObeysTheCharacteristicEquation) {
    // Straight flutes, four teeth: A does not depend on time.
    const DelaySystem system = m1_system(0, 1.0);
    for (const double rpm : {2400.0, 4800.0, 9900.0}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm);
        const Multiplier got = largest_multiplier(system, speed, 0.2e-3, 1e-9);
        EXPECT_LT(characteristic(system, directional_matrix(system, 1.0, 0.2e-3), got.value,
                                 60 / (rpm * 4)),
                  1e-6)
            << rpm;
    }
}

TEST(Floquet, AtOneAxialPitchOfDepthTheHelixMakesTheCutConstant) {
    // When the depth is the axial pitch 2 pi R/(N tan helix), as many edges enter as leave
    // (M. Zatarain et al., CIRP Annals 55/1 (2006), memory).
    const DelaySystem system = m1_system(38, 0.06);
    const double pitch = 2 * std::numbers::pi * 0.006 / (4 * std::tan(system.cutter.helix));
    const Eigen::Matrix3d directional = directional_matrix(system, 0.3, pitch);
    EXPECT_LT((directional_matrix(system, 1.1, pitch) - directional).norm(),
              1e-9 * directional.norm());
    const Multiplier got = largest_multiplier(system, SpindleSpeed::from_rpm(4000), pitch, 1e-8);
    EXPECT_LT(characteristic(system, directional, got.value, 60 / 16000.0), 1e-6);
}

TEST(Floquet, WithHardlyAnyDepthFreeVibrationIsLeft) {
    const Multiplier got =
        largest_multiplier(m1_system(38, 0.06), SpindleSpeed::from_rpm(6000), 1e-9);
    const double tau = 60 / (6000.0 * 4);  // least damped per second: 310 Hz, 0.028
    EXPECT_NEAR(got.radius(), std::exp(-0.028 * 2 * std::numbers::pi * 310 * tau), 1e-6);
}

TEST(Floquet, UpAndDownMillingAreAlikeWhenAllDirectionsAre) {
    for (const double immersion : {0.05, 0.5}) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(7100);
        EXPECT_NEAR(
            largest_multiplier(benchmark_system(2, immersion, Milling::up), speed, 1e-3).radius(),
            largest_multiplier(benchmark_system(2, immersion, Milling::down), speed, 1e-3).radius(),
            1e-7);
    }
}

TEST(Floquet, AFarModeAndAResidualComplianceAreTheSame) {
    for (const double helix : {0.0, 38.0}) {
        DelaySystem with_mode = m1_system(helix, 0.2);
        DelaySystem with_residual = with_mode;
        with_mode.receptance =
            sum(with_mode.receptance, reference::receptance_of({{40000, 0.1, 3e7, 0.6, -0.8}}));
        const Eigen::Vector3d direction(0.6, -0.8, 0);
        with_residual.receptance.residual = direction * direction.transpose() / 3e7;
        const SpindleSpeed speed = SpindleSpeed::from_rpm(9900);
        const double far = largest_multiplier(with_mode, speed, 0.5e-3).radius();
        const double still = largest_multiplier(with_residual, speed, 0.5e-3).radius();
        const double without = largest_multiplier(m1_system(helix, 0.2), speed, 0.5e-3).radius();
        EXPECT_NEAR(far, still, 0.05 * std::abs(still - without)) << helix;
        EXPECT_GT(std::abs(still - without), 1e-3) << "the residual matters here";
    }
}

TEST(Floquet, ErrorFallsQuicklyWithThePoints) {
    // Every two points more in each piece gain at least a factor of ten.
    const DelaySystem system = m1_system(38, 0.06);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(4400);
    const std::complex<double> exact = largest_multiplier(PeriodMap(system, speed, 2e-3, 12)).value;
    double before = 1;
    for (const double margin : {1.0, 3.0, 5.0}) {
        const double error =
            std::abs(largest_multiplier(PeriodMap(system, speed, 2e-3, margin)).value - exact);
        EXPECT_LT(error, 0.1 * before) << margin;
        before = error;
    }
    EXPECT_LT(before, 1e-4);
}

TEST(Floquet, AMotionThatTheCutStiffensIsNotOverlookedByCoarseMaps) {
    // Slot, far above the limit: two coarse maps agree on a slower motion. Converged: 1.013871.
    const DelaySystem slot = benchmark_system(1, 1.0, Milling::down);
    const SpindleSpeed speed = SpindleSpeed::from_rpm(9215);
    const double converged = largest_multiplier(PeriodMap(slot, speed, 3.1e-3, 14)).radius();
    EXPECT_NEAR(largest_multiplier(slot, speed, 3.1e-3).radius(), converged, 1e-5);
}

TEST(Floquet, RefusesNonsenseByName) {
    const DelaySystem system = benchmark_system(1, 0.1, Milling::down);
    EXPECT_THROW(largest_multiplier(system, SpindleSpeed{0}, 1e-3), std::domain_error);
    EXPECT_THROW(largest_multiplier(system, SpindleSpeed::from_rpm(6000), -1e-3),
                 std::domain_error);
    DelaySystem still = system;
    still.receptance.terms[0].frequency = {0};
    EXPECT_THROW(largest_multiplier(still, SpindleSpeed::from_rpm(6000), 1e-3), std::domain_error);
}

}  // namespace
}  // namespace standfast
