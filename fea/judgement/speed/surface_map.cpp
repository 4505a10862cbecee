#include "fea/judgement/speed/surface_map.hpp"

#include <cmath>

#include "fea/chatter/motion/fed_back_error.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

constexpr double kChangesNothing = 2e-3;  // of the radial depth

bool changes_the_cut(const WallMotion& motion, double radial) {
    return std::abs(motion.largest_error) > kChangesNothing * radial;
}

}  // namespace

std::optional<WallMotion> fed_back_at(const CutProblem& problem, double heading,
                                      const SlowAnswer& slow, SpindleSpeed speed,
                                      const WallMotion& nominal) {
    const double radial = problem.pass().radial;
    if (!changes_the_cut(nominal, radial)) return nominal;
    RigidCut cut = problem.cut;
    cut.depth = slow.depth;
    return fed_back_wall(edge_at_heading(problem, heading, slow.depth), cut, radial, speed,
                         slow.heights, nominal);
}

SurfaceErrorMap surface_map(const CutProblem& problem, double heading,
                            const std::vector<AtSpeed>& at, const SlowAnswer& slow) {
    SurfaceErrorMap map;
    map.height = slow.heights;
    map.fed_back.resize(at.size());
    for_each_index(at.size(), [&](std::size_t i) {
        const std::optional<WallMotion>& motion = at[i].motion;
        if (!motion) return;
        const auto balanced = fed_back_at(problem, heading, slow, at[i].limit.speed, *motion);
        if (balanced) map.fed_back[i] = balanced->largest_error;
    });
    for (const AtSpeed& one : at) {
        const auto of_motion = [&](double WallMotion::*member) {
            return one.motion ? std::optional((*one.motion).*member) : std::nullopt;
        };
        map.speed.push_back(one.limit.speed);
        map.error.push_back(of_motion(&WallMotion::largest_error));
        map.peak_to_peak.push_back(of_motion(&WallMotion::peak_to_peak));
        map.waviness.push_back(of_motion(&WallMotion::waviness));
        map.profile.push_back(one.motion ? one.motion->error : std::vector<double>{});
    }
    return map;
}

}  // namespace standfast
