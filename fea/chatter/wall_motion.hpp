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

    /// Several threads may call it at once.
    /// @throws std::domain_error below `slowest`, or where an undamped mode sits on a harmonic
    WallMotion at(SpindleSpeed speed) const;

private:
    struct Mode {
        double square = 0;                        ///< (rad/s)^2
        double damping = 0;                       ///< 2 zeta w_n, rad/s
        std::vector<std::complex<double>> drive;  ///< u_y (u . F_k) per harmonic
    };
    /// An edge over the wall at a height: where, and what the residual adds, m.
    struct Passage {
        double phi = 0, residual = 0;
    };

    std::vector<std::complex<double>> harmonics(double base) const;
    double reach(const std::vector<std::complex<double>>& motion, const Passage& passage) const;
    double peak_to_peak(const std::vector<std::complex<double>>& motion) const;

    int base_per_revolution_ = 1;
    bool wall_at_plus_y_ = false;
    double slowest_ = 0, highest_mode_ = 0;
    std::size_t most_harmonics_ = 0;
    std::vector<Mode> modes_;
    ModalReceptance receptance_;
    RigidCut cut_;
    std::vector<double> heights_;
    std::vector<Passage> passages_;  ///< per height
    std::vector<double> residual_;   ///< m, y of the residual's part over one period
};

}  // namespace standfast
