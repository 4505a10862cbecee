#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/cutting/forces.hpp"

namespace standfast {

/// Motion of a stable cut and what it leaves on the wall, at one spindle speed.
struct StableMotion {
    std::vector<double> error;  ///< m, along the heights asked for; > 0: cut too deep
    double largest_error = 0;   ///< m, of largest magnitude, with its sign
    Eigen::Vector3d peak_to_peak = Eigen::Vector3d::Zero();  ///< m, tool minus part, at the tip
    Eigen::Vector3d mean = Eigen::Vector3d::Zero();          ///< m, at the tip
};

/// Forced response of the period-one motion by harmonics, d_k = G(k w) F_k, at nominal engagement;
/// what the residual compliance adds follows the force at once and is added as such.
/// Along an edge the motion differs with height. The error at height z is -y there (down, slot) or
/// +y (up) when the edge at z passes phi = pi + kappa z or kappa z. Motion repeats each tooth, or
/// each revolution with runout or uneven pitch; then the tooth that cuts deepest makes the wall,
/// its runout counts, and the motion is the fixed point of the period map (steady_motion.hpp), in
/// which each tooth finds what the one before it left: as long as no tooth misses that would cut
/// without vibration, or the other way round, which in thin chips it soon does (settled_wall.hpp).
/// Harmonics are added until what is left is below 1e-5 of the motion or 20 pm; peak-to-peak is
/// good to 1e-3 of itself. The cut is taken to be stable: ask the limits first. A depth of 0 moves
/// nothing.
/// @param heights  m, from the tip, each in [0, depth]
/// @throws std::domain_error for a height outside the cut, a speed that is not positive, or modes
///         without damping on a harmonic of the force
/// Sources: T. L. Schmitz and J. Ziegert, Prec. Eng. 23 (1999); Schmitz and Mann, Int. J. Mach.
///          Tools Manuf. 46 (2006) 1369-1377 (method from memory).
StableMotion stable_motion(const ModalReceptance& receptance, const RigidCut& cut,
                           SpindleSpeed speed, const std::vector<double>& heights);

/// The same under forces so slow that only the static compliance answers (m; same heights).
/// @param compliance  relative, tool axes, m/N: of a point, or between the coordinates of `basis`
std::vector<double> static_error(const EdgeMatrix& compliance, const RigidCut& cut,
                                 const std::vector<double>& heights, const EdgeBasis& basis = {});
std::vector<double> static_error(const ModalReceptance& receptance, const RigidCut& cut,
                                 const std::vector<double>& heights);

}  // namespace standfast
