#include "fea/studies/explain/cause_modes.hpp"

#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <limits>
#include <stdexcept>
#include <utility>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/judgement/cut/sides.hpp"

namespace standfast {
namespace {

constexpr double kLeastShare = 0.05;

double answer_at(const ModalTerm& term, double w) {
    const double wn = term.frequency.radians_per_second;
    const std::complex<double> dynamic(wn * wn - w * w, 2 * term.damping_ratio * wn * w);
    return term.shape.head<2>().squaredNorm() / std::abs(dynamic);
}

/// Modes of a side in the order of its terms.
std::vector<ReportedMode> modes_of(const SolvedSide& side) {
    if (!side.measured) return reported_modes(side, std::numeric_limits<int>::max());
    std::vector<ReportedMode> modes;
    modes.reserve(side.modal.terms.size());
    for (const ModalTerm& term : side.modal.terms) {
        modes.push_back({term.frequency.hertz(), term.damping_ratio, {}});
    }
    return modes;
}

bool alike(const CauseMode& a, const CauseMode& b) {
    const double f = a.mode.frequency_hertz;
    if (a.tool_side != b.tool_side || std::abs(b.mode.frequency_hertz - f) > 0.005 * f) {
        return false;
    }
    if (a.mode.strain_share.empty() || b.mode.strain_share.empty()) return false;
    return a.mode.strain_share.front().first == b.mode.strain_share.front().first;
}

/// Adds a mode to the list, or to its twin of the other plane.
void add_mode(std::vector<CauseMode>& list, CauseMode mode) {
    for (CauseMode& known : list) {
        if (!alike(known, mode)) continue;
        known.share += mode.share;
        return;
    }
    list.push_back(std::move(mode));
}

}  // namespace

std::vector<CauseMode> cause_modes(const CutProblem& problem, double heading, double hertz) {
    const CutReceptance receptance = receptance_at_heading(problem, heading);
    const std::vector<ReportedMode> tool = modes_of(*problem.tool), work = modes_of(*problem.work);
    const double w = AngularFrequency::from_hertz(hertz).radians_per_second;
    std::vector<CauseMode> list;
    double sum = 0;
    for (std::size_t i = 0; i < receptance.modal.terms.size(); ++i) {
        const double answer = answer_at(receptance.modal.terms[i], w);
        const bool of_tool = i < receptance.tool_terms;
        const std::vector<ReportedMode>& side = of_tool ? tool : work;
        const std::size_t at = of_tool ? i : i - receptance.tool_terms;
        sum += answer;
        if (at < side.size()) add_mode(list, {of_tool, side[at], answer});
    }
    for (CauseMode& mode : list) mode.share = sum > 0 ? mode.share / sum : 0;
    std::erase_if(list, [](const CauseMode& mode) { return mode.share < kLeastShare; });
    std::stable_sort(list.begin(), list.end(),
                     [](const CauseMode& a, const CauseMode& b) { return a.share > b.share; });
    return list;
}

double regenerative_gain(const CutProblem& problem, double heading, double hertz) {
    const Pass& pass = problem.pass();
    if (!pass.speed) throw std::domain_error("regenerative gain: the pass has no speed");
    DelaySystem system;
    system.cutter = problem.cut.cutter;
    system.engagement = problem.cut.engagement;
    system.law = problem.cut.law;
    const double depth = pass.axial.value_or(problem.tool_chain().cutter.diameter / 2);
    const AngularFrequency frequency = AngularFrequency::from_hertz(hertz);
    const Eigen::Matrix3cd loop =
        mean_directional_matrix(system, depth).cast<std::complex<double>>() *
        receptance_at(receptance_at_heading(problem, heading).modal, frequency);
    std::complex<double> between_teeth = 0;
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        between_teeth += 1.0 - std::polar(1.0, -frequency.radians_per_second *
                                                   tooth_delay(system.cutter, tooth, *pass.speed));
    }
    between_teeth /= static_cast<double>(system.cutter.teeth());
    const Eigen::ComplexEigenSolver<Eigen::Matrix3cd> solver(loop, false);
    return std::max(0.0, (solver.eigenvalues() * between_teeth).real().maxCoeff());
}

std::vector<RankedFrequency> ranked_by_gain(const CutProblem& problem, double heading,
                                            const std::vector<double>& hertz) {
    std::vector<RankedFrequency> list;
    list.reserve(hertz.size());
    for (const double f : hertz) list.push_back({f, regenerative_gain(problem, heading, f)});
    std::stable_sort(
        list.begin(), list.end(),
        [](const RankedFrequency& a, const RankedFrequency& b) { return a.gain > b.gain; });
    return list;
}

}  // namespace standfast
