#include "cli/report/stand_in_json.hpp"

#include <nlohmann/json.hpp>

#include "cli/report/words.hpp"

namespace standfast {

nlohmann::ordered_json stand_in_json(const StandIn& stand_in) {
    return {{"name", solved_on_name(stand_in.kind)},
            {"speeds", stand_in.speeds},
            {"sample", stand_in.sample},
            {"worst_error", stand_in.worst},
            {"rms_error", stand_in.root_mean_square}};
}

}  // namespace standfast
