#pragma once

#include <vector>

#include "fea/judgement/advice/advice.hpp"

namespace standfast {

/// A change to try.
struct Candidate {
    AdviceKind kind = AdviceKind::other_speed;
    std::vector<Edit> set;
    bool reach_unchecked = false;
};

/// Changes that make sense for the pass, not yet known to help; speed and depth such as the tries
/// hold, where there are any.
std::vector<Candidate> advice_candidates(const AdviceCase& given);

}  // namespace standfast
