#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/chatter/cut_pieces.hpp"
#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/modal_state.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// What the chip feels of the displacement: y = W d, with A = P W.
struct Sensing {
    /// A straight, square-cornered tooth alone in the cut: one row, the chip itself.
    bool chip_alone = false;
    /// Otherwise: axes (0 x, 1 y, 2 z) along which the point can move and which the chip feels.
    std::vector<int> axes;
    Eigen::Index rows() const { return chip_alone ? 1 : static_cast<Eigen::Index>(axes.size()); }
};

Sensing sensing(const DelaySystem& system, const ModalState& modes);

/// The delay equation over one smooth cutting piece, at Gauss points. With z = y - y_before,
///     z = (1 - K P)^-1 (O s - y_before),   y = z + y_before,   s' = E s + B z
/// s: modal state at the piece's start; O: what it alone would show at the points; K: response of
/// the modes, integrated on twice as many points, so that only z itself must be resolved, and the
/// residual on its diagonal; E: free flight.
/// Rows of y and z: all points of the first row of W, then of the next. Fine points: those of
/// gauss_rule(points), as shares of the duration.
struct CutStep {
    double duration = 0;             ///< s
    int points = 0;                  ///< at which y is known
    Eigen::MatrixXd resolvent = {};  ///< (1 - K P)^-1
    Eigen::MatrixXd shown = {};      ///< (1 - K P)^-1 O
    Eigen::MatrixXd pushed = {};     ///< B
    Eigen::MatrixXd force = {};      ///< P of the fine points, N/m; 3 x fine rows
    Eigen::Index rows() const { return resolvent.rows(); }
};

/// @param directional  A by angle, all teeth (directional_sum)
/// @param piece        cutting, short enough for `points`; rad
CutStep cut_step(const EdgeSum<Eigen::Matrix3d>& directional, const ModalState& modes,
                 const Sensing& sensing, const CutPiece& piece, SpindleSpeed speed, int points);

}  // namespace standfast
