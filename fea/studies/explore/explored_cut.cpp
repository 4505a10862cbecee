#include "fea/studies/explore/explored_cut.hpp"

#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/judgement/speed/push_off.hpp"

namespace standfast {
namespace {

constexpr int kStripSpeeds = 60;
constexpr std::size_t kKept = 24;  // sides; a drag passes through many

}  // namespace

ExploredCut ExploredJob::cut(const ExploreSetting& setting, StabilityMethod method) {
    ExploredCut cut{.job = std::make_shared<const Job>(with_setting(job_, setting)),
                    .problem = {},
                    .setting = setting};
    const Pass& pass = cut.job->passes[setting.pass];
    const auto solved = [&](Sides& sides, const Key& key, auto solve) {
        auto found = sides.find(key);
        if (found != sides.end()) return found->second;
        if (sides.size() >= kKept) sides.clear();
        return sides.emplace(key, solve(*cut.job, pass)).first->second;
    };
    const double index = static_cast<double>(setting.pass);
    const auto tool = solved(tools_, {static_cast<double>(pass.tool), setting.stickout.value_or(0)},
                             [](const Job& job, const Pass& of) { return tool_side_of(job, of); });
    const Eigen::Vector3d place = judged_place(*cut.job, pass);
    const auto work =
        solved(works_, {index, setting.riser_height.value_or(0), place.x(), place.y(), place.z()},
               [](const Job& job, const Pass& of) { return work_side_of(job, of); });
    cut.problem = cut_problem(*cut.job, setting.pass, tool, work, method);
    return cut;
}

QuickLook quick_look(const ExploredCut& cut, const Headings& headings,
                     const std::vector<SpindleSpeed>& speeds) {
    const double depth = cut.setting.depth;
    return {.limits = ranking_limits(cut.problem, headings.stability, speeds, depth),
            .statics = push_off(cut.problem, headings.error, depth)};
}

std::vector<SpindleSpeed> strip_speeds(const Job& job, const ExploreSetting& setting) {
    return merge_speeds(default_speeds(job.machine.slowest, job.machine.fastest, kStripSpeeds),
                        {setting.speed});
}

}  // namespace standfast
