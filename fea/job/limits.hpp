#pragma once

namespace standfast {

/// Where a level begins. Defaults of the program; a job's [limits] overrides them by name.
/// "marginal" and "avoid" are thresholds of the quantity named.
struct Limits {
    // Chatter: programmed depth over stability limit (without draws), probability (with draws).
    double chatter_depth_marginal = 0.7, chatter_depth_avoid = 1.0;
    // Of cuts that shops run without a second thought and cuts that they avoid (common practice, no
    // source; validation/shop_cuts), in the good ones that aluminium gives 0.01 to 0.2 of the tries
    // chatter as a rule, in the bad ones all: marginal from a fifth on, avoid from a half.
    double chatter_probability_marginal = 0.20, chatter_probability_avoid = 0.50;
    // Surface error over what the tolerance allows (half the total, either side).
    double surface_error_marginal = 0.7, surface_error_avoid = 1.0;
    // Resonance: vibration of the stable cut, peak to peak, over its own low-speed value, and in
    // metres; flagged only where both are passed.
    double resonance_gain_marginal = 3, resonance_gain_avoid = 6;
    double resonance_least = 5e-6;  // m
    // Deflection: static push-off without a tolerance to judge by, m. Of the same cuts the good
    // ones push off by 0.006 to 0.055 mm, the bad ones but one by 0.1 to 0.4 mm.
    double deflection_marginal = 50e-6, deflection_avoid = 100e-6;
    // Holding: capacity over peak load with wear.
    double holding_avoid = 2.0, holding_marginal = 3.0;
    double wear_factor = 1.5;
    // Tool bending stress over the allowable (a third of the transverse rupture strength).
    double tool_stress_marginal = 0.7, tool_stress_avoid = 1.0;
    double tool_stress_allowed_share = 1.0 / 3;
    // Whirl: spindle speed over the first tool frequency.
    double whirl_marginal = 0.6, whirl_avoid = 0.8;
    // Power and torque asked over what the spindle gives at that speed. Marginal below the rating:
    // coefficients, wear and losses in the drive are each known to a tenth or two.
    double power_marginal = 0.8, power_avoid = 1.0;
    // Weight and tilt moment over what the machine carries.
    double weight_marginal = 0.8, weight_avoid = 1.0;
    // Reach: what tool, holder and spindle must keep from everything they do not cut, m.
    double clearance = 2e-3;
    // A quiet band is at least this wide, relative to its middle speed.
    double least_band = 0.02;
    // Without a cutting-speed window, advice stays this close to the programmed speed.
    double speed_window = 0.15;
};

}  // namespace standfast
