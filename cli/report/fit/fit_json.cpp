#include "cli/report/fit/fit_json.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/report/fit/fit_text.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

std::string quantity_name(Observed what) {
    switch (what) {
        case Observed::moved:
            return "moved_m";
        case Observed::frequency:
            return "frequency_hz";
        case Observed::damping:
            return "damping_ratio";
        case Observed::dynamic_stiffness:
            return "dynamic_stiffness_n_per_m";
        case Observed::wall_top:
            return "stock_left_top_m";
        case Observed::wall_foot:
            return "stock_left_foot_m";
    }
    return {};
}

std::string quantity_name(FitQuantity quantity) {
    return quantity == FitQuantity::stiffness ? "stiffness_n_per_m" : "loss_factor";
}

Json adjusted_json(const FitResult& result) {
    Json list = Json::array();
    for (const FitAdjusted& adjusted : result.adjusted) {
        list.push_back({{"name", adjusted.unknown.name},
                        {"quantity", quantity_name(adjusted.unknown.quantity)},
                        {"before", number(adjusted.unknown.before)},
                        {"after", number(adjusted.after())},
                        {"spread", number(adjusted.spread)},
                        {"factor", number(adjusted.factor)},
                        {"spread_before", number(adjusted.unknown.prior.factor)},
                        {"seen", adjusted.seen}});
    }
    return list;
}

}  // namespace

std::string fit_json(const Job& job, const FitResult& result,
                     const std::optional<FitWithout>& without,
                     const std::vector<std::string>& set_aside, const std::string& saved) {
    Json json;
    json["schema"] = "standfast.fit/1";
    json["title"] = job.title;
    json["converged"] = result.converged;
    json["adjusted"] = adjusted_json(result);
    json["adjusted_without"] = without ? adjusted_json(without->fit) : Json(nullptr);
    json["set_aside"] = set_aside;
    json["unseen"] = Json::array();
    for (const FitAdjusted& adjusted : result.adjusted) {
        if (!adjusted.seen) {
            const bool stiffness = adjusted.unknown.quantity == FitQuantity::stiffness;
            json["unseen"].push_back(adjusted.unknown.name + (stiffness ? " stiffness" : " loss"));
        }
    }
    json["measured"] = Json::array();
    for (const FitComparison& row : result.measured) {
        json["measured"].push_back(
            {{"name", job.measured[row.measured].name},
             {"quantity", quantity_name(row.what)},
             {"value", number(row.value)},
             {"before", number(row.before)},
             {"after", number(row.after)},
             {"residual", number(row.residual)},
             {"from_others", number(row.others)},
             {"apart", number(row.apart)},
             {"disagrees", row.disagrees},
             {"counts", row.counts},
             {"suspect", row.suspect.empty() ? Json(nullptr) : Json(row.suspect)}});
    }
    json["warnings"] = result.warnings;
    json["cautions"] = measuring_cautions();
    json["saved"] = saved.empty() ? Json(nullptr) : Json(saved);
    return json.dump(1, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace standfast
