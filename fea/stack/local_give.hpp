#pragma once

#include "fea/stack/clamped_zone.hpp"
#include "materials/material.hpp"

namespace standfast {

/// How much the two bodies give beside a zone, over what beams of theirs say: compliances, m/N and
/// rad/(N m). Figures per area of zone for steel (205 GPa), scaled with 1/E of each body and, as
/// all that is similar, with the size of a patch.
///
///     N/um/mm2      along x  along y  along z   share of the lower body
///     cones           9        9       14.5     0.78
///     whole face      8.5      8.5     17       0.78
///     flanks          7.3     11.7      5.2     0.5
///     with seat      11       21       14.5     0.2
///     jaws, lower     2.5      1.9      6.4     1
///     jaws, part      8.9      5.8      7.9     0
///
/// Sources: bonded solid models less Timoshenko beams: a foot of 100 mm on four M12, a dovetail of
///          60 x 32 mm, a vice of 100 x 8 mm strips (tests/fea/stack/solid_joints.hpp). Their
///          tilting and twisting follow from these figures within 15 %, a vice's twisting within a
///          factor 2.3 on the soft side.
ZoneStiffness local_give(const ClampedZone& zone, const Material& lower, const Material& upper);

/// 1 / (1/stiffness + give), component by component.
ZoneStiffness in_series(const ZoneStiffness& stiffness, const ZoneStiffness& give);

}  // namespace standfast
