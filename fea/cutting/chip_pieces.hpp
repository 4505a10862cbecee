#pragma once

#include <vector>

#include "fea/cutting/cutter_geometry.hpp"
#include "fea/cutting/edge_law.hpp"
#include "fea/cutting/engagement.hpp"

namespace standfast {

/// A stretch of angles, rad, in which a tooth's chip is feed sin(angle) + offset.
struct ChipPiece {
    double from = 0, to = 0;
    RadialChip chip;
    double behind = 0;  ///< rad since the tooth that left its surface passed
};

/// Where and how thick tooth `tooth` cuts with the given mean feed per tooth (m): the least of
/// what the teeth before it left, back to its own last pass; nothing where that is not positive.
/// Without runout the tooth before it decides and there is one piece.
/// Source: tooth paths taken as circles, W. A. Kline and R. E. DeVor, Int. J. Mach. Tool Des. Res.
///         23 (1983) 123-140 (from memory).
std::vector<ChipPiece> chip_pieces(const CutterGeometry& cutter, const Engagement& engagement,
                                   double feed_per_tooth, int tooth);

}  // namespace standfast
