#include "fea/solution/line_receptance.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "fea/solution/complex_modes.hpp"
#include "fea/solution/receptance.hpp"
#include "fea/solution/statics.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {
namespace {

// A clamped steel rod on a lossy spring: two members whose loss factors differ tenfold.
struct Rod {
    AssembledSystem system;
    std::vector<double> point = line_points(0.08, 7);
    std::vector<MaterialPoint> points;
};

Rod rod(double spring_loss) {
    Rod result;
    StructureModel model;
    const Material steel{
        .youngs_modulus = 210e9, .poissons_ratio = 0.3, .density = 7850, .loss_factor = 0.01};
    model.members = {{.name = "spring"}, {.name = "rod"}};
    model.nodes.emplace_back(0, 0, 0.2);
    model.joints.push_back({.member = 0,
                            .below = {.node = kGround, .arm = {0, 0, 0.2}},
                            .above = {.node = 0},
                            .translation = {4e7, 5e7, 2e8},
                            .rotation = {4e5, 5e5, 2e5},
                            .loss_factor = spring_loss});
    double z = 0.2;
    const auto down_to = [&](double next) {
        model.nodes.emplace_back(0, 0, next);
        BeamRun run;
        run.member = 1;
        run.material = steel;
        run.section = solid_round(0.02, 0.3);
        run.start = {.node = static_cast<int>(model.nodes.size()) - 2};
        run.end = {.node = static_cast<int>(model.nodes.size()) - 1};
        model.beams.push_back(run);
        z = next;
    };
    for (auto height = result.point.rbegin(); height != result.point.rend(); ++height) {
        down_to(*height);
    }
    for (std::size_t k = 0; k < result.point.size(); ++k) {
        result.points.push_back({.node = static_cast<int>(model.nodes.size() - 1 - k)});
    }
    result.system = assemble(model);
    return result;
}

LineReceptance line_of(const Rod& of, int count) {
    return line_receptance(of.system, modes(of.system, count), of.point,
                           point_displacements(of.system, of.points));
}

TEST(LineReceptance, ItsStaticComplianceIsThatOfEveryPoint) {
    const Rod one = rod(0.1);
    const LineReceptance line = line_of(one, 8);
    for (std::size_t k = 0; k < one.point.size(); ++k) {
        const ModalReceptance here =
            along_edge(line, {.height = {one.point[k]}}, 0, one.point.back(), false);
        const Eigen::Matrix3d found = static_compliance(here);
        const Eigen::Matrix3d wanted = point_compliance(one.system, one.points[k]);
        EXPECT_LT((found - wanted).norm(), 1e-9 * wanted.norm()) << one.point[k];
    }
}

// Between the points the polynomial serves: a node there must show what it says.
TEST(LineReceptance, BetweenItsPointsIsThatOfABeamsDeflection) {
    const Rod one = rod(0.1);
    const LineReceptance line = line_of(one, 8);
    LineReceptance fewer = line;
    const auto compliance = [&](double z) {
        return static_compliance(along_edge(line, {.height = {z}}, 0, 0.08, false))(0, 0);
    };
    // Under a unit force at the tip a beam's deflection is cubic; between equal steps its fourth
    // difference along the edge vanishes but for shear and the force's own place.
    const double a = compliance(0.010), b = compliance(0.012), c = compliance(0.014);
    EXPECT_GT(a, b);
    EXPECT_GT(b, c);
    EXPECT_NEAR(b, (a + c) / 2, 2e-3 * b);
}

TEST(LineReceptance, ModesOfOneLossFactorAreReal) {
    for (const LineMode& mode : line_of(rod(0.01), 6).modes) {
        EXPECT_LT(mode.shape.imag().norm(), 1e-6 * mode.shape.norm());
        EXPECT_NEAR(mode.damping_ratio, 0.005, 2e-5);
    }
}

// The direct solve has structural damping, the modes viscous: of a viscous mode the phase lags by
// the damping ratio less. With that put back, complex modes follow the direct solve where loss
// factors differ tenfold, and real ones with it do not.
TEST(LineReceptance, ComplexModesFollowTheDirectSolveButForTheKindOfDamping) {
    const Rod one = rod(0.15);
    const LineReceptance line = line_of(one, 10);
    const DirectReceptance direct(one.system, one.points.front());
    const ModalReceptance tip = along_edge(line, {.height = {0.0}}, 0, 0.08, false);
    const auto structural = [&](ModalReceptance receptance, bool real) {
        for (ModalTerm& term : receptance.terms) {
            const double z = term.damping_ratio;
            const std::complex<double> s(std::sqrt(1 - z * z), z);
            ComplexEdgeVector shape = term.shape.cast<std::complex<double>>();
            if (!real && term.out_of_phase.size() > 0) {
                shape += std::complex<double>(0, 1) * term.out_of_phase;
            }
            shape *= std::sqrt(s.real() / s);
            term.shape = shape.real();
            term.out_of_phase = shape.imag();
        }
        receptance.residual += static_compliance(tip) - static_compliance(receptance);
        return receptance;
    };
    const ModalReceptance with_phases = structural(tip, false), real = structural(tip, true);
    double of_complex = 0, of_real = 0;
    for (std::size_t m = 0; m < 4; ++m) {
        for (const double off : {0.985, 1.0, 1.015}) {
            const AngularFrequency w{off * line.modes[m].frequency.radians_per_second};
            const Eigen::Matrix3cd wanted = direct.at(w);
            const auto error = [&](const ModalReceptance& by) {
                return (receptance_at(by, w) - wanted).norm() / wanted.norm();
            };
            of_complex = std::max(of_complex, error(with_phases));
            of_real = std::max(of_real, error(real));
        }
    }
    EXPECT_LT(of_complex, 0.012);
    EXPECT_GT(of_real, 2 * of_complex);
}

TEST(LineReceptance, TurnedIntoOtherAxesIsTheSameReceptance) {
    const Rod one = rod(0.1);
    const LineReceptance line = line_of(one, 6);
    Eigen::Matrix3d axes;
    axes << 0.6, -0.8, 0, 0.8, 0.6, 0, 0, 0, 1;
    const EdgeBasis basis{.height = gauss_heights(2, 0.03)};
    const AngularFrequency w{7000};
    const Eigen::MatrixXcd turned =
        receptance_at(along_edge(in_axes(line, axes), basis, 0, 0.03, false), w);
    const Eigen::MatrixXcd wanted =
        receptance_at(in_axes(along_edge(line, basis, 0, 0.03, false), axes), w);
    EXPECT_LT((turned - wanted).norm(), 1e-9 * wanted.norm());
}

}  // namespace
}  // namespace standfast
