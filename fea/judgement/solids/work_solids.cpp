#include "fea/judgement/solids/work_solids.hpp"

#include <optional>
#include <variant>

#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

bool is_round(const SectionShape& shape) {
    return std::holds_alternative<RoundShape>(shape) || std::holds_alternative<TubeShape>(shape);
}

bool is_general(const SectionShape& shape) { return std::holds_alternative<GeneralShape>(shape); }

bool has_width(const SectionShape& shape) {
    if (const auto* const general = std::get_if<GeneralShape>(&shape)) {
        return general->area > 0 && general->ix > 0 && general->iy > 0;
    }
    return width_x(shape) > 0 && width_y(shape) > 0;
}

void add_rectangle(std::vector<Eigen::Vector3d>& points, const SectionShape& shape, double z) {
    for (const double x : {-0.5, 0.5}) {
        for (const double y : {-0.5, 0.5}) {
            points.emplace_back(x * width_x(shape), y * width_y(shape), z);
        }
    }
}

/// None where it has no size.
std::optional<ConvexSolid> tier_solid(const Tier& tier, const TierFrame& frame) {
    const SectionShape top = tier.top.value_or(tier.shape);
    if (!(tier.height > 0) || !has_width(tier.shape) || !has_width(top)) return std::nullopt;
    const Pose pose{.origin = frame.foot, .axes = frame.axes};
    if (is_round(tier.shape)) {
        return ConvexSolid{tier.name,
                           RoundSolid{.foot_diameter = width_x(tier.shape),
                                      .top_diameter = width_x(top),
                                      .length = tier.height},
                           pose};
    }
    if (tier.top) {
        HullSolid hull;
        add_rectangle(hull.points, tier.shape, 0);
        add_rectangle(hull.points, top, tier.height);
        return ConvexSolid{tier.name, hull, pose};
    }
    const Eigen::Vector3d size(width_x(tier.shape), width_y(tier.shape), tier.height);
    const Eigen::Vector3d middle = frame.foot + frame.axes.col(2) * (tier.height / 2);
    return ConvexSolid{tier.name, BoxSolid{size}, {.origin = middle, .axes = frame.axes}};
}

std::optional<ConvexSolid> table_solid(const Table& table) {
    if (table.block) {
        return ConvexSolid{"table",
                           BoxSolid{{(*table.block)[0], (*table.block)[1], kTableThickness}},
                           {.origin = {0, 0, -kTableThickness / 2}}};
    }
    if (!(table.diameter > 0)) return std::nullopt;
    return ConvexSolid{"table",
                       RoundSolid{table.diameter, table.diameter, kTableThickness},
                       {.origin = {0, 0, -kTableThickness}}};
}

/// Joined to the cut tier without a joint that could give, directly or by others that are.
std::vector<bool> one_piece_with(const Stack& stack, std::size_t cut) {
    std::vector<bool> piece(stack.tiers.size(), false);
    piece.at(cut) = true;
    for (bool grown = true; grown;) {
        grown = false;
        for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
            const auto& host = stack.tiers[i].placement.host;
            if (!stack.tiers[i].joint.solid || !host || piece[i] == piece[*host]) continue;
            piece[i] = piece[*host] = grown = true;
        }
    }
    return piece;
}

void add_sides(WorkSolids& work, const Tier& tier, const TierFrame& frame) {
    for (const SideMass& side : tier.side) {
        const std::string name = side.name.empty() ? tier.name + " (side mass)" : side.name;
        if (side.size.minCoeff() > 0) {
            work.around.push_back(
                {name,
                 BoxSolid{side.size},
                 {.origin = frame.foot + frame.axes * side.at, .axes = frame.axes}});
        } else {
            work.left_out.push_back("\"" + name + "\", which has no size");
        }
    }
}

}  // namespace

WorkSolids work_solids(const Machine& machine, const Stack& stack, std::size_t cut) {
    WorkSolids work;
    if (auto table = table_solid(machine.table)) {
        work.around.push_back(std::move(*table));
    } else {
        work.left_out.emplace_back("the table, whose size is not given");
    }
    const std::vector<TierFrame> frames = tier_frames(stack);
    const std::vector<bool> piece = one_piece_with(stack, cut);
    for (std::size_t i = 0; i < stack.tiers.size(); ++i) {
        const Tier& tier = stack.tiers[i];
        if (auto solid = tier_solid(tier, frames[i])) {
            (piece[i] ? work.piece : work.around).push_back(std::move(*solid));
        } else {
            work.left_out.push_back("\"" + tier.name + "\", which has no size");
        }
        if (is_general(tier.shape)) {
            work.left_out.push_back("the true outline of \"" + tier.name +
                                    "\", known by its section figures only");
        }
        if (tier.lump) {
            work.left_out.push_back("the true outline of \"" + tier.name + "\", a rigid body");
        }
        add_sides(work, tier, frames[i]);
    }
    for (const Support& support : stack.supports) {
        work.left_out.push_back("\"" + support.name + "\", a support without a size");
    }
    return work;
}

}  // namespace standfast
