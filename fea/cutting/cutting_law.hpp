#pragma once

#include "fea/cutting/engagement.hpp"
#include "materials/cutting_data.hpp"

namespace standfast {

/// Force law linear in the chip, ready for use: force per edge length = K_c h + K_e.
struct CuttingLaw {
    double tangential = 0, radial = 0, axial = 0;                 ///< Pa
    double tangential_edge = 0, radial_edge = 0, axial_edge = 0;  ///< N/m
    double spread = 1.25;  ///< 10-90 % factor; wider where the chip is under 0.03 mm
    /// N/m: flank force per edge height against the speed at which the edge moves into the wall,
    /// over that speed's share of the cutting speed; 0: none. Damps slow cuts.
    double process_damping = 0;
    double chip = 0;  ///< m, chip about which a Kienzle law was linearised; 0: mechanistic
};

/// The mechanistic set where the data have one, else the Kienzle law linearised at
/// h0 = max(mean chip, 0.03 mm): slope (1 - mc) kc11 h0^-mc, edge force mc kc11 h0^(1 - mc),
/// with radial and axial parts by its ratios. The tangent lies above the law everywhere, so thin
/// chips err on the side of too much force. Below 0.03 mm the spread s of a Kienzle law widens to
/// s^sqrt(0.03 mm / chip), at most s^5; mechanistic sets are fitted with thin chips and keep
/// theirs.
/// @throws std::domain_error if the data hold neither law, or a coefficient is out of range
/// Source: O. Kienzle, VDI-Z 94 (1952) 299-305 (from memory); the tangent is ours.
CuttingLaw cutting_law(const CuttingData& data, const Engagement& engagement,
                       double feed_per_tooth);

}  // namespace standfast
