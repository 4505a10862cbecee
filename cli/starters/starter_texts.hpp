#pragma once

#include <string_view>

namespace standfast {

/// A starter in both unit systems: of <metric|inch> one is kept.
struct StarterText {
    std::string_view stand;  ///< title, machine, stack
    std::string_view cuts;   ///< tools and passes
};

StarterText riser_starter();
StarterText vice_starter();
StarterText pyramid_starter();
StarterText tower_starter();
StarterText measured_modes_starter();

}  // namespace standfast
