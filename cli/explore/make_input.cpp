#include "cli/explore/make_input.hpp"

#include <algorithm>

#include "cli/explore/job_places.hpp"
#include "fea/judgement/answer/speed_window.hpp"

namespace standfast {
namespace {

SpindleSpeed usual_speed(const Job& job, const Pass& pass) {
    SpeedWindow window = offered_window(job, pass);
    if (!(window.from < window.to)) window = {job.machine.slowest, job.machine.fastest};
    return {(window.from.radians_per_second + window.to.radians_per_second) / 2};
}

ExploreStart start_of(const Job& job, std::size_t index, const JobReport& report) {
    const Pass& pass = job.passes[index];
    ExploreStart start;
    start.setting.pass = index;
    const auto found = std::find_if(report.passes.begin(), report.passes.end(),
                                    [&](const PassReport& one) { return one.pass == index; });
    if (found == report.passes.end()) {
        const double heading = fixed_heading(job, pass).value_or(0);
        start.setting.depth = pass.axial.value_or(job.tools.at(pass.tool).cutter.diameter / 2);
        start.setting.speed = pass.speed.value_or(usual_speed(job, pass));
        start.headings = {heading, heading, false};
        return start;
    }
    start.setting.depth = found->judged_depth;
    start.setting.speed = found->judged_speed;
    start.headings = {found->feed_heading.value_or(0), found->error_heading.value_or(0),
                      found->worst_heading};
    return start;
}

}  // namespace

ExploreInput make_explore_input(const std::string& path, const Job& job, const JobReport& report,
                                StabilityMethod method, const OddsOptions& odds, UnitSystem units) {
    ExploreInput input{.job = job,
                       .start = {},
                       .text = job_places(path, job),
                       .method = method,
                       .draws = odds.draws,
                       .seed = odds.seed,
                       .units = units};
    for (std::size_t i = 0; i < job.passes.size(); ++i) {
        input.start.push_back(start_of(job, i, report));
    }
    return input;
}

}  // namespace standfast
