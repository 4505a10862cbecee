#include "fea/chatter/motion/surface_error.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <functional>
#include <limits>
#include <numbers>

#include "fea/chatter/equation/jump_response.hpp"
#include "fea/chatter/motion/steady_motion.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Harmonics = std::vector<ComplexEdgeVector>;

/// Motion by the modes, as harmonics of a base frequency beside what steps of the force leave,
/// plus the residual's part.
struct PeriodicMotion {
    int base_per_revolution = 1;
    Harmonics coefficient;
    JumpResponse jumps;
    double size = 0;  ///< m, largest harmonic of the whole
    EdgeMatrix residual = {};
    EdgeSum<Eigen::Vector3d> force;
};

/// d at the spindle angle phi, using the harmonics up to `count`.
EdgeVector motion_at(const PeriodicMotion& motion, double phi, std::size_t count) {
    const std::complex<double> turn = std::polar(1.0, motion.base_per_revolution * phi);
    std::complex<double> power = turn;
    EdgeVector sum = motion.coefficient[0].real() + motion.jumps.value_at(phi);
    for (std::size_t k = 1; k < count; ++k) {
        if (k % 64 == 0) {  // the running product would lose digits
            power = std::polar(1.0, static_cast<double>(k) * motion.base_per_revolution * phi);
        }
        sum += 2 * (motion.coefficient[k] * power).real();
        power *= turn;
    }
    if (!motion.residual.isZero(0)) sum += motion.residual * value_at(motion.force, phi);
    return sum;
}

ComplexEdgeVector modal_response(const std::vector<ModalTerm>& terms, double w,
                                 const ComplexEdgeVector& force) {
    ComplexEdgeVector answer = ComplexEdgeVector::Zero(force.size());
    for (const ModalTerm& term : terms) {
        if (term.out_of_phase.size() > 0) {
            const FirstOrderMode mode = first_order(term);
            const std::complex<double> iw(0, w), two_i(0, 2);
            const std::complex<double> ahead = (mode.shape.transpose() * force).value();
            const std::complex<double> behind = (mode.shape.adjoint() * force).value();
            answer += mode.shape * (ahead / (two_i * (iw - mode.pole)));
            answer -= mode.shape.conjugate() * (behind / (two_i * (iw - std::conj(mode.pole))));
            continue;
        }
        const double wn = term.frequency.radians_per_second;
        const std::complex<double> stiffness(wn * wn - w * w, 2 * term.damping_ratio * wn * w);
        if (stiffness == 0.0) {
            require_positive(term.damping_ratio, "stable_motion",
                             "damping of a mode on a harmonic of the force");
        }
        const std::complex<double> drive = (term.shape.transpose() * force).value();
        answer += term.shape.cast<std::complex<double>>() * (drive / stiffness);
    }
    return answer;
}

double highest_frequency(const std::vector<ModalTerm>& terms) {
    double highest = 0;
    for (const ModalTerm& term : terms) {
        highest = std::max(highest, term.frequency.radians_per_second);
    }
    return highest;
}

/// Harmonics past the last mode fall as 1/k^4 or faster, so what follows k is at most k/3 terms as
/// large, twice for +k and -k.
double tail_after(const Harmonics& coefficient, std::size_t k, std::size_t window) {
    double largest = 0;
    for (std::size_t i = k > window ? k - window : 1; i < k; ++i) {
        largest = std::max(largest, coefficient[i].norm());
    }
    return static_cast<double>(k) * largest;
}

PeriodicMotion periodic_motion(const ModalReceptance& receptance, const RigidCut& cut,
                               SpindleSpeed speed) {
    const std::size_t block = 32, most = 1 << 15;
    const double settled = 1e-5, smallest = 2e-11;
    PeriodicMotion motion{.base_per_revolution = 1,
                          .coefficient = {},
                          .jumps = {},
                          .size = 0,
                          .residual = receptance.residual,
                          .force = rigid_force_sum(cut)};
    motion.force.basis = receptance.basis;
    const double period = force_period(cut.cutter);
    motion.base_per_revolution = static_cast<int>(std::lround(2 * std::numbers::pi / period));
    const double w = motion.base_per_revolution * speed.radians_per_second;
    const bool alike = motion.base_per_revolution > 1;  // then one tooth speaks for all
    EdgeSum<Eigen::Vector3d> force = alike ? rigid_force_sum(cut, 0) : motion.force;
    force.basis = receptance.basis;
    const double copies = alike ? cut.cutter.teeth() : 1;
    motion.jumps = JumpResponse(force, receptance.terms, motion.base_per_revolution, w);
    const double past_modes = 2 * highest_frequency(receptance.terms) / w;
    while (motion.coefficient.size() < most) {
        const std::size_t done = motion.coefficient.size();
        for (std::size_t k = done; k < done + block; ++k) {
            const int order = static_cast<int>(k);
            ComplexEdgeVector response =
                modal_response(receptance.terms, static_cast<double>(k) * w,
                               copies * harmonic(force, order * motion.base_per_revolution));
            motion.size = std::max(motion.size, response.norm());
            if (k > 0) response -= motion.jumps.harmonic(order);
            motion.coefficient.push_back(response);
        }
        if (static_cast<double>(done + block) < past_modes) continue;
        const double enough = std::max(settled * motion.size, smallest);
        if (tail_after(motion.coefficient, done + block, block) < enough) break;
    }
    return motion;
}

