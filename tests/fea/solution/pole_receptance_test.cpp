#include "fea/solution/pole_receptance.hpp"

#include <gtest/gtest.h>

#include "fea/solution/receptance.hpp"
#include "fea/solution/statics.hpp"

namespace standfast {
namespace {

Material lossy_steel(double loss) {
    Material steel;
    steel.youngs_modulus = 205e9;
    steel.poissons_ratio = 0.3;
    steel.density = 7850;
    steel.loss_factor = loss;
    return steel;
}

/// A column on a soft, well damped joint, with a lighter one on top, as a stack is.
AssembledSystem two_columns() {
    StructureModel model;
    model.members = {
        {"joint", MemberKind::tier_joint}, {"low", MemberKind::tier}, {"high", MemberKind::tier}};
    model.nodes = {{0, 0, 0}, {0, 0, 0.15}, {0.01, 0, 0.30}};
    JointElement joint;
    joint.member = 0;
    joint.above = {0, Eigen::Vector3d::Zero()};
    joint.translation = {150e6, 120e6, 500e6};
    joint.rotation = {1e6, 1.5e6, 1e6};
    joint.loss_factor = 0.08;
    model.joints = {joint};
    BeamRun low, high;
    low.member = 1;
    low.start.node = 0;
    low.end.node = 1;
    low.section = rectangle(0.08, 0.10, 0.3);
    low.material = lossy_steel(0.01);
    high = low;
    high.member = 2;
    high.start.node = 1;
    high.end.node = 2;
    high.section = rectangle(0.03, 0.05, 0.3);
    high.material = lossy_steel(0.002);
    model.beams = {low, high};
    return assemble(model);
}

TEST(PoleReceptance, IsTheDirectSolveAtEveryFrequencyBelowHalfItsLastMode) {
    const AssembledSystem system = two_columns();
    const MaterialPoint point{2, {0.02, 0.01, 0}};
    const std::vector<Mode> kept = modes(system, 14);
    const PoleReceptance poles = pole_receptance(system, kept, point);
    const DirectReceptance direct(system, point);
    const double last = kept.back().frequency.hertz();
    for (double hertz = 10; hertz < last / 2; hertz *= 1.01) {
        const auto w = AngularFrequency::from_hertz(hertz);
        const Eigen::Matrix3cd expected = direct.at(w);
        EXPECT_LT((receptance_at(poles, w) - expected).norm(), 1e-3 * expected.norm())
            << hertz << " Hz of " << last;
    }
}

TEST(PoleReceptance, AtRestIsTheStaticCompliance) {
    const AssembledSystem system = two_columns();
    const MaterialPoint point{2, Eigen::Vector3d::Zero()};
    const Eigen::Matrix3cd at_rest =
        receptance_at(pole_receptance(system, modes(system, 6), point), {0});
    const Eigen::Matrix3d compliance = point_compliance(system, point);
    // Loss turns the compliance by the mean loss factor and shortens it by its square.
    EXPECT_LT((at_rest.real() - compliance).norm(), 1e-2 * compliance.norm());
    EXPECT_LT((at_rest - DirectReceptance(system, point).at({0})).norm(), 1e-6 * compliance.norm());
}

TEST(PoleReceptance, IsReciprocalAndDissipates) {
    const AssembledSystem system = two_columns();
    const MaterialPoint point{2, {0.02, 0.01, 0}};
    const PoleReceptance poles = pole_receptance(system, modes(system, 10), point);
    for (double hertz = 20; hertz < 5000; hertz *= 1.1) {
        const Eigen::Matrix3cd g = receptance_at(poles, AngularFrequency::from_hertz(hertz));
        EXPECT_LT((g - g.transpose()).norm(), 1e-9 * g.norm());
        for (int axis = 0; axis < 3; ++axis) EXPECT_LE(g(axis, axis).imag(), 0) << hertz;
    }
}

}  // namespace
}  // namespace standfast
