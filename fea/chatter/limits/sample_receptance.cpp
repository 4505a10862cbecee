#include <algorithm>
#include <cmath>

#include "fea/chatter/limits/zero_order.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

/// Step allowed at a frequency, rad/s: a quarter of the half-power width within two of them about
/// a peak, growing with the distance beyond, 5 Hz at most.
double step_at(double w, const std::vector<ModalTerm>& peaks) {
    double step = AngularFrequency::from_hertz(5).radians_per_second;
    const double least = AngularFrequency::from_hertz(0.01).radians_per_second;
    for (const ModalTerm& peak : peaks) {
        const double wn = peak.frequency.radians_per_second;
        const double width = 2 * peak.damping_ratio * wn;
        step = std::min(step, std::max({width / 4, std::abs(w - wn) / 8, least}));
    }
    return step;
}

}  // namespace

std::vector<AngularFrequency> frequency_grid(const std::vector<ModalTerm>& peaks,
                                             AngularFrequency highest, double coarser) {
    require_positive(coarser, "frequency_grid", "factor on the steps");
    require_positive(highest.radians_per_second, "frequency_grid", "highest frequency");
    const double up_to = highest.radians_per_second;
    const double start = std::min(AngularFrequency::from_hertz(0.5).radians_per_second, up_to / 2);
    std::vector<AngularFrequency> frequencies;
    double w = start;
    while (w < up_to) {
        frequencies.push_back({w});
        w += coarser * step_at(w, peaks);
    }
    frequencies.push_back({up_to});
    return frequencies;
}

SampledReceptance sample_receptance(const std::function<Eigen::Matrix3cd(AngularFrequency)>& at,
                                    const std::vector<ModalTerm>& peaks, AngularFrequency up_to,
                                    double coarser) {
    SampledReceptance sampled;
    sampled.frequency = frequency_grid(peaks, up_to, coarser);
    sampled.value.resize(sampled.frequency.size());
    for_each_index(sampled.frequency.size(),
                   [&](std::size_t i) { sampled.value[i] = at(sampled.frequency[i]); });
    return sampled;
}

}  // namespace standfast
