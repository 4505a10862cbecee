#include "fea/cutting/forces.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <complex>
#include <numbers>

namespace standfast {
namespace {

constexpr double pi = std::numbers::pi;

RigidCut plain_cut(Milling milling, double immersion, double helix_degrees = 0) {
    RigidCut cut;
    cut.cutter.diameter = 0.012;
    cut.cutter.helix = helix_degrees * pi / 180;
    cut.cutter.tooth_angle = {0, pi / 2, pi, 1.5 * pi};
    cut.engagement = engagement(milling, immersion * 0.012, 0.012);
    cut.law.tangential = 1800e6;
    cut.law.radial = 700e6;
    cut.law.axial = 300e6;
    cut.law.tangential_edge = 25e3;
    cut.law.radial_edge = 30e3;
    cut.law.axial_edge = 5e3;
    cut.feed_per_tooth = 0.08e-3;
    cut.depth = 3e-3;
    return cut;
}

/// The same force by brute force: the edge in many points, the formulas of a general end mill
/// written out for one point. Corner: lead angle from the height; runout: the tooth's chip is what
/// any tooth before it left.
Eigen::Vector3d summed_along_edge(const RigidCut& cut, double phi, int points) {
    const CutterGeometry& cutter = cut.cutter;
    const int teeth = cutter.teeth();
    const double corner = cutter.corner_radius;
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (int tooth = 0; tooth < teeth; ++tooth)
        for (int i = 0; i < points; ++i) {
            const double height = cut.depth * (i + 0.5) / points;
            const double cosine = height < corner ? 1 - height / corner : 0;
            const double sine = std::sqrt(1 - cosine * cosine);
            double angle = phi - cutter.tooth_angle[std::size_t(tooth)] -
                           std::tan(cutter.helix) / (cutter.diameter / 2) * height;
            angle -= 2 * pi * std::floor(angle / (2 * pi));
            if (angle < cut.engagement.entry || angle > cut.engagement.exit) continue;
            double chip = 1;
            for (int back = 1; back <= teeth; ++back) {
                const int other = ((tooth - back) % teeth + teeth) % teeth;
                double turned =
                    cutter.tooth_angle[std::size_t(tooth)] - cutter.tooth_angle[std::size_t(other)];
                if (turned <= 0) turned += 2 * pi;
                double left = cut.feed_per_tooth * teeth * turned / (2 * pi) * std::sin(angle);
                if (!cutter.runout.empty())
                    left += cutter.runout[std::size_t(tooth)] - cutter.runout[std::size_t(other)];
                chip = std::min(chip, left);
            }
            if (chip <= 0) continue;
            chip *= sine;
            const double width = cut.depth / points / sine;
            const double ft = (cut.law.tangential * chip + cut.law.tangential_edge) * width;
            const double fr = (cut.law.radial * chip + cut.law.radial_edge) * width;
            const double fa = (cut.law.axial * chip + cut.law.axial_edge) * width *
                              (cutter.pulled_to_tip ? 1 : -1);
            const double c = std::cos(angle), s = std::sin(angle);
            sum +=
                Eigen::Vector3d(-ft * c - fr * s * sine - fa * s * cosine,
                                ft * s - fr * c * sine - fa * c * cosine, fr * cosine - fa * sine);
        }
    return sum;
}

TEST(MeanForce, MatchesTheTableOfMeanForces) {
    // Formula of Y. Altintas, Manufacturing Automation (from memory), values computed outside this
    // code and checked by quadrature; N. There Fz is printed against the pull: toward +z.
    struct Row {
        Milling milling;
        double immersion, fx, fy, fz;
    };
    for (const Row& row : {Row{Milling::slot, 1, -282.59156, 527.49297, 121.67325},
                           Row{Milling::up, 0.5, -326.5521, 152.9746, 60.8366},
                           Row{Milling::down, 0.5, 43.9606, 374.5183, 60.8366},
                           Row{Milling::down, 0.1, 57.9489, 85.6612, 15.3123},
                           Row{Milling::up, 0.05, -55.8091, -22.2851, 8.8907}})
        for (const double helix : {0.0, 38.0, -30.0}) {  // helix does not change the mean
            const Eigen::Vector3d mean = mean_force(plain_cut(row.milling, row.immersion, helix));
            EXPECT_NEAR(mean.x(), row.fx, 6e-5) << helix;
            EXPECT_NEAR(mean.y(), row.fy, 6e-5) << helix;
            EXPECT_NEAR(-mean.z(), row.fz, 6e-5) << helix;
        }
}

TEST(RigidForce, ClosedFormAlongAHelixIsTheSumOverTheEdge) {
    for (const double helix : {38.0, -25.0, 5.0}) {
        RigidCut cut = plain_cut(Milling::down, 0.3, helix);
        cut.depth = 18e-3;  // more than one tooth in the cut, wrapping past a full turn
        for (const double phi : {0.0, 0.9, 2.2, 3.14, 4.0, 5.9, 100.3}) {
            const Eigen::Vector3d brute = summed_along_edge(cut, phi, 20000);
            EXPECT_LT((rigid_force(cut, phi) - brute).norm(), 2e-3 * (1 + brute.norm()))
                << helix << " deg, phi " << phi;
        }
    }
}

TEST(RigidForce, AVanishingHelixTendsToTheStraightEdge) {
    const RigidCut straight = plain_cut(Milling::down, 0.3);
    for (const double helix : {1e-3, 1e-6, 1e-9, 1e-11}) {
        const RigidCut cut = plain_cut(Milling::down, 0.3, helix);
        const Eigen::Vector3d expected = rigid_force(straight, 2.6);
        EXPECT_LT((rigid_force(cut, 2.6) - expected).norm(), (1e-6 + helix) * expected.norm());
    }
}

TEST(RigidForce, OppositeHelixTurnsTheAxialForceAlone) {
    RigidCut cut = plain_cut(Milling::slot, 1);
    const Eigen::Vector3d pulled = rigid_force(cut, 1.1);
    cut.cutter.pulled_to_tip = false;
    const Eigen::Vector3d pushed = rigid_force(cut, 1.1);
    EXPECT_LT(pulled.z(), 0);
    EXPECT_NEAR(pushed.z(), -pulled.z(), 1e-12);
    EXPECT_NEAR(pushed.x(), pulled.x(), 1e-12);
}

TEST(RigidForce, RepeatsEveryToothPeriodAndAddsUpItsTeeth) {
    const RigidCut cut = plain_cut(Milling::down, 0.4, 30);
    const double period = force_period(cut.cutter);
    EXPECT_NEAR(period, pi / 2, 1e-15);
    EXPECT_LT((rigid_force(cut, 0.7) - rigid_force(cut, 0.7 + 3 * period)).norm(), 1e-9);
    Eigen::Vector3d sum = Eigen::Vector3d::Zero();
    for (int tooth = 0; tooth < 4; ++tooth) sum += value_at(rigid_force_sum(cut, tooth), 0.7);
    EXPECT_LT((rigid_force(cut, 0.7) - sum).norm(), 1e-10);
}

TEST(RigidForce, PowerOfTheCutIsTorqueTimesSpeed) {
    // Work per revolution: 2 pi R mean(Ft); the tangential law alone gives it from chip volume and
    // rubbed length, whatever the helix: Ktc N fz ap ae + Kte N ap R (exit - entry).
    RigidCut cut = plain_cut(Milling::down, 0.25, 42);
    cut.law.radial = cut.law.radial_edge = 0;
    const double radius = 0.006;
    double work = 0;
    const int samples = 4000;
    for (int i = 0; i < samples; ++i) {
        // Without a radial part the resultant of one straight tooth would be Ft; along a helix
        // take it tooth by tooth from thin slices of the edge.
        const double phi = 2 * pi * i / samples;
        RigidCut slice = cut;
        slice.cutter.helix = 0;
        work += value_at(rigid_force_sum(slice, 0), phi).head<2>().norm() * 4;
    }
    work *= 2 * pi * radius / samples;
    const double expected = 1800e6 * 4 * 0.08e-3 * 3e-3 * 0.25 * 0.012 +
                            25e3 * 4 * 3e-3 * radius * (cut.engagement.exit - cut.engagement.entry);
    EXPECT_NEAR(work, expected, 2e-3 * expected);
}

TEST(PeakForce, IsTheLargestOfManySamples) {
    for (const double helix : {0.0, 12.0, 38.0})
        for (const Milling milling : {Milling::up, Milling::down}) {
            RigidCut cut = plain_cut(milling, 0.2, helix);
            cut.depth = 9e-3;
            double sampled = 0;
            const int samples = 20000;
            for (int i = 0; i < samples; ++i)
                sampled = std::max(sampled, rigid_force(cut, pi / 2 * i / samples).norm());
            const double peak = peak_force(cut).norm();
            EXPECT_GE(peak, sampled * (1 - 1e-12));
            EXPECT_LE(peak, sampled * (1 + 1e-3));
        }
}

TEST(ForceHarmonics, AddUpToTheForce) {
    // With helix the force is continuous and its harmonics fall fast.
    const RigidCut cut = plain_cut(Milling::down, 0.3, 38);
    const ForceHarmonics harmonics = force_harmonics(cut, 400);
    EXPECT_EQ(harmonics.base_per_revolution, 4);
    ASSERT_EQ(harmonics.coefficient.size(), 401U);
    for (const double phi : {0.3, 0.8, 1.3}) {
        Eigen::Vector3d sum = harmonics.coefficient[0].real();
        for (int k = 1; k <= 400; ++k)
            sum +=
                2 * (harmonics.coefficient[std::size_t(k)] * std::polar(1.0, 4 * k * phi)).real();
        EXPECT_LT((sum - rigid_force(cut, phi)).norm(), 1e-3 * sum.norm()) << phi;
    }
}

TEST(ForceHarmonics, OfAStraightEdgeMatchQuadrature) {
    // Midpoint quadrature of the single tooth over its own engagement, no jumps inside.
    const RigidCut cut = plain_cut(Milling::up, 0.4);
    const ForceHarmonics harmonics = force_harmonics(cut, 7);
    const int samples = 20000;
    for (int k : {0, 1, 7}) {
        Eigen::Vector3cd sum = Eigen::Vector3cd::Zero();
        for (int i = 0; i < samples; ++i) {
            const double phi = cut.engagement.exit * (i + 0.5) / samples;
            sum += value_at(rigid_force_sum(cut, 0), phi).cast<std::complex<double>>() *
                   std::polar(1.0, -4 * k * phi);
        }
        sum *= 4 * cut.engagement.exit / samples / (2 * pi);
        EXPECT_LT((sum - harmonics.coefficient[std::size_t(k)]).norm(), 1e-6 * sum.norm()) << k;
    }
}

// ---- runout and uneven pitch -------------------------------------------------------------------

TEST(Runout, ForceIsThatOfWhatEveryToothFindsLeft) {
    // Small runout thickens and thins chips; large runout takes teeth out of the cut.
    for (const double eccentricity : {5e-6, 60e-6, 300e-6}) {
        RigidCut cut = plain_cut(Milling::down, 0.3, 30);
        for (const double angle : cut.cutter.tooth_angle)
            cut.cutter.runout.push_back(eccentricity * std::cos(angle + 0.4));
        for (const double phi : {0.1, 1.7, 2.9, 3.3, 4.4, 6.0}) {
            const Eigen::Vector3d brute = summed_along_edge(cut, phi, 20000);
            EXPECT_LT((rigid_force(cut, phi) - brute).norm(), 1e-3 * (1 + brute.norm()))
                << eccentricity << " " << phi;
        }
    }
}

TEST(Runout, RemovesTheSameMetalWhileNoToothMissesItsCut) {
    // Shifting the axis moves chips between teeth; the sum over a revolution is feed times area.
    RigidCut cut = plain_cut(Milling::slot, 1, 30);
    cut.law.tangential_edge = cut.law.radial_edge = cut.law.axial_edge = 0;
    cut.engagement = {pi / 6, 5 * pi / 6, Milling::slot};  // where the chip exceeds the runout
    const Eigen::Vector3d plain = mean_force(cut);
    cut.cutter.runout = {8e-6, 3e-6, -8e-6, -3e-6};
    EXPECT_LT((mean_force(cut) - plain).norm(), 1e-9 * plain.norm());
    EXPECT_GT(peak_force(cut).norm(), 0);
    EXPECT_NEAR(force_period(cut.cutter), 2 * pi, 1e-14);
    EXPECT_EQ(force_harmonics(cut, 2).base_per_revolution, 1);
}

TEST(Runout, FarOutOneToothDoesAllTheWork) {
    RigidCut cut = plain_cut(Milling::down, 0.3);
    cut.cutter.runout = {1e-3, 0, 0, 0};
    RigidCut single = cut;
    single.cutter.tooth_angle = {0};
    single.cutter.runout.clear();
    single.feed_per_tooth = 4 * cut.feed_per_tooth;
    EXPECT_LT((mean_force(cut) - mean_force(single)).norm(), 1e-9 * mean_force(single).norm());
}

TEST(UnevenPitch, SharesTheFeedByAngle) {
    RigidCut cut = plain_cut(Milling::down, 0.3, 30);
    cut.cutter.tooth_angle = {0, 1.4, pi, pi + 1.8};
    for (const double phi : {0.2, 1.5, 2.7, 4.9}) {
        const Eigen::Vector3d brute = summed_along_edge(cut, phi, 20000);
        EXPECT_LT((rigid_force(cut, phi) - brute).norm(), 1e-3 * (1 + brute.norm())) << phi;
    }
    const Eigen::Vector3d even = mean_force(plain_cut(Milling::down, 0.3, 30));
    EXPECT_LT((mean_force(cut) - even).norm(), 1e-9 * even.norm());
}

// ---- corner radius and ball
// ----------------------------------------------------------------------

TEST(Nose, ASmallCornerRadiusTendsToTheSquareCorner) {
    // The edge law rubs along the arc, pi/2 r instead of r: the change goes with the radius.
    const Eigen::Vector3d square = rigid_force(plain_cut(Milling::slot, 1, 30), 1.2);
    double before = 1;
    for (const double radius : {100e-6, 10e-6, 1e-6}) {
        RigidCut cut = plain_cut(Milling::slot, 1, 30);
        cut.cutter.corner_radius = radius;
        const double change = (rigid_force(cut, 1.2) - square).norm() / square.norm();
        EXPECT_LT(change, 0.2 * before);
        before = change;
    }
    EXPECT_LT(before, 3e-4);
}

TEST(Nose, ABallInASlotMatchesQuadratureAlongItsEdge) {
    RigidCut cut = plain_cut(Milling::slot, 1, 30);
    cut.cutter.corner_radius = 0.006;
    for (const double depth : {0.4e-3, 3e-3, 6e-3, 8e-3}) {
        cut.depth = depth;
        for (const double phi : {0.4, 1.2}) {
            const Eigen::Vector3d brute = summed_along_edge(cut, phi, 400000);
            EXPECT_LT((rigid_force(cut, phi) - brute).norm(), 2e-3 * brute.norm())
                << depth << " " << phi;
        }
    }
}

TEST(Nose, SlicesConvergeWithTheSquareOfTheirNumber) {
    // Of a chip integral over a quarter arc: the sum of db sin k over the slices tends to r.
    CutterGeometry cutter;
    cutter.diameter = 0.012;
    cutter.corner_radius = 0.006;
    const auto error = [&](int count) {
        double sum = 0;
        for (const EdgeSlice& slice : edge_slices(cutter, 0.006, count))
            sum += slice.lead_sine * slice.width_per_height * (slice.to - slice.from);
        return std::abs(sum / 0.006 - 1);
    };
    EXPECT_NEAR(std::log2(error(12) / error(24)), 2, 0.02);
    EXPECT_LT(error(24), 2.5e-4);
}

TEST(Nose, ABallCutsWithLiftNearItsTip) {
    // Near the tip the radial force points along the axis: it pushes the tool up (+z).
    RigidCut cut = plain_cut(Milling::slot, 1);
    cut.cutter.corner_radius = 0.006;
    cut.law.axial = cut.law.axial_edge = 0;
    cut.depth = 0.1e-3;
    EXPECT_GT(mean_force(cut).z(), 0);
}

TEST(Nose, TheEdgeIsAsLongAsItsArc) {
    CutterGeometry cutter;
    cutter.diameter = 0.012;
    cutter.corner_radius = 0.002;
    double length = 0, top = 0;
    for (const EdgeSlice& slice : edge_slices(cutter, 0.005)) {
        EXPECT_NEAR(slice.from, top, 1e-15);
        top = slice.to;
        length += slice.width_per_height * (slice.to - slice.from);
    }
    EXPECT_NEAR(top, 0.005, 1e-15);
    EXPECT_NEAR(length, pi / 2 * 0.002 + 0.003, 1e-12);
}

TEST(RigidForce, RefusesWhatIsNoCut) {
    RigidCut cut = plain_cut(Milling::down, 0.3);
    cut.depth = -1e-3;
    EXPECT_THROW(rigid_force(cut, 0), std::domain_error);
    cut = plain_cut(Milling::down, 0.3);
    cut.feed_per_tooth = -1;
    EXPECT_THROW(mean_force(cut), std::domain_error);
    cut = plain_cut(Milling::down, 0.3);
    cut.cutter.tooth_angle.clear();
    EXPECT_THROW(peak_force(cut), std::domain_error);
    EXPECT_THROW(rigid_force(plain_cut(Milling::down, 0.3), std::nan("")), std::domain_error);
}

}  // namespace
}  // namespace standfast
