#pragma once

#include <Eigen/Core>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/solution/line_receptance.hpp"
#include "fea/solution/modal_receptance.hpp"
#include "fea/solution/modes.hpp"
#include "fea/solution/pole_receptance.hpp"
#include "fea/solution/receptance.hpp"
#include "fea/stack/stack_model.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

/// One side (tool or work), solved once and used by every pass, heading and study that needs it.
/// Axes: spindle axes for the tool, stack axes for the work side.
struct SolvedSide {
    bool rigid = false;
    bool measured = false;  ///< modes as given; then `system` is empty
    std::shared_ptr<const AssembledSystem> system;
    std::vector<Mode> modes;                         ///< of the system; lowest first
    ModalReceptance modal;                           ///< at the point of the cut
    std::shared_ptr<const DirectReceptance> direct;  ///< none where rigid or measured
    std::shared_ptr<const PoleReceptance> poles;     ///< of the same; none likewise
    MaterialPoint point;
    /// Along the cutting edge (cut_lines.hpp says how it runs); of modes as measured: one point.
    LineReceptance line;
    std::vector<MaterialPoint> line_points;  ///< of a modelled side
    double reach =
        0;  ///< m of edge that the material has: from the tip or from the top; 0: unknown
    Eigen::Matrix3d compliance = Eigen::Matrix3d::Zero();  ///< static, m/N
    std::vector<Assumption> notes;
};

/// How many modes are kept a side.
struct ModeChoice {
    int count = 0;  ///< 0: by the design's rule, all below `up_to`, at least 6
    AngularFrequency up_to = AngularFrequency::from_hertz(6000);
};

/// The tip of a tool, spindle axes: rigid, by its measured modes (u = direction / sqrt(mass), never
/// normalised), or by its model.
/// @throws std::domain_error where something is not physical, naming it
SolvedSide solve_tool_side(const Machine& machine, const ToolChain& tool,
                           const ModeChoice& choice = {});

/// A place on the cut tier, stack axes, likewise; in the state that the pass gives. At the point it
/// does not depend on the pass's tilt and turn, with a table that turns as little as with a head
/// that does: cut_receptance() turns it into tool axes. The line along the edge runs as the pass
/// tilts the tool: from the place to the tier's top, or where the pass's place was not given and
/// the tool stands upright, from the top down to the foot.
/// @param place  m, the cut, from the tier's foot, tier axes
SolvedSide solve_work_side(const Machine& machine, const Stack& stack, const Pass& pass,
                           const Eigen::Vector3d& place, const ModeChoice& choice = {});

/// G at one frequency by the direct solve where there is one, else by modes; m/N, side's axes.
Eigen::Matrix3cd receptance_of(const SolvedSide& side, AngularFrequency frequency);

/// The same for many frequencies, by the poles and residues of the direct problem where there are.
Eigen::Matrix3cd receptance_by_poles(const SolvedSide& side, AngularFrequency frequency);

/// Relative receptance at the cut: G = G_tool + R^T G_work R in tool axes (feed x).
/// The tool side's own axes differ from the tool axes by Rz(feed_heading).
struct CutReceptance {
    Eigen::Matrix3d axes_from_spindle = Eigen::Matrix3d::Identity();  ///< Rz(feed_heading)
    Eigen::Matrix3d axes_from_stack = Eigen::Matrix3d::Identity();    ///< R (tool to stack)
    ModalReceptance modal;  ///< tool terms first, then work terms; tool axes
    std::size_t tool_terms = 0;
};
CutReceptance cut_receptance(const SolvedSide& tool, const SolvedSide& work, double tilt,
                             double turn, double feed_heading);

/// Whether the cut's top is the tier's top and its tip goes down as it grows deeper: its place was
/// not given, and the tool stands along the tier's axis.
bool hangs_from_top(const Pass& pass, const TierFrame& frame);

/// Where along the path the part is softest: the place of largest static compliance across the
/// tool's axis in the middle of the cut, looked at in both ends of every stretch of the path and at
/// three places between; the first of equals. None of 40 places along a wall is softer by more than
/// 5 % (measured in tests).
/// @param depth  m, of the cut
Eigen::Vector3d softest_place(const Machine& machine, const Stack& stack, const Pass& pass,
                              double depth);

/// The highest place of the pass's path above the table, tier axes, and of equally high ones the
/// one farthest from the tier's axis; for a pass without a path the zero vector.
Eigen::Vector3d highest_place(const Pass& pass, const TierFrame& frame);

}  // namespace standfast
