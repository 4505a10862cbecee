#include "fea/chatter/slight_modes.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

using Eigen::Index;

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

double largest_peak(const LineReceptance& line, int axes) {
    double most = 0;
    for (const LineMode& mode : line.modes) {
        most = std::max(most, peak_of(flat(mode), mode.frequency, mode.damping_ratio, axes));
    }
    return most;
}

LineReceptance kept(const LineReceptance& line, double least, int axes) {
    LineReceptance result{.point = line.point, .modes = {}, .residual = line.residual};
    for (const LineMode& mode : line.modes) {
        if (peak_of(flat(mode), mode.frequency, mode.damping_ratio, axes) >= least) {
            result.modes.push_back(mode);
        } else {
            result.residual += static_part(mode);
        }
    }
    return result;
}

ModalReceptance kept(const ModalReceptance& receptance, double least, int axes) {
    ModalReceptance result = receptance, slight = receptance;
    result.terms.clear();
    slight.terms.clear();
    slight.residual.setZero();
    for (const ModalTerm& term : receptance.terms) {
        const bool stays =
            peak_of(term.shape, term.frequency, term.damping_ratio, axes) >= least;
        (stays ? result : slight).terms.push_back(term);
    }
    result.residual += static_compliance(slight);
    return result;
}

}  // namespace

DelaySystem without_slight_modes(const DelaySystem& system, double share) {
    const int axes = system.cutter.corner_radius > 0 ? 3 : 2;
    DelaySystem result = system;
    double most = 0;
    for (const ModalTerm& term : system.receptance.terms) {
        most = std::max(most, peak_of(term.shape, term.frequency, term.damping_ratio, axes));
    }
    result.receptance = kept(system.receptance, share * most, axes);
    if (!system.lines) return result;
    const double of_lines =
        std::max(largest_peak(system.lines->tool, axes), largest_peak(system.lines->work, axes));
    CutLines lines = *system.lines;
    lines.tool = kept(lines.tool, share * of_lines, axes);
    lines.work = kept(lines.work, share * of_lines, axes);
    result.lines = std::make_shared<const CutLines>(std::move(lines));
    return result;
}

}  // namespace standfast
