#include "fea/chatter/zero_order.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "fea/chatter/lobe_crossing.hpp"
#include "fea/chatter/lobe_segments.hpp"
#include "fea/chatter/nose_limit.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Crossings = std::vector<std::optional<LobeCrossing>>;

void require_usable(const SampledReceptance& receptance, const std::vector<SpindleSpeed>& speeds,
                    double searched_to) {
    require_positive(searched_to, "zero_order_limits", "searched depth");
    require_between(static_cast<double>(receptance.value.size()), 2, 1e9, "zero_order_limits",
                    "number of receptance samples");
    double before = 0;
    for (const AngularFrequency frequency : receptance.frequency) {
        require_positive(frequency.radians_per_second - before, "zero_order_limits",
                         "step to the next sampled frequency");
        before = frequency.radians_per_second;
    }
    for (const SpindleSpeed speed : speeds) {
        require_positive(speed.radians_per_second, "zero_order_limits", "spindle speed");
    }
}

std::vector<double> delays_at(const std::vector<double>& pitch, SpindleSpeed speed) {
    std::vector<double> delays = pitch;
    for (double& delay : delays) delay /= speed.radians_per_second;
    return delays;
}

Crossings crossings(const AveragedCut& cut, const SampledReceptance& receptance,
                    const std::vector<SpindleSpeed>& speeds, double searched_to) {
    const std::vector<LobeSegment> segments =
        lobe_segments(cut.mean_matrix, receptance, searched_to);
    Crossings found(speeds.size());
    for_each_index(speeds.size(), [&](std::size_t i) {
        found[i] =
            least_crossing(cut, receptance, segments, delays_at(cut.pitch, speeds[i]), searched_to);
    });
    return found;
}

StabilityLimits as_limits(const Crossings& found, const std::vector<SpindleSpeed>& speeds,
                          double searched_to) {
    StabilityLimits limits{
        .method = StabilityMethod::zero_order, .searched_to = searched_to, .speeds = {}};
    for (std::size_t i = 0; i < speeds.size(); ++i) {
        SpeedLimit limit;
        limit.speed = speeds[i];
        if (found[i]) {
            limit.limit = found[i]->depth;
            limit.kind = ChatterKind::quasi_periodic;
            limit.chatter_hertz = AngularFrequency{found[i]->w}.hertz();
        }
        limits.speeds.push_back(limit);
    }
    return limits;
}

AveragedCut averaged(const DelaySystem& system, double depth) {
    AveragedCut cut{.mean_matrix = mean_directional_matrix(system, depth), .pitch = {}};
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        cut.pitch.push_back(tooth_pitch(system.cutter, tooth));
    }
    return cut;
}

/// From a twentieth of the corner radius up, each twice the one before.
std::vector<double> nose_depths(double corner_radius, double searched_to) {
    std::vector<double> depths;
    double depth = std::min(corner_radius / 20, searched_to / 2);
    while (depth < searched_to) {
        depths.push_back(depth);
        depth *= 2;
    }
    depths.push_back(searched_to);
    return depths;
}

/// A0 grows with depth along a nose: a speed's limit lies where the limit for the A0 of a depth
/// falls to that depth.
Crossings nose_crossings(const DelaySystem& system, const SampledReceptance& receptance,
                         const std::vector<SpindleSpeed>& speeds, double searched_to) {
    Crossings found(speeds.size()), before(speeds.size());
    double depth_before = 0;
    for (const double depth : nose_depths(system.cutter.corner_radius, searched_to)) {
        const Crossings here = crossings(averaged(system, depth), receptance, speeds, 2 * depth);
        for_each_index(speeds.size(), [&](std::size_t i) {
            if (found[i] || !here[i] || here[i]->depth > depth) return;
            found[i] = nose_limit(system, receptance, speeds[i],
                                  {depth_before, before[i], depth, *here[i]});
        });
        before = here;
        depth_before = depth;
        if (std::all_of(found.begin(), found.end(), [](const auto& one) { return !!one; })) break;
    }
    return found;
}

}  // namespace

StabilityLimits averaged_limits(const AveragedCut& cut, const SampledReceptance& receptance,
                                const std::vector<SpindleSpeed>& speeds, double searched_to) {
    require_usable(receptance, speeds, searched_to);
    require_positive(static_cast<double>(cut.pitch.size()), "averaged_limits", "number of teeth");
    for (const double pitch : cut.pitch) require_positive(pitch, "averaged_limits", "tooth pitch");
    return as_limits(crossings(cut, receptance, speeds, searched_to), speeds, searched_to);
}

StabilityLimits zero_order_limits(const DelaySystem& system, const SampledReceptance& receptance,
                                  const std::vector<SpindleSpeed>& speeds, double searched_to) {
    if (system.cutter.corner_radius == 0) {
        return averaged_limits(averaged(system, searched_to), receptance, speeds, searched_to);
    }
    require_usable(receptance, speeds, searched_to);
    return as_limits(nose_crossings(system, receptance, speeds, searched_to), speeds, searched_to);
}

}  // namespace standfast
