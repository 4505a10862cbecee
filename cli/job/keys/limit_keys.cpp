#include "cli/job/keys/limit_keys.hpp"

#include <array>

namespace standfast {
namespace {

constexpr std::array kKeys{
    LimitKey{"chatter_depth_marginal", &Limits::chatter_depth_marginal, Quantity::number},
    LimitKey{"chatter_depth_avoid", &Limits::chatter_depth_avoid, Quantity::number},
    LimitKey{"chatter_probability_marginal", &Limits::chatter_probability_marginal,
             Quantity::number},
    LimitKey{"chatter_probability_avoid", &Limits::chatter_probability_avoid, Quantity::number},
    LimitKey{"surface_error_marginal", &Limits::surface_error_marginal, Quantity::number},
    LimitKey{"surface_error_avoid", &Limits::surface_error_avoid, Quantity::number},
    LimitKey{"resonance_gain_marginal", &Limits::resonance_gain_marginal, Quantity::number},
    LimitKey{"resonance_gain_avoid", &Limits::resonance_gain_avoid, Quantity::number},
    LimitKey{"resonance_least", &Limits::resonance_least, Quantity::length},
    LimitKey{"deflection_marginal", &Limits::deflection_marginal, Quantity::length},
    LimitKey{"deflection_avoid", &Limits::deflection_avoid, Quantity::length},
    LimitKey{"holding_avoid", &Limits::holding_avoid, Quantity::number},
    LimitKey{"holding_marginal", &Limits::holding_marginal, Quantity::number},
    LimitKey{"wear_factor", &Limits::wear_factor, Quantity::number},
    LimitKey{"tool_stress_marginal", &Limits::tool_stress_marginal, Quantity::number},
    LimitKey{"tool_stress_avoid", &Limits::tool_stress_avoid, Quantity::number},
    LimitKey{"tool_stress_allowed_share", &Limits::tool_stress_allowed_share, Quantity::number},
    LimitKey{"whirl_marginal", &Limits::whirl_marginal, Quantity::number},
    LimitKey{"whirl_avoid", &Limits::whirl_avoid, Quantity::number},
    LimitKey{"power_marginal", &Limits::power_marginal, Quantity::number},
    LimitKey{"power_avoid", &Limits::power_avoid, Quantity::number},
    LimitKey{"weight_marginal", &Limits::weight_marginal, Quantity::number},
    LimitKey{"weight_avoid", &Limits::weight_avoid, Quantity::number},
    LimitKey{"clearance", &Limits::clearance, Quantity::length},
    LimitKey{"least_band", &Limits::least_band, Quantity::number},
    LimitKey{"speed_window", &Limits::speed_window, Quantity::number},
};

}  // namespace

std::span<const LimitKey> limit_keys() { return kKeys; }

}  // namespace standfast
