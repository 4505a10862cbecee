#pragma once

#include <Eigen/Core>
#include <Eigen/LU>
#include <cmath>
#include <numbers>
#include <vector>

#include "fea/structure/element_parts.hpp"
#include "fea/structure/model.hpp"

// Bending frequencies of a straight chain by Timoshenko's equations themselves: no shape functions,
// no mass matrix, nothing shared with the elements of fea/structure.
namespace standfast::test {

/// Deflection, rotation, moment, shear force at a place of the chain, of a motion with omega.
/// S. P. Timoshenko, Phil. Mag. 41 (1921) 744-746 as four equations of first order (from memory):
///     v' = theta + V / (kappa G A)      theta' = M / (E I)
///     M' = -V - rho I omega^2 theta     V' = -rho A omega^2 v
/// Across a spring: v and theta jump by V / k, M / k_theta. Across a body: V and M fall by its
/// inertia.
class ExactChain {
public:
    /// A chain along z from the ground to a free end: every beam starts, and every joint is below,
    /// where the one before ends; bodies without arms. Bending in the x-z plane.
    explicit ExactChain(const StructureModel& model) : model_(model) {}

    /// The first of its frequencies, Hz, ascending: where the free end takes no force and no
    /// moment, found by the sign of the determinant on a grid from `from` on, by `ratio`.
    std::vector<double> frequencies(std::size_t count, double from, double ratio = 1.004) const {
        std::vector<double> found;
        double low = from;
        double at_low = mismatch(low);
        while (found.size() < count && low < 1e7 * from) {
            const double high = low * ratio;
            const double at_high = mismatch(high);
            if ((at_low < 0) != (at_high < 0)) found.push_back(root(low, high, at_low < 0));
            low = high;
            at_low = at_high;
        }
        return found;
    }

private:
    using State = Eigen::Matrix<double, 4, 2>;  ///< two motions: by a shear force, by a moment

    static Eigen::Matrix4d derivative(const Section& section, const Material& material,
                                      double square) {
        const double g = material.youngs_modulus / 2 / (1 + material.poissons_ratio);
        Eigen::Matrix4d slope = Eigen::Matrix4d::Zero();
        slope(0, 1) = 1;
        slope(0, 3) = 1 / (section.shear_coefficient_y * g * section.area);
        slope(1, 2) = 1 / (material.youngs_modulus * section.second_moment_z);
        slope(2, 1) = -material.density * section.second_moment_z * square;
        slope(2, 3) = -1;
        slope(3, 0) = -material.density * section.area * square;
        return slope;
    }

    /// Of constant coefficients: the exponential series, on a piece so short that it ends soon.
    static void cross(State& state, const Eigen::Matrix4d& slope, double length, int terms) {
        State term = state;
        for (int power = 1; power <= terms; ++power) {
            term = (slope * term * (length / power)).eval();
            state += term;
        }
    }

    void cross(State& state, const BeamRun& run, double square) const {
        const double length =
            (place_of(run.end, model_.nodes) - place_of(run.start, model_.nodes)).norm();
        const int pieces = run.taper ? 400 : 8;
        for (int piece = 0; piece < pieces; ++piece) {
            const Section section = run.taper ? run.taper((piece + 0.5) / pieces) : run.section;
            cross(state, derivative(section, run.material, square), length / pieces,
                  run.taper ? 8 : 24);
        }
    }

    static void cross(State& state, const JointElement& joint) {
        state.row(0) += state.row(3) / joint.translation.x();
        state.row(1) += state.row(2) / joint.rotation.y();
    }

    void add_bodies(State& state, int node, double square) const {
        for (const Lump& lump : model_.lumps) {
            if (lump.at.node != node) continue;
            state.row(3) -= lump.mass * square * state.row(0);
            state.row(2) -= lump.inertia(1, 1) * square * state.row(1);
        }
    }

    double mismatch(double hertz) const {
        const double square = std::pow(2 * std::numbers::pi * hertz, 2);
        State state;
        state << 0, 0, 0, 0, 0, 1, 1, 0;
        int node = kGround;
        for (bool onward = true; onward;) {
            onward = false;
            for (const JointElement& joint : model_.joints) {
                if (onward || joint.below.node != node) continue;
                cross(state, joint);
                node = joint.above.node;
                onward = true;
            }
            for (const BeamRun& run : model_.beams) {
                if (onward || run.start.node != node) continue;
                cross(state, run, square);
                node = run.end.node;
                onward = true;
            }
            if (onward) add_bodies(state, node, square);
        }
        return state.bottomRows<2>().determinant();
    }

    double root(double low, double high, bool negative_at_low) const {
        for (int halving = 0; halving < 40; ++halving) {
            const double middle = (low + high) / 2;
            ((mismatch(middle) < 0) == negative_at_low ? low : high) = middle;
        }
        return (low + high) / 2;
    }

    const StructureModel& model_;
};

}  // namespace standfast::test
