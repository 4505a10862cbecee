#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/shape.hpp"
#include "fea/job/tool_chain.hpp"
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

/// A holder on the shelf, for any tool whose shank it takes.
struct ShelfHolder {
    std::string name;
    std::vector<HolderStep> steps;                  ///< from the gauge line down
    std::optional<Joint> grip;                      ///< none: the tool keeps its own
    std::optional<double> grip_length, grip_least;  ///< m; none: as in the tool's own holder
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

/// Tilts to try with one pass.
struct PassTilts {
    std::string pass;           ///< its name
    std::vector<double> tilts;  ///< rad
};

/// Holders to try with one tool.
struct ToolHolders {
    std::size_t tool = 0;              ///< index into Job::tools
    std::vector<std::size_t> holders;  ///< rows of Job::holders
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
    std::vector<PassTilts> tilts;
    std::vector<ToolHolders> holders;
    std::vector<Material> materials;  ///< of the traded tier
};

}  // namespace standfast
