#pragma once

#include <compare>
#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "fea/job/job.hpp"

namespace standfast {

// Room "edits": every change that the program makes to a job on its own account, as a value, and
// the one function that makes it (apply_edits.hpp). Advice, trade, reach and cures edit through it;
// how a change is written in a job file is the command line's affair. Tiers, tools and passes are
// known by their names, which stay when their places in the lists shift.

struct TierHeight {
    std::string tier;
    double height = 0;  ///< m
};
struct TierSection {
    std::string tier;
    SectionShape shape;
    std::optional<SectionShape> top;  ///< none: no taper
};
struct TierMaterial {
    std::string tier;
    Material material;
};
/// What stands on a tier's foot is held another way.
struct TierHold {
    std::string tier;
    Joint joint;
};
/// One piece with what it stands on.
struct SolidJoint {
    std::string tier;
};
struct JointLoss {
    std::string tier;
    double loss = 0;  ///< loss factor, -
};
struct DovetailSize {
    std::string tier;
    std::optional<double> width, length;  ///< m; none: as it is
};
/// Risers from the shelf in a tier's place, from the lowest up.
struct ShelfRisers {
    std::string tier;
    std::vector<ShelfRiser> risers;
};
struct Stickout {
    std::string tool;
    double stickout = 0;  ///< m, holder face to tip
};
/// A holder from the shelf in the place of a tool's own.
struct ToolHolder {
    std::string tool;
    ShelfHolder holder;
};
struct GripLoss {
    std::string tool;
    double loss = 0;  ///< loss factor, -
};
struct ToothCount {
    std::string tool;
    int teeth = 0;
};
struct ToothPitch {
    std::string tool;
    std::vector<double> pitch;  ///< rad, tooth to tooth
};
struct PassSpeed {
    std::string pass;
    SpindleSpeed speed;
};
struct AxialDepth {
    std::string pass;
    double axial = 0;  ///< m
};
struct RadialDepth {
    std::string pass;
    double radial = 0;  ///< m
};
struct FeedPerTooth {
    std::string pass;
    double feed = 0;  ///< m
};
/// The spindle leans by another angle toward the pass's own `turn`.
struct PassTilt {
    std::string pass;
    double tilt = 0;  ///< rad
};

using Edit = std::variant<TierHeight, TierSection, TierMaterial, TierHold, SolidJoint, JointLoss,
                          DovetailSize, ShelfRisers, Stickout, ToolHolder, GripLoss, ToothCount,
                          ToothPitch, PassSpeed, AxialDepth, RadialDepth, FeedPerTooth, PassTilt>;

/// What of a job an edit sets; two that set the same cannot be made together.
struct EditTarget {
    enum class What {
        height,
        section,
        material,
        joint,
        stickout,
        holder,
        grip,
        teeth,
        speed,
        axial,
        radial,
        feed,
        tilt
    };
    What what = What::height;
    std::string name;  ///< of the tier, tool or pass

    auto operator<=>(const EditTarget&) const = default;
};
/// Several where a change replaces more than one thing.
std::vector<EditTarget> targets_of(const Edit& edit);
bool set_the_same(const Edit& a, const Edit& b);

/// Which side must be solved again after a change: tool, holder and spindle, or the stack. Speeds,
/// depths, feed and teeth change neither.
bool changes_tool(const std::vector<Edit>& edits);
bool changes_work(const std::vector<Edit>& edits);

}  // namespace standfast
