#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "fea/chatter/surface_error.hpp"

namespace standfast {

/// What a stable cut does across the wall at one spindle speed.
struct WallMotion {
    std::vector<double> error;  ///< m, along the heights asked for; > 0: cut too deep
    double largest_error = 0;   ///< m, of largest magnitude, with its sign
    double peak_to_peak = 0;    ///< m, wall-normal, tool minus part
};

/// stable_motion for hundreds of spindle speeds: the same equation and signs, the wall's normal
/// only. What does not depend on the speed (harmonics of the force on every mode, the residual's
/// part) is prepared once; peak-to-peak by a fast Fourier sum. Errors agree with stable_motion
/// within 1e-3 of the peak-to-peak motion, that itself within 1 % (measured in tests).
class WallMotions {
public:
    /// @param slowest  no speed below it will be asked for
    /// @param heights  m, from the tip, each in [0, depth]
    WallMotions(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed slowest,
                const std::vector<double>& heights);

    /// Several threads may call it at once.
    /// @throws std::domain_error below `slowest`, or where an undamped mode sits on a harmonic
    WallMotion at(SpindleSpeed speed) const;

private:
    struct Mode {
        double square = 0;                        ///< (rad/s)^2
        double damping = 0;                       ///< 2 zeta w_n, rad/s
        std::vector<std::complex<double>> drive;  ///< u_y (u . F_k) per harmonic
    };
    /// One pass of an edge over the wall: where, which height it makes, and how far it sticks out.
    struct Passage {
        double phi = 0, offset = 0, residual = 0;
        std::size_t height = 0;
    };

    std::vector<std::complex<double>> harmonics(double base) const;

    int base_per_revolution_ = 1;
    bool wall_at_plus_y_ = false;
    double slowest_ = 0, highest_mode_ = 0;
    std::size_t most_harmonics_ = 0, height_count_ = 0;
    std::vector<Mode> modes_;
    std::vector<Passage> passages_;
    std::vector<double> residual_;  ///< m, y of the residual's part over one period
};

}  // namespace standfast
