#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <utility>

#include "cli/explore/answers/explore_session.hpp"
#include "cli/explore/make_input.hpp"
#include "cli/job/read_job.hpp"
#include "fea/judgement/pass/check.hpp"

namespace standfast::tests {

/// An example as its page carries it; programmed speed and depth, so that nothing need be computed.
inline ExploreInput explored_example(const std::string& name, int draws,
                                     UnitSystem units = UnitSystem::metric) {
    const std::string path = STANDFAST_SOURCE_DIR "/examples/" + name + "/job.toml";
    ReadResult read = read_job(path, {});
    return make_explore_input(path, *read.job, JobReport{}, StabilityMethod::periodic,
                              {.draws = draws, .seed = 1}, units);
}

inline nlohmann::json setting_json(const ExploreSetting& setting) {
    const auto size = [](const std::optional<double>& value) {
        return value ? nlohmann::json(*value) : nlohmann::json();
    };
    return {{"pass", setting.pass},
            {"riser_height_m", size(setting.riser_height)},
            {"stickout_m", size(setting.stickout)},
            {"depth_m", setting.depth},
            {"speed_rpm", setting.speed.rpm()}};
}

inline nlohmann::json ask(ExploreSession& session, const nlohmann::json& question) {
    return nlohmann::json::parse(session.answer(question.dump()));
}

}  // namespace standfast::tests
