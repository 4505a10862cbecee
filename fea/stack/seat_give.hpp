#pragma once

#include <cstddef>
#include <optional>

#include "fea/job/tier.hpp"
#include "fea/stack/clamped_zone.hpp"

namespace standfast {

/// Compliance of a disc-like plate that is held on a ring, against a rigid disc in its middle.
struct PlateGive {
    double vertical = 0;  ///< m/N
    double tilting = 0;   ///< rad/(N m)
};
/// Bending and shear of an annular plate, built in at the disc and simply supported on the ring.
/// @param disc, ring  m, radii, 0 < disc; nothing gives where the ring is no wider than the disc
/// @param thickness   m
/// Source: own solution of the plate equation (Kirchhoff) with the terms rho^2 ln rho and
///         rho ln rho cos theta; the shear by cylinders of 5/6 of the thickness.
PlateGive plate_give(const Material& material, double thickness, double disc, double ring);

/// Give of the bodies beside the joint under a tier that neither its contact nor their beams say:
/// the host under a smaller foot, a block over an open bore, a plate on its own screws. Springs in
/// series with the joint, along and about its axes; none where both sections are alike, on a host's
/// side or askew, on the table (its springs were measured there), and under dovetails and jaws,
/// whose figures say it already.
///
/// Each body gives 0.43 of what a half-space does under a rigid disc with the area and the second
/// moments of the face that bears, times the share of the body's section that does not bear; the
/// lower one as a layer of its height on a rigid base, except in rocking. A solid host on screws
/// of its own bends besides (plate_give), on a ring as wide as they stand on average.
/// The 0.43 is fitted to a plate, a tube, a block and a part in one stack as solid models
/// (tests/fea/stack/solid_stacks.hpp): their compliance at the top is then met within 5 %, their
/// first two frequencies within 2 %. 4 G r / (1 - nu) and the like, and the layer's factors
/// (1 + 1.28 r/H, 1 + r/2H), are those of rigid discs on soil: F. E. Richart, J. R. Hall,
/// R. D. Woods, Vibrations of Soils and Foundations (1970); G. Gazetas, Int. J. Soil Dyn. 2 (1983);
/// both from memory. A plate on four M12 of its own gave 2.5e-7 mm/N and 7.2e-11 rad/(N mm) as a
/// solid model; this gives 2.7e-7 and 6.1e-11 for 180 x 180 x 30 mm.
std::optional<ZoneStiffness> seat_stiffness(const Stack& stack, std::size_t tier);

}  // namespace standfast
