#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <vector>

#include "fea/chatter/motion/force_course.hpp"
#include "fea/chatter/motion/surface_error.hpp"

namespace standfast {

/// What a stable cut does across the wall at one spindle speed.
struct WallMotion {
    std::vector<double> error;  ///< m, along the heights asked for; > 0: cut too deep
    double largest_error = 0;   ///< m, of largest magnitude, with its sign
    double peak_to_peak = 0;    ///< m, wall-normal, tool minus part, where it is largest
    double waviness = 0;        ///< m, peak to valley along the feed (wall_marks.hpp), largest
};

/// stable_motion for hundreds of spindle speeds: the same equation and signs, the wall's normal
/// only. What does not depend on the speed (harmonics of the force on every mode, the residual's
/// part) is prepared once; peak-to-peak by a fast Fourier sum. Errors agree with stable_motion
/// within 1e-3 of the peak-to-peak motion, that itself within 1 % (measured in tests).
/// Where teeth differ, by runout or pitch, it follows the cut in time (settled_wall.hpp).
class WallMotions {
public:
    /// @param slowest  no speed below it will be asked for
    /// @param heights  m, from the tip, each in [0, depth]
    WallMotions(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed slowest,
                const std::vector<double>& heights);

    /// The same with a force that was prepared already.
    /// @param force  of this cut, these heights and the receptance's basis, with at least
    ///               harmonics_needed; not looked at where teeth differ
    WallMotions(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed slowest,
                const std::vector<double>& heights, const ForceCourse& force);

    /// Harmonics of the force, the mean included, that the answer is made of.
    static std::size_t harmonics_needed(const ModalReceptance& receptance, const RigidCut& cut,
                                        SpindleSpeed slowest);

    /// Several threads may call it at once.
    /// @throws std::domain_error below `slowest`, or where an undamped mode sits on a harmonic
    WallMotion at(SpindleSpeed speed) const;

private:
    /// First order, with its conjugate: y at height a is the sum over both of
    /// shape_a (shape . F)/(i w - pole)/2i.
    struct Mode {
        std::complex<double> pole;
        std::vector<std::complex<double>> shape;          ///< y at each height of the basis
        std::vector<std::complex<double>> ahead, behind;  ///< shape^T F_k/2i, conj(shape)^T F_k/2i
    };
    /// An edge over the wall at a height: where, by which weights of the basis's heights, and what
    /// the residual adds, m.
    struct Passage {
        double phi = 0;
        EdgeWeights weights{};
        double residual = 0;
    };
    using Harmonics = std::vector<std::array<std::complex<double>, kMostHeights>>;

    void meet_modes(const ForceCourse& force);
    void meet_residual(const ForceCourse& force);
    Harmonics harmonics(double base) const;
    double reach(const Harmonics& motion, const Passage& passage) const;
    double peak_to_peak(const Harmonics& motion, const Passage& passage,
                        const std::vector<double>& residual) const;

    int base_per_revolution_ = 1;
    bool wall_at_plus_y_ = false;
    double slowest_ = 0, highest_mode_ = 0;
    std::size_t most_harmonics_ = 0;
    std::vector<Mode> modes_;
    ModalReceptance receptance_;
    RigidCut cut_;
    std::vector<double> heights_;
    std::vector<Passage> passages_;  ///< per height
    std::array<Passage, 2> ends_;    ///< tip and top, for the peak-to-peak motion
    /// m, y of the residual's part over one period at both ends
    std::array<std::vector<double>, 2> residual_;
};

}  // namespace standfast
