#include "fea/judgement/side_samples.hpp"

#include <utility>

#include "fea/quantities/for_each_index.hpp"
#include "fea/stack/frames.hpp"

namespace standfast {
namespace {

std::vector<ModalTerm> peaks_of_both(const SolvedSide& tool, const SolvedSide& work) {
    std::vector<ModalTerm> peaks = tool.modal.terms;
    peaks.insert(peaks.end(), work.modal.terms.begin(), work.modal.terms.end());
    return peaks;
}

}  // namespace

SideSamples sample_sides(const SolvedSide& tool, const SolvedSide& work, AngularFrequency up_to,
                         double coarser) {
    SampledReceptance of_tool = sample_receptance(
        [&](AngularFrequency frequency) { return receptance_by_poles(tool, frequency); },
        peaks_of_both(tool, work), up_to, coarser);
    SideSamples samples{
        .frequency = std::move(of_tool.frequency), .tool = std::move(of_tool.value), .work = {}};
    samples.work.resize(samples.frequency.size());
    for_each_index(samples.work.size(), [&](std::size_t i) {
        samples.work[i] = receptance_by_poles(work, samples.frequency[i]);
    });
    return samples;
}

SampledReceptance relative_samples(const SideSamples& samples, double tilt, double turn,
                                   double feed_heading) {
    const Eigen::Matrix3d from_spindle = tool_axes(0, 0, feed_heading);
    const Eigen::Matrix3d from_stack = tool_axes(tilt, turn, feed_heading);
    SampledReceptance relative{.frequency = samples.frequency, .value = {}};
    relative.value.reserve(samples.frequency.size());
    for (std::size_t i = 0; i < samples.frequency.size(); ++i) {
        relative.value.push_back(from_spindle.transpose() * samples.tool[i] * from_spindle +
                                 from_stack.transpose() * samples.work[i] * from_stack);
    }
    return relative;
}

}  // namespace standfast
