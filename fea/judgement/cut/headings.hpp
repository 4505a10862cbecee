#pragma once

#include <optional>

#include "fea/judgement/cut/cut_problem.hpp"

namespace standfast {

/// Feed headings (rad, in (-pi, pi]) that a pass is judged at.
struct Headings {
    double stability = 0;  ///< of the smallest limit
    double error = 0;      ///< of the largest surface error
    bool searched = false;
};

/// The heading that the pass fixes: by its wall, by feed_heading, or 0 where both sides are known
/// by modes or rigid and so the feed is along x. None where it is to be searched.
/// @throws std::domain_error if the wall's normal lies along the tool axis
std::optional<double> fixed_heading(const Job& job, const Pass& pass);

/// Headings at which the pass is judged. Where none is fixed: 24 headings around the circle, then
/// the worst one narrowed down by golden section to 1 deg, once for the smallest limit at the
/// given speeds (ranking_limits) and once for the largest static error. A turn by 180 deg changes
/// neither where the axial direction is not coupled with the others; then half the circle is
/// searched.
/// @param speeds  at which limits are compared; the programmed one, or a few over the window
/// @param depth   m, for the error; its heading hardly depends on it
Headings judged_headings(const CutProblem& problem, const std::vector<SpindleSpeed>& speeds,
                         double depth);

/// The same at the speeds and the depth that stand for the pass: what everything that is judged or
/// promised of it is judged at. The depth is the programmed one, else half the cutter's diameter.
Headings headings_of(const CutProblem& problem);

/// A few speeds that stand for the pass where none is programmed: 12 over the window that may be
/// offered, or over the machine's range where that is empty.
std::vector<SpindleSpeed> representative_speeds(const Job& job, const Pass& pass);

/// Headings at which a load is tried where none is fixed: 12 around the circle.
std::vector<double> load_headings(const Job& job, const Pass& pass);

}  // namespace standfast
