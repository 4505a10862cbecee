#include "fea/solution/modal_receptance.hpp"

#include <gtest/gtest.h>

#include <Eigen/Geometry>
#include <cmath>
#include <numbers>

namespace standfast {
namespace {

ModalReceptance two_modes() {
    ModalReceptance receptance;
    receptance.terms = {{AngularFrequency::from_hertz(400), 0.03, Eigen::Vector3d{0.9, 0.1, 0.2}},
                        {AngularFrequency::from_hertz(900), 0.02, Eigen::Vector3d{-0.2, 1.1, 0.3}}};
    receptance.residual << 2e-9, 1e-10, 0, 1e-10, 3e-9, 0, 0, 0, 1e-9;
    return receptance;
}

TEST(ModalReceptance, RealPartIsLeastWhereTlustyPutsIt) {
    // min Re G = -1/(4 k zeta (1 + zeta)) at w = wn sqrt(1 + 2 zeta), exact for viscous damping
    // (J. Tlusty; from memory, derived again for this test).
    const double stiffness = 2e7, damping = 0.03, wn = 2 * std::numbers::pi * 400;
    ModalReceptance receptance;
    receptance.terms = {{{wn}, damping, Eigen::Vector3d{wn / std::sqrt(stiffness), 0, 0}}};
    const auto real_at = [&](double w) { return receptance_at(receptance, {w})(0, 0).real(); };
    const double w = wn * std::sqrt(1 + 2 * damping);
    const double least = -1 / (4 * stiffness * damping * (1 + damping));
    EXPECT_NEAR(real_at(w), least, 1e-12 * std::abs(least));
    EXPECT_GT(real_at(w * 1.001), real_at(w));
    EXPECT_GT(real_at(w * 0.999), real_at(w));
}

TEST(ModalReceptance, LosesEnergyInEveryDirection) {
    // With exp(+i w t), Im(f^T G f) <= 0 for every force.
    for (const double hertz : {50.0, 400.0, 650.0, 900.0, 3000.0}) {
        const Eigen::Matrix3cd value =
            receptance_at(two_modes(), AngularFrequency::from_hertz(hertz));
        EXPECT_LT((value - value.transpose()).norm(), 1e-15 * value.norm());
        for (const Eigen::Vector3d& f :
             {Eigen::Vector3d(1, 0, 0), Eigen::Vector3d(1, -2, 0.5), Eigen::Vector3d(0, 0, 1)})
            EXPECT_LE((f.transpose() * value.imag() * f).value(), 0) << hertz;
    }
}

TEST(ModalReceptance, TendsToStaticComplianceAtRestAndToTheResidualFarAbove) {
    const ModalReceptance receptance = two_modes();
    EXPECT_LT((receptance_at(receptance, {0}).real() - static_compliance(receptance)).norm(),
              1e-15 * static_compliance(receptance).norm());
    const Eigen::Matrix3cd far = receptance_at(receptance, AngularFrequency::from_hertz(1e7));
    EXPECT_LT((far.real() - receptance.residual).norm(), 1e-5 * receptance.residual.norm());
}

TEST(ModalReceptance, TurnsWithItsAxesAndAddsUp) {
    const ModalReceptance receptance = two_modes();
    const Eigen::Matrix3d axes = (Eigen::AngleAxisd(0.7, Eigen::Vector3d::UnitZ()) *
                                  Eigen::AngleAxisd(-0.4, Eigen::Vector3d::UnitY()))
                                     .toRotationMatrix();
    const AngularFrequency w = AngularFrequency::from_hertz(420);
    const Eigen::Matrix3cd plain = receptance_at(receptance, w);
    const Eigen::Matrix3cd turned = receptance_at(in_axes(receptance, axes), w);
    // The displacement along a new axis under a force along a new axis.
    for (int i = 0; i < 3; ++i)
        for (int j = 0; j < 3; ++j) {
            const std::complex<double> seen =
                axes.col(i).cast<std::complex<double>>().dot(plain * axes.col(j));
            EXPECT_LT(std::abs(turned(i, j) - seen), 1e-14 * plain.norm());
        }
    EXPECT_LT((receptance_at(sum(receptance, receptance), w) - 2 * plain).norm(),
              1e-14 * plain.norm());
}

}  // namespace
}  // namespace standfast
