#pragma once

#include <vector>

#include "fea/chatter/equation/delay_system.hpp"

namespace standfast {

/// A stretch of the turn in which A(phi) is smooth.
struct CutPiece {
    double start = 0;      ///< rad, tip of tooth 0
    double length = 0;     ///< rad, > 0
    bool cutting = false;  ///< false: no edge touches, A = 0
};

/// One tooth period (evenly spaced teeth), from the entry of tooth 0's tip on, cut at every kink
/// of A: where the tip, the end of the corner and the upper end of any tooth's engaged edge enter
/// and leave. The pieces follow one another and sum to 2 pi / teeth.
/// @param depth  m, > 0
/// @param marks  rad, further angles at which to cut (taken modulo the period)
/// @throws std::domain_error if the depth or the cutter's numbers are not usable
std::vector<CutPiece> cut_pieces(const DelaySystem& system, double depth,
                                 const std::vector<double>& marks = {});

}  // namespace standfast
