#pragma once

#include <Eigen/Core>

#include "fea/solution/line_receptance.hpp"

namespace standfast {

/// What tool and part show along the cutting edge, whatever the depth of the cut; tool axes.
///
/// The tool's line runs from its tip upward. The part's runs in the tool's direction: with the tip
/// fixed, from the tip's place upward (0 at the tip); with the top fixed, it ends at the cut's top
/// (0 there, negative below), and the tip goes down as the cut grows deeper.
struct CutLines {
    LineReceptance tool, work;
    bool from_top = false;
    double lever = 0;  ///< m, radius at which the axial force bends the tool; 0: it does not
    int heights = 0;   ///< at which the displacement is known; 0: heights_needed()
};

/// The least number of heights, 2 to kMostHeights, whose polynomial leaves less than 3e-4 of the
/// mean square of every mode's shape along a cut of this depth, each weighed with its share of the
/// receptance at its own peak. Measured on clamped beams the limit is then off by less than 0.2 %.
/// 1 where neither side's displacement differs along the edge.
int heights_needed(const CutLines& lines, double depth);

/// The relative receptance along an edge engaged from the tip to `depth` (m, > 0), tool terms
/// first. Heights are those of Gauss-Legendre quadrature; a line with one point has one height.
ModalReceptance edge_receptance(const CutLines& lines, double depth);

/// The same at the one height z (m above the tip) of a cut of this depth.
ModalReceptance receptance_at_height(const CutLines& lines, double depth, double z);

}  // namespace standfast
