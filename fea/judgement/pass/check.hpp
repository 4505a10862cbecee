#pragma once

#include <optional>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"
#include "fea/judgement/solids/solid_distance.hpp"
#include "fea/judgement/uncertainty/chatter_odds.hpp"

namespace standfast {

struct CheckOptions {
    StabilityMethod method = StabilityMethod::zero_order;
    std::vector<SpindleSpeed>
        speeds;  ///< empty: 400 even in 1/rpm over the machine's range, refined
    std::optional<std::size_t> only_pass;
    int listed_modes = 6;  ///< a side
    OddsOptions odds{.draws = 0};
    bool advise = true;
    const SolidDistance* distance = nullptr;  ///< null: reach is not judged
    bool march = false;  ///< also follow each pass in time, at its speed and depth
};

/// The main job: everything that `standfast check` answers. Passes are independent and run on
/// several threads.
/// @throws std::domain_error where the job is not physical; the message names tier, tool or pass
JobReport check_job(const Job& job, const CheckOptions& options = {});

}  // namespace standfast
