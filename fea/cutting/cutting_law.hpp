#pragma once

#include "fea/cutting/engagement.hpp"
#include "materials/cutting_data.hpp"

namespace standfast {

/// How the rubbing of the flank (process damping) enters the equation.
enum class Rubbing {
    momentary,  ///< at every moment by the edge that is in the cut then
    mean        ///< by its mean over a revolution, as damping of the modes (flank_drag.hpp)
};

/// Rubbing fades as the wave grows that a mode cuts into the wall (cutting speed over frequency):
/// whole up to `full`, in a straight line to nothing at `none`; m. Without bounds: whole always.
struct WaveFade {
    double full = 0, none = 0;
    double share(double wave) const {
        if (!(none > full)) return 1;
        return wave <= full ? 1 : (wave >= none ? 0 : (none - wave) / (none - full));
    }
};

/// Force law linear in the chip, ready for use: force per edge length = K_c h + K_e.
struct CuttingLaw {
    double tangential = 0, radial = 0, axial = 0;                 ///< Pa
    double tangential_edge = 0, radial_edge = 0, axial_edge = 0;  ///< N/m
    double spread = 1.25;  ///< 10-90 % factor; wider where the chip is under 0.03 mm
    /// N/m: flank force per edge height against the speed at which the edge moves into the wall,
    /// over that speed's share of the cutting speed; 0: none. Damps slow cuts.
    double process_damping = 0;
    Rubbing rubbing = Rubbing::momentary;
    WaveFade fade = {};
    double chip = 0;  ///< m, chip about which a Kienzle law was linearised; 0: mechanistic
};

/// The mechanistic set where the data have one, else the Kienzle law linearised at
/// h0 = max(mean chip, 0.03 mm): slope (1 - mc) kc11 h0^-mc, edge force mc kc11 h0^(1 - mc),
/// with radial and axial parts by its ratios. The tangent lies above the law everywhere, so thin
/// chips err on the side of too much force. Below 0.03 mm the spread s of a Kienzle law widens to
/// s^sqrt(0.03 mm / chip), at most s^5; mechanistic sets are fitted with thin chips and keep
/// theirs.
/// Process damping is taken by its mean, fading between waves of 0.5 and 1 mm: published, it lifts
/// limits below 0.3 to 0.5 mm and nothing is seen of it above 1 mm (J. Tlusty; E. Budak and L. T.
/// Tunc; both from memory).
/// @throws std::domain_error if the data hold neither law, or a coefficient is out of range
/// Source: O. Kienzle, VDI-Z 94 (1952) 299-305 (from memory); the tangent is ours.
CuttingLaw cutting_law(const CuttingData& data, const Engagement& engagement,
                       double feed_per_tooth);

}  // namespace standfast
