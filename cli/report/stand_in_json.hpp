#pragma once

#include <nlohmann/json_fwd.hpp>

#include "fea/chatter/stability_limits.hpp"

namespace standfast {

/// How well a stand-in for the whole solve did, as the JSON outputs say it.
nlohmann::ordered_json stand_in_json(const StandIn& stand_in);

}  // namespace standfast
