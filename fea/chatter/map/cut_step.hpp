#pragma once

#include <Eigen/Core>
#include <vector>

#include "fea/chatter/equation/cut_pieces.hpp"
#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/equation/modal_state.hpp"
#include "fea/chatter/map/directional_course.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// What the cut feels of the displacement: y = W d, with A = P W; and where the flank rubs, of its
/// speed. Rows: all of the first height, then of the next.
struct Sensing {
    /// A straight, square-cornered tooth alone in the cut: one row a height, the chip itself.
    bool chip_alone = false;
    /// Otherwise: axes (0 x, 1 y, 2 z) along which the edge can move and which the chip feels.
    std::vector<int> axes;
    /// Process damping: rows of speed follow those of displacement, of the chip or along x and y.
    bool rubs = false;
    std::vector<int> rubbed_axes;
    int heights = 1;
    Eigen::Index per_height() const {
        return chip_alone ? 1 : static_cast<Eigen::Index>(axes.size());
    }
    Eigen::Index speeds_per_height() const {
        if (!rubs) return 0;
        return chip_alone ? 1 : static_cast<Eigen::Index>(rubbed_axes.size());
    }
    Eigen::Index rows() const { return heights * per_height(); }
    Eigen::Index speed_rows() const { return heights * speeds_per_height(); }
    Eigen::Index all_rows() const { return rows() + speed_rows(); }
};

/// @param apart  teeth with delays of their own: never the chip alone
Sensing sensing(const DelaySystem& system, const ModalState& modes, bool apart = false);

/// What acts in a piece, by the angle of tooth 0's tip.
struct PieceForces {
    const EdgeSum<Eigen::Matrix3d>&
        directional;                            ///< A, all teeth, N/m; not looked at with a course
    const DirectionalCourse* course = nullptr;  ///< A of equal teeth
    std::size_t piece = 0;                      ///< of the course
    double course_scale = 1;
    /// Force against the speed, N per (speed over cutting speed); not looked at unless it rubs.
    const EdgeSum<Eigen::Matrix3d>& rubbing;
    double cutting_speed = 1;  ///< m/s
    /// Parts of A with delays of their own; none: z below is what regenerates.
    std::vector<const EdgeSum<Eigen::Matrix3d>*> earlier = {};
    const EdgeSum<Eigen::Vector3d>* given = nullptr;  ///< a force that acts anyway, N
};

/// The delay equation over one smooth cutting piece, at Gauss points. With z = y - y_before,
///     z = (1 - K P)^-1 (O s - y_before),   y = z + y_before,   s' = E s + B z
/// s: modal state at the piece's start; O: what it alone would show at the points; K: response of
/// the modes, integrated on twice as many points, so that only z itself must be resolved, and the
/// residual on its diagonal; E: free flight.
/// With process damping the rows of speed v stand below z and have no y_before. With parts that
/// have delays of their own, y itself stands in z's place, and below y and v what each part finds
/// left by its earlier tooth, y_k:
///     [y; v] = (1 - K P)^-1 (O s - K sum of P_k y_k).
/// In short, for what stands there: e = shown s - resolvent before + forced, s' = E s + pushed e +
/// kick. `before`: y_before, or all y_k.
/// Rows: all points of the first row of W, then of the next. Fine points: those of
/// gauss_rule(points), as shares of the duration.
struct CutStep {
    double duration = 0;             ///< s
    int points = 0;                  ///< at which y is known
    Eigen::Index kept = 0;           ///< first rows of e, which the next tooth finds
    Eigen::MatrixXd resolvent = {};  ///< rows x before
    Eigen::MatrixXd shown = {};      ///< rows x 2 modes
    Eigen::MatrixXd pushed = {};     ///< 2 modes x rows
    Eigen::MatrixXd force =
        {};  ///< of a unit of each row at the fine points; coordinates x fine rows
    Eigen::VectorXd forced = {};  ///< of the given force; empty: none
    Eigen::VectorXd kick = {};    ///< likewise, 2 modes
    Eigen::MatrixXd given = {};   ///< N, the given force at the fine points
    Eigen::Index rows() const { return shown.rows(); }
};

/// A at an angle of the piece.
EdgeMatrix directional_at(const PieceForces& forces, double angle);

/// @param piece  cutting, short enough for `points`; rad
CutStep cut_step(const PieceForces& forces, const ModalState& modes, const Sensing& sensing,
                 const CutPiece& piece, SpindleSpeed speed, int points);

}  // namespace standfast
