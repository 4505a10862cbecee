// Sums over the edge in the coordinates of several heights.
#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "fea/cutting/edge_law.hpp"
#include "fea/cutting/edge_sum.hpp"
#include "fea/cutting/forces.hpp"

namespace standfast {
namespace {

constexpr double kDepth = 0.018;

RigidCut cut_of(double helix, double corner) {
    RigidCut cut;
    cut.cutter.diameter = 0.012;
    cut.cutter.helix = helix;
    cut.cutter.corner_radius = corner;
    for (int tooth = 0; tooth < 3; ++tooth) {
        cut.cutter.tooth_angle.push_back(2 * std::numbers::pi * tooth / 3);
    }
    cut.engagement = engagement(Milling::down, 0.004, 0.012);
    cut.law = {.tangential = 8e8, .radial = 3e8, .axial = 2e8, .tangential_edge = 2e4};
    cut.feed_per_tooth = 5e-5;
    cut.depth = kDepth;
    return cut;
}

EdgeBasis three_heights(double lever) {
    return {.height = gauss_heights(3, kDepth), .lever = lever};
}

TEST(EdgeAlongHeight, ForcesOnAllHeightsAddUpToTheWholeForce) {
    for (const double helix : {0.0, 0.6, -0.4}) {
        for (const double corner : {0.0, 0.001}) {
            EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut_of(helix, corner));
            EdgeSum<Eigen::Vector3d> spread = force;
            spread.basis = three_heights(0);
            for (double phi = 0.1; phi < 6; phi += 0.37) {
                const EdgeVector parts = value_at(spread, phi);
                const Eigen::Vector3d sum =
                    parts.segment<3>(0) + parts.segment<3>(3) + parts.segment<3>(6);
                const Eigen::Vector3d whole = value_at(force, phi);
                EXPECT_LT((sum - whole).norm(), 1e-6 * (1 + whole.norm())) << helix << " " << phi;
            }
        }
    }
}

// The work on any motion along the edge is that of the force at each height, summed finely.
TEST(EdgeAlongHeight, TheirWorkIsThatOfTheForceAtEachHeightWithItsLever) {
    const double helix = 0.6, lever = 0.006, phi = 3.4;
    const RigidCut cut = cut_of(helix, 0);
    EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut);
    force.basis = three_heights(lever);
    const EdgeVector parts = value_at(force, phi);
    const EdgeVector motion = EdgeVector::LinSpaced(11, 0.3, 1.7);
    double work = 0;
    const int slices = 200000;
    const double lag = std::tan(helix) / 0.006;
    for (int k = 0; k < slices; ++k) {
        const double z = (k + 0.5) * kDepth / slices;
        for (const double tooth : cut.cutter.tooth_angle) {
            double angle = phi - tooth - lag * z;
            angle -= 2 * std::numbers::pi * std::floor(angle / (2 * std::numbers::pi));
            if (angle < cut.engagement.entry || angle > cut.engagement.exit) continue;
            const EdgeSlice slice{.from = 0, .to = kDepth};
            const Eigen::Vector3d f =
                value_at(force_per_height(cut.cutter, cut.law, slice, {cut.feed_per_tooth, 0}),
                         angle) *
                (kDepth / slices);
            Eigen::Vector3d d = displacement_at(force.basis, motion, z);
            d.z() -= lever * (std::sin(angle) * motion[9] + std::cos(angle) * motion[10]);
            work += f.dot(d);
        }
    }
    EXPECT_NEAR(parts.dot(motion), work, 2e-4 * std::abs(work));
}

TEST(EdgeAlongHeight, HarmonicsAreThoseOfTheCourseOverARevolution) {
    EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut_of(0.6, 0.001));
    force.basis = three_heights(0.006);
    const int samples = 4096;
    for (const int k : {0, 3, 12, 30}) {
        ComplexEdgeVector sum = ComplexEdgeVector::Zero(11);
        for (int i = 0; i < samples; ++i) {
            const double phi = 2 * std::numbers::pi * i / samples;
            sum += value_at(force, phi).cast<std::complex<double>>() * std::polar(1.0, -k * phi);
        }
        sum /= samples;
        const ComplexEdgeVector closed = harmonic(force, k);
        EXPECT_LT((closed - sum).norm(), 2e-3 * value_at(force, 3.0).norm()) << k;
    }
}

}  // namespace
}  // namespace standfast
