#pragma once

#include <nlohmann/json_fwd.hpp>

#include "fea/judgement/answer/march_result.hpp"

namespace standfast {

/// The block "march" of a pass: what following it in time showed. SI units in the keys.
nlohmann::ordered_json march_json(const MarchResult& march);

}  // namespace standfast
