#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// A convex piece of the set-up: where its corners are, and how far they move.
struct MovedPiece {
    std::string member;
    Eigen::Matrix3Xd corners;  ///< m, stack axes
    Eigen::Matrix3Xd moved;    ///< m, stack axes
};

/// Both sides under the mean cutting force of the pass, or in one of their modes. Modes are of any
/// size; the drawing scales them.
struct MovedShape {
    std::vector<MovedPiece> pieces;
    double hertz = 0;                                    ///< of a mode; 0: under the cutting force
    std::vector<std::pair<std::string, double>> shares;  ///< of a mode's strain, as reported
    double damping = 0;
    bool tool_side = false;  ///< whose mode
    double most() const;     ///< m, the largest displacement
};

/// The set-up as the models see it, bent by the mean force at the middle of the cut. Empty where a
/// side has no model of beams (rigid, or known by measured modes): `why_not` says so.
struct MovedShapes {
    MovedShape under_force;
    std::vector<MovedShape> modes;  ///< the lowest reported ones of the stack, then of the tool
    std::string why_not;
};

/// The force stands in the middle of the cut's depth, where StaticResult spreads it along the edge.
/// @param modes_a_side  of those reported, the lowest; a mode whose frequency differs from the
///                      reported one by more than 1 % is left out, for it may be another
MovedShapes moved_shapes(const Job& job, const PassReport& pass, std::size_t modes_a_side);

/// Where the middle of the cut is, stack axes, m.
Eigen::Vector3d middle_of_cut(const Job& job, const PassReport& pass);

/// Tip of the tool there, on its axis, stack axes, m. Where the job gives no place, the wall is
/// drawn at the outside of the part.
Eigen::Vector3d tip_of_tool(const Job& job, const PassReport& pass);

}  // namespace standfast
