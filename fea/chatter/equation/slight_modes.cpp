#include "fea/chatter/equation/slight_modes.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

using Eigen::Index;

constexpr double kMatters = 1e-2;  // share of the largest peak that sets what is fast
constexpr double kShallow = 0.1;   // of the diameter: the corner counts as in light cuts
constexpr double kBeyond = 2;      // so many times faster is static

// Largest receptance at its own peak that a shape has at any of its points, m/N.
template <class Shape>
double peak_of(const Shape& shape, AngularFrequency frequency, double damping_ratio, int axes) {
    const double w = frequency.radians_per_second;
    double most = 0;
    for (Index point = 0; point + 3 <= shape.size(); point += 3) {
        most = std::max(most, shape.segment(point, axes).squaredNorm());
    }
    return most / (w * w * 2 * std::max(damping_ratio, 1e-4));
}

Eigen::Map<const Eigen::VectorXcd> flat(const LineMode& mode) {
    return {mode.shape.data(), mode.shape.size()};
}

// What is kept: enough of a peak, and not so fast that what is left of it is static.
struct Rule {
    double least = 0;  ///< m/N
    AngularFrequency fastest = {HUGE_VAL};
    bool keeps(double peak, AngularFrequency frequency) const {
        return peak >= least && frequency <= fastest;
    }
};

struct Peak {
    double size = 0;
    AngularFrequency frequency;
};

// `sings` is the peak, m/N, from which a mode can sing by itself.
Rule rule_for(const std::vector<Peak>& peaks, double share, double sings) {
    double most = 0;
    for (const Peak& peak : peaks) most = std::max(most, peak.size);
    const double matters = std::clamp(sings, kMatters * most, most);
    double fastest = 0;
    for (const Peak& peak : peaks) {
        if (peak.size >= matters) {
            fastest = std::max(fastest, peak.frequency.radians_per_second);
        }
    }
    return {share * most, {fastest > 0 ? kBeyond * fastest : HUGE_VAL}};
}

void add_peaks(std::vector<Peak>& peaks, const LineReceptance& line, int axes) {
    for (const LineMode& mode : line.modes) {
        peaks.push_back(
            {peak_of(flat(mode), mode.frequency, mode.damping_ratio, axes), mode.frequency});
    }
}

LineReceptance kept(const LineReceptance& line, const Rule& rule, int axes) {
    LineReceptance result{.point = line.point, .modes = {}, .residual = line.residual};
    for (const LineMode& mode : line.modes) {
        const double peak = peak_of(flat(mode), mode.frequency, mode.damping_ratio, axes);
        if (rule.keeps(peak, mode.frequency)) {
            result.modes.push_back(mode);
        } else {
            result.residual += static_part(mode);
        }
    }
    return result;
}

ModalReceptance kept(const ModalReceptance& receptance, const Rule& rule, int axes) {
    ModalReceptance result = receptance, slight = receptance;
    result.terms.clear();
    slight.terms.clear();
    slight.residual.setZero();
    for (const ModalTerm& term : receptance.terms) {
        const double peak = peak_of(term.shape, term.frequency, term.damping_ratio, axes);
        (rule.keeps(peak, term.frequency) ? result : slight).terms.push_back(term);
    }
    result.residual += static_compliance(slight);
    return result;
}

DelaySystem without(const DelaySystem& system, double share, double sings) {
    const int axes = system.cutter.corner_radius > 0 ? 3 : 2;
    DelaySystem result = system;
    std::vector<Peak> peaks;
    for (const ModalTerm& term : system.receptance.terms) {
        peaks.push_back(
            {peak_of(term.shape, term.frequency, term.damping_ratio, axes), term.frequency});
    }
    result.receptance = kept(system.receptance, rule_for(peaks, share, sings), axes);
    if (!system.lines) return result;
    peaks.clear();
    add_peaks(peaks, system.lines->tool, axes);
    add_peaks(peaks, system.lines->work, axes);
    const Rule rule = rule_for(peaks, share, sings);
    CutLines lines = *system.lines;
    lines.tool = kept(lines.tool, rule, axes);
    lines.work = kept(lines.work, rule, axes);
    result.lines = std::make_shared<const CutLines>(std::move(lines));
    return result;
}

}  // namespace

DelaySystem without_slight_modes(const DelaySystem& system, double share) {
    return without(system, share, 0);
}

DelaySystem without_slight_modes(const DelaySystem& system, double share, double depth,
                                 double least_gain) {
    const double shallow = std::min(depth, kShallow * system.cutter.diameter);
    const double gain = 2 * depth * mean_directional_matrix(system, shallow).norm();
    return without(system, share, gain > 0 ? least_gain / gain : HUGE_VAL);
}

}  // namespace standfast
