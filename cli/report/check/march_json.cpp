#include "cli/report/check/march_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/report/check/march_text.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }
Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }
Json vector3(const Eigen::Vector3d& v) {
    return Json::array({number(v.x()), number(v.y()), number(v.z())});
}

}  // namespace

Json march_json(const MarchResult& march) {
    const bool settled = march.error.has_value();
    Json json = {{"rpm", number(std::round(march.speed.rpm() * 1e6) / 1e6)},
                 {"axial_m", number(march.depth)},
                 {"outcome", outcome_name(march.outcome)},
                 {"growth_per_tooth", number(march.growth_per_tooth)},
                 {"revolutions", march.revolutions},
                 {"settled_over_revolutions", march.settled_over},
                 {"steps_per_revolution", march.march->steps_per_revolution},
                 {"peak_to_peak_m", vector3(march.peak_to_peak)},
                 {"peak_force_n", vector3(march.peak_force)},
                 {"error_m", number(march.error)},
                 {"waviness_m", number(march.waviness)},
                 {"height_m", march.march->height}};
    json["profile_m"] = settled ? Json(march.march->wall_error) : Json(nullptr);
    return json;
}

}  // namespace standfast
