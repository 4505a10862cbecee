#include "fea/chatter/limits/zero_order.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "fea/chatter/limits/lobe_crossing.hpp"
#include "fea/chatter/limits/lobe_segments.hpp"
#include "fea/chatter/limits/nose_limit.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kFirstOfEdge = 64;  // the first of the depths that double, of the searched one

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

// The averaged cut in the coordinates of a receptance's basis.
AveragedCut averaged_on(const DelaySystem& system, const EdgeBasis& basis, double depth) {
    AveragedCut cut = averaged_cut(system, depth);
    if (basis.is_point()) return cut;
    EdgeSum<Eigen::Matrix3d> sum = directional_sum(system, depth);
    sum.basis = basis;
    cut.mean_matrix = harmonic(sum, 0).real() / depth;
    return cut;
}

SampledReceptance sampled(const ModalReceptance& receptance,
                          const std::vector<AngularFrequency>& frequencies) {
    SampledReceptance samples{.frequency = frequencies, .value = {}};
    samples.value.resize(frequencies.size());
    for_each_index(frequencies.size(), [&](std::size_t i) {
        samples.value[i] = receptance_at(receptance, frequencies[i]);
    });
    return samples;
}

/// From `first` up, each twice the one before.
std::vector<double> doubling_depths(double first, double searched_to) {
    std::vector<double> depths;
    double depth = std::min(first, searched_to / 2);
    while (depth < searched_to) {
        depths.push_back(depth);
        depth *= 2;
    }
    depths.push_back(searched_to);
    return depths;
}

/// A0 or G changes with depth: a speed's limit lies where the limit for those of a depth falls to
/// that depth.
/// @param at  the averaged cut and the receptance of a depth
template <class At>
Crossings own_crossings(const DelaySystem& system, const At& at, double first,
                        const std::vector<SpindleSpeed>& speeds, double searched_to) {
    Crossings found(speeds.size()), before(speeds.size());
    double depth_before = 0;
    for (const double depth : doubling_depths(first, searched_to)) {
        const auto at_depth = at(depth);
        const SampledReceptance& receptance = at_depth.receptance;
        const Crossings here = crossings(at_depth.cut, receptance, speeds, 2 * depth);
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

struct AtDepth {
    AveragedCut cut;
    SampledReceptance receptance;
};

}  // namespace

AveragedCut averaged_cut(const DelaySystem& system, double depth) {
    AveragedCut cut{.mean_matrix = mean_directional_matrix(system, depth), .pitch = {}};
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        cut.pitch.push_back(tooth_pitch(system.cutter, tooth));
    }
    return cut;
}

SampledReceptance sampled_in_the_middle(const DelaySystem& system,
                                        const std::vector<AngularFrequency>& frequencies,
                                        double depth) {
    return sampled(receptance_in_the_middle(system, depth), frequencies);
}

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
        return averaged_limits(averaged_cut(system, searched_to), receptance, speeds, searched_to);
    }
    require_usable(receptance, speeds, searched_to);
    const auto at = [&](double depth) { return AtDepth{averaged_cut(system, depth), receptance}; };
    return as_limits(
        own_crossings(system, at, system.cutter.corner_radius / 20, speeds, searched_to), speeds,
        searched_to);
}

StabilityLimits zero_order_limits(const DelaySystem& system,
                                  const std::vector<AngularFrequency>& frequencies,
                                  const std::vector<SpindleSpeed>& speeds, double searched_to) {
    if (!system.lines) {
        return zero_order_limits(system, sampled(system.receptance, frequencies), speeds,
                                 searched_to);
    }
    const auto at = [&](double depth) {
        const ModalReceptance edge = receptance_of_cut(system, depth);
        return AtDepth{averaged_on(system, edge.basis, depth), sampled(edge, frequencies)};
    };
    require_usable(at(searched_to).receptance, speeds, searched_to);
    const double first = system.cutter.corner_radius > 0 ? system.cutter.corner_radius / 20
                                                         : searched_to / kFirstOfEdge;
    return as_limits(
        own_crossings(system, at, std::max(first, searched_to / kFirstOfEdge), speeds, searched_to),
        speeds, searched_to);
}

}  // namespace standfast
