#pragma once

#include <optional>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/limits/lobe_crossing.hpp"
#include "fea/chatter/limits/zero_order.hpp"

namespace standfast {

/// Two depths of engagement (m), and the edge of stability for the mean matrix of each: at
/// `shallow` it lies above that depth (or nowhere), at `deep` at or below it.
struct NoseBracket {
    double shallow = 0;
    std::optional<LobeCrossing> at_shallow;
    double deep = 0;
    LobeCrossing at_deep;
};

/// The smallest depth within the bracket that is its own limit, A0 taken at that depth; solved by
/// Newton steps in frequency and depth from both ends. Where they do not settle, the limit for the
/// deeper A0, held inside the bracket.
LobeCrossing nose_limit(const DelaySystem& system, const SampledReceptance& receptance,
                        SpindleSpeed speed, const NoseBracket& bracket);

}  // namespace standfast
