#pragma once

#include "fea/chatter/equation/modal_state.hpp"
#include "fea/cutting/cutting_law.hpp"
#include "fea/cutting/edge_sum.hpp"

namespace standfast {

/// The modes with the flank's rubbing as damping of theirs: its mean over a revolution for the
/// force that follows at each moment. To first order in the drag, for a mode of shape u and
/// frequency f: 2 zeta w grows by share(V/f) u . C u/V; modes of like frequency (x and y of one
/// tool) are mixed so that the drag acts on each by itself (rotations of Jacobi's kind of the
/// complex symmetric matrix of decay rates). Coupling of modes fades with the ratio of their
/// frequencies and is gone at a third apart, in such a way that the drag never feeds motion; left
/// out is that rubbing comes and goes with the teeth: against the
/// momentary form limits come out by up to a fifth too low in slow interrupted cuts, and by at most
/// 6 % too high in slow slots (measured in tests); the coefficient is good to a factor of three.
/// @param mean           C, N: harmonic 0 of rubbing_sum of all teeth, in the modes' coordinates
/// @param cutting_speed  V, m/s, > 0
/// Source: J. Tlusty and F. Ismail, CIRP Annals 30 (1981); damping by the mean over the cut as in
///         C. T. Tyler and T. L. Schmitz, J. Manuf. Processes 15 (2013) 69-76 (both from memory).
ModalState with_flank_drag(const ModalState& modes, const EdgeMatrix& mean, double cutting_speed,
                           const WaveFade& fade);

/// Without the fast modes that cannot sing: those more than twice as fast as the fastest whose
/// receptance at its peak, |shape|^2/(2 decay), reaches `sings` (m/N) and as the strongest; what
/// they give statically stays.
ModalState without_quiet_modes(const ModalState& modes, double sings);

}  // namespace standfast