/// Harmonics that matter to 1e-4 of the motion.
std::size_t significant(const PeriodicMotion& motion) {
    const Harmonics& coefficient = motion.coefficient;
    const double enough = 1e-4 * motion.size;
    double rest = 0;
    std::size_t count = coefficient.size();
    while (count > 2 && rest + 2 * coefficient[count - 1].norm() < enough) {
        rest += 2 * coefficient[--count].norm();
    }
    return count;
}

Eigen::Vector3d peak_to_peak(const PeriodicMotion& motion, const EdgeBasis& basis) {
    const std::size_t count = significant(motion);
    const std::size_t samples = std::clamp<std::size_t>(12 * count, 360, 20000);
    const double period = 2 * std::numbers::pi / motion.base_per_revolution;
    Eigen::Array3d low = Eigen::Array3d::Constant(std::numeric_limits<double>::infinity());
    Eigen::Array3d high = -low;
    for (std::size_t i = 0; i < samples; ++i) {
        const double phi = period * static_cast<double>(i) / static_cast<double>(samples);
        const Eigen::Array3d d = displacement_at(basis, motion_at(motion, phi, count), 0).array();
        low = low.min(d);
        high = high.max(d);
    }
    return high - low;
}

/// Overcut at one height: the deepest of the teeth as each makes the wall there.
double error_at(const RigidCut& cut, double height, const EdgeBasis& basis,
                const std::function<EdgeVector(double)>& displacement) {
    const bool up = cut.engagement.milling == Milling::up;
    const double wall_angle = (up ? 0 : std::numbers::pi) + lag_per_height(cut.cutter) * height;
    const bool alike = cut.cutter.evenly_spaced() && !cut.cutter.runs_out();
    double deepest = -std::numeric_limits<double>::infinity();
    for (std::size_t tooth = 0; tooth < cut.cutter.tooth_angle.size(); ++tooth) {
        const EdgeVector there = displacement(wall_angle + cut.cutter.tooth_angle[tooth]);
        const double y = displacement_at(basis, there, height).y();
        const double offset = cut.cutter.runout.empty() ? 0 : cut.cutter.runout[tooth];
        deepest = std::max(deepest, (up ? y : -y) + offset);
        if (alike) break;
    }
    return deepest;
}

std::vector<double> errors(const RigidCut& cut, const std::vector<double>& heights,
                           const EdgeBasis& basis,
                           const std::function<EdgeVector(double)>& displacement) {
    std::vector<double> error;
    for (const double height : heights) {
        require_between(height, 0, cut.depth, "surface error", "height above the tip");
        error.push_back(error_at(cut, height, basis, displacement));
    }
    return error;
}

StableMotion motion_of_unlike_teeth(const ModalReceptance& receptance, const RigidCut& cut,
                                    SpindleSpeed speed, const std::vector<double>& heights) {
    const SteadyMotion motion(prepare_motion(receptance, cut), speed);
    const bool up = cut.engagement.milling == Milling::up;
    StableMotion result;
    result.error = errors(cut, heights, receptance.basis,
                          [&](double phi) { return motion.displacement(phi, up); });
    for (const double error : result.error) {
        if (std::abs(error) > std::abs(result.largest_error)) result.largest_error = error;
    }
    result.peak_to_peak = displacement_at(receptance.basis, motion.peak_to_peak(), 0);
    result.mean = displacement_at(receptance.basis, motion.mean(), 0);
    return result;
}

}  // namespace

StableMotion stable_motion(const ModalReceptance& receptance, const RigidCut& cut,
                           SpindleSpeed speed, const std::vector<double>& heights) {
    require_positive(speed.radians_per_second, "stable_motion", "spindle speed");
    if (teeth_differ(cut)) return motion_of_unlike_teeth(receptance, cut, speed, heights);
    const PeriodicMotion motion = periodic_motion(receptance, cut, speed);
    StableMotion result;
    result.error = errors(cut, heights, receptance.basis, [&](double phi) {
        return motion_at(motion, phi, motion.coefficient.size());
    });
    for (const double error : result.error) {
        if (std::abs(error) > std::abs(result.largest_error)) result.largest_error = error;
    }
    result.peak_to_peak = peak_to_peak(motion, receptance.basis);
    const EdgeVector mean =
        motion.coefficient[0].real() + motion.residual * harmonic(motion.force, 0).real();
    result.mean = displacement_at(receptance.basis, mean, 0);
    return result;
}

std::vector<double> static_error(const EdgeMatrix& compliance, const RigidCut& cut,
                                 const std::vector<double>& heights, const EdgeBasis& basis) {
    EdgeSum<Eigen::Vector3d> force = rigid_force_sum(cut);
    force.basis = basis;
    return errors(cut, heights, basis,
                  [&](double phi) -> EdgeVector { return compliance * value_at(force, phi); });
}

std::vector<double> static_error(const ModalReceptance& receptance, const RigidCut& cut,
                                 const std::vector<double>& heights) {
    return static_error(static_compliance(receptance), cut, heights, receptance.basis);
}

}  // namespace standfast
