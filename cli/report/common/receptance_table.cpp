#include "cli/report/common/receptance_table.hpp"

#include <algorithm>

#include "fea/chatter/limits/zero_order.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/stack/cut_receptance.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

constexpr double kLeastHertz = 5000;

Eigen::Vector3d place_of_cut(const Job& job, const Pass& pass) {
    if (pass.path.empty() || job.stack.tiers.empty()) {
        return Eigen::Vector3d::Zero();
    }
    return highest_place(pass, tier_frames(job.stack).at(pass.tier));
}

/// The frequencies alone: the sampler's grid follows from the peaks, not from the values.
std::vector<double> grid(const std::vector<ModalTerm>& peaks, double up_to_hertz) {
    const SampledReceptance sampled = sample_receptance(
        [](AngularFrequency) -> Eigen::Matrix3cd { return Eigen::Matrix3cd::Zero(); }, peaks,
        AngularFrequency::from_hertz(up_to_hertz));
    std::vector<double> frequencies = {0};
    for (const AngularFrequency frequency : sampled.frequency) {
        frequencies.push_back(frequency.hertz());
    }
    return frequencies;
}

}  // namespace

ReceptanceTable receptance_table(const Job& job, const PassReport& report) {
    const Pass& pass = job.passes.at(report.pass);
    const SolvedSide tool = solve_tool_side(job.machine, job.tools.at(pass.tool));
    const SolvedSide work = solve_work_side(job.machine, job.stack, pass, place_of_cut(job, pass));
    const CutReceptance cut =
        cut_receptance(tool, work, pass.tilt, pass.turn, report.feed_heading.value_or(0));

    const double fastest =
        tooth_passing_hertz(job.machine.fastest, job.tools.at(pass.tool).cutter.teeth);
    ReceptanceTable table;
    table.frequency_hertz = grid(cut.modal.terms, std::max(kLeastHertz, fastest));
    table.tool.resize(table.frequency_hertz.size());
    table.work.resize(table.frequency_hertz.size());
    for_each_index(table.frequency_hertz.size(), [&](std::size_t i) {
        const auto frequency = AngularFrequency::from_hertz(table.frequency_hertz[i]);
        table.tool[i] = cut.axes_from_spindle.transpose() * receptance_of(tool, frequency) *
                        cut.axes_from_spindle;
        table.work[i] =
            cut.axes_from_stack.transpose() * receptance_of(work, frequency) * cut.axes_from_stack;
    });
    return table;
}

}  // namespace standfast
