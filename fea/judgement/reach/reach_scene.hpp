#pragma once

#include <Eigen/Geometry>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/cut/cut_place.hpp"
#include "fea/judgement/solids/solid_distance.hpp"
#include "fea/judgement/solids/tool_solids.hpp"

namespace standfast {

/// A solid of the work side and the box along the stack's axes that holds it.
struct BoxedSolid {
    ConvexSolid solid;
    Eigen::AlignedBox3d box;
};

/// All that a pass's tool may come near to, made once for all stickouts. The piece differs from
/// place to place by what is cut away there; the rest stands still.
struct ReachScene {
    struct Place {
        CutPlace place;
        std::vector<BoxedSolid> piece;
    };
    std::vector<BoxedSolid> around;
    std::vector<Place> places;
    std::vector<std::string> left_out;
};

/// @throws std::domain_error where tier or host do not exist or a size is not physical
ReachScene reach_scene(const Job& job, const Pass& pass);

/// Two solids and how near they come.
struct Gap {
    double distance = 0;   ///< m, 0: touch or overlap
    double clearance = 0;  ///< m, wanted
    std::string tool, work;
    std::string rubs;  ///< neck or shank that stands flush with the finished wall; else empty
    double margin() const { return distance - clearance; }
    bool clear() const { return distance > 0 && margin() >= 0; }
};

/// Whether all gaps are looked at, or only clear or not is asked.
enum class Search { whole, at_first_fault };

/// Relief that neck and shank want along the wall that was cut, m; necks are ground a few
/// hundredths to a few tenths of a millimetre thinner (common practice, no source).
constexpr double kRelief = 0.03e-3;

/// The gap with the least margin over all places. The cutter's flutes against the piece do not
/// count. Neck and shank count against it only where they meet it; within kRelief of the finished
/// wall they rub, which no stickout cures.
Gap nearest_gap(const ReachScene& scene, const std::vector<ToolSolid>& tool,
                const SolidDistance& distance, double clearance, Search ends);

}  // namespace standfast
