#pragma once

#include <vector>

#include "fea/chatter/equation/cut_pieces.hpp"
#include "fea/chatter/equation/delay_system.hpp"
#include "fea/cutting/forces.hpp"

namespace standfast {

/// Part of the cut that regenerates over one delay: F = A(t) [d(t) - d(t - delay)].
struct Regeneration {
    EdgeSum<Eigen::Matrix3d> directional;  ///< A of this part, N/m
    double delay = 0;                      ///< rad of rotation
};

/// A, tooth by tooth, each with its own pitch: teeth of unequal pitch of which several cut at once.
std::vector<Regeneration> regenerations(const DelaySystem& system, double depth);

/// The same for the motion about the rigid cut with runout: every stretch of every tooth's chip
/// with the tooth that left its surface, which may be several teeth back; nothing where a tooth
/// misses.
std::vector<Regeneration> chip_regenerations(const RigidCut& cut);

/// A whole revolution cut at every kink of any part, and at the angles at which kinks of the motion
/// come back over a part's delay while it cuts; rad of tooth 0's tip, from its entry on. A piece is
/// `cutting` where any tooth is within the engagement, whether or not it misses.
std::vector<CutPiece> revolution_pieces(const DelaySystem& system, double depth,
                                        const std::vector<Regeneration>& parts);

}  // namespace standfast
