#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"
#include "materials/material.hpp"

namespace standfast {

/// A riser on the shelf.
struct ShelfRiser {
    std::string name;
    SectionShape shape = RoundShape{};
    std::optional<SectionShape> top;
    double height = 0;  ///< m
    Material material;
    std::optional<Joint> joint;  ///< under it; none: as under the tier that it replaces
};

/// Another way to hold what a tier is or stands by; what is not given stays as the job has it.
struct TradeHold {
    std::string name;
    std::size_t tier = 0;  ///< index into Stack::tiers
    std::optional<Joint> joint;
    std::optional<SectionShape> shape;
    std::optional<double> height;  ///< m
    std::optional<Material> material;
};

/// Stickouts to try with one tool.
struct ToolStickouts {
    std::size_t tool = 0;           ///< index into Job::tools
    std::vector<double> stickouts;  ///< m
};

/// What the study of riser against stickout is to look at. What is left empty has a default; see
/// trade_options.hpp.
struct Trade {
    std::optional<std::size_t> tier;  ///< whose height is traded
    std::vector<double> heights;      ///< m, of that tier as the job describes it
    /// Risers instead of it: rows of Job::shelf, from the lowest up; several are stacked.
    std::vector<std::vector<std::size_t>> risers;
    std::vector<double> stickouts;       ///< m, for every tool without its own
    std::vector<ToolStickouts> by_tool;  ///< these win
    std::vector<TradeHold> holds;
};

}  // namespace standfast
