#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "fea/quantities/quantities.hpp"
#include "fea/stack/tool_model.hpp"

namespace standfast {

/// Deflection and slope of a beam's end per force and moment there, one bending plane, 2 x 2:
/// m/N, 1/N, rad/(N m); exp(+i w t). The slope is d(deflection)/dz.
using EndReceptance = Eigen::Matrix2cd;

/// A free-free beam segment between its tip (lower end) and its root (upper end).
struct SegmentReceptance {
    EndReceptance tip_tip, tip_root, root_tip, root_root;
};

/// A beam of cylinders, from the root down to the tip, free at both ends: Timoshenko elements with
/// consistent mass and loss factors, elements no longer than half a diameter.
/// @param frequency  above 0: at rest a free beam has no receptance
/// @throws std::domain_error where a size is not physical or the frequency is not above 0
SegmentReceptance free_segment(const std::vector<CutterRun>& runs, AngularFrequency frequency);

/// Receptance of the tip of a segment whose root is held by a base, rigidly or through a joint:
///     H = S_tt - S_tr (S_rr + R + J)^-1 S_rt
/// @param joint  compliance of the joint (zero: rigid)
/// Source: R. E. D. Bishop and D. C. Johnson, The Mechanics of Vibration (1960), receptances of
///         coupled systems; for tools T. L. Schmitz and R. R. Donaldson, CIRP Annals 49 (2000)
///         303-308 (from memory).
EndReceptance couple(const SegmentReceptance& segment, const EndReceptance& base,
                     const EndReceptance& joint = EndReceptance::Zero());

/// The base that, under the segment, gives this receptance at the tip: couple() turned round.
EndReceptance uncouple(const SegmentReceptance& segment, const EndReceptance& tip);

/// The base where only the tip's deflection per force was measured: the modelled base times one
/// complex factor a frequency, the one that gives the measured value exactly. So the measured
/// stickout comes back as measured; at another the shape of the base's motion is the model's.
EndReceptance base_from_tip(const SegmentReceptance& segment, const EndReceptance& modelled_base,
                            std::complex<double> measured);

}  // namespace standfast
