#include "fea/job/edits/beside_tier.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "fea/quantities/require.hpp"
#include "fea/stack/tier_section.hpp"

namespace standfast {
namespace {

constexpr double kSlack = 1e-9;      // m, along the axis
constexpr double kOnSurface = 0.02;  // of the way out to the surface: what a job may be off by

bool is_round(const SectionShape& shape) {
    return std::holds_alternative<RoundShape>(shape) || std::holds_alternative<TubeShape>(shape);
}

/// From the axis out to the surface at a height, along a unit vector across, m.
double way_out_to_surface(const Tier& tier, double height, const Eigen::Vector2d& along) {
    const SectionShape shape = shape_at(tier, height);
    const double x = width_x(shape) / 2, y = width_y(shape) / 2;
    if (is_round(shape)) return x;
    const double by_x = std::abs(along.x()) > 1e-12 ? x / std::abs(along.x()) : HUGE_VAL;
    const double by_y = std::abs(along.y()) > 1e-12 ? y / std::abs(along.y()) : HUGE_VAL;
    return std::min(by_x, by_y);
}

/// One tier of a pile, and the height of those above it, m.
struct Piece {
    std::size_t tier = 0;
    double drop = 0;
};

/// Where in a pile something comes to stand that was that far below the top of what it replaces.
Piece piece_below(const Stack& stack, std::size_t lowest, std::size_t count, double below_top) {
    Piece piece{lowest + count - 1, 0};
    while (piece.tier > lowest && below_top - piece.drop > stack.tiers[piece.tier].height) {
        piece.drop += stack.tiers[piece.tier].height;
        --piece.tier;
    }
    return piece;
}

class Move {
public:
    Move(Job& job, std::size_t tier, std::size_t count, const Tier& before)
        : job_(job), lowest_(tier), count_(count), before_(before) {}

    void guests() const {
        for (std::size_t i = 0; i < stack().tiers.size(); ++i) {
            Placement& placement = stack().tiers[i].placement;
            if (in_pile(i) || !placement.host || !in_pile(*placement.host) || !placement.at) {
                continue;
            }
            placement.host = place(*placement.at, stack().tiers[i].name);
        }
    }
    void side_masses() const {
        for (std::size_t i = 0; i < count_; ++i) stack().tiers[lowest_ + i].side.clear();
        for (SideMass mass : before_.side) {
            const std::size_t tier = place(mass.at, mass.name);
            stack().tiers[tier].side.push_back(std::move(mass));
        }
    }
    void supports() const {
        for (Support& support : stack().supports) {
            if (in_pile(support.tier)) support.tier = place(support.at, support.name);
        }
    }
    void passes() const {
        const double by = stack().tiers[lowest_].height - before_.height;
        for (Pass& pass : job_.passes) {
            if (!in_pile(pass.tier)) continue;
            for (Eigen::Vector3d& point : pass.path) place(point, pass.name);
            if (pass.state && pass.state->height) {
                *pass.state->height += by;
                require_positive(*pass.state->height, pass.name, "height of the tier in its state");
            }
        }
    }

private:
    Stack& stack() const { return job_.stack; }
    bool in_pile(std::size_t tier) const { return tier >= lowest_ && tier < lowest_ + count_; }

    /// Moves a place; @returns the tier of the pile on which it then is.
    std::size_t place(Eigen::Vector3d& at, const std::string& name) const {
        const Piece piece = piece_below(stack(), lowest_, count_, before_.height - at.z());
        const Eigen::Vector3d moved =
            place_beside(before_, stack().tiers[piece.tier], at, piece.drop);
        if (moved.z() < std::min(at.z(), 0.0) - kSlack) {
            throw std::domain_error("\"" + before_.name + "\" would be too low for \"" + name +
                                    "\" at its side");
        }
        at = moved;
        return piece.tier;
    }

    Job& job_;
    std::size_t lowest_, count_;
    const Tier& before_;
};

}  // namespace

Eigen::Vector3d place_beside(const Tier& before, const Tier& after, const Eigen::Vector3d& at,
                             double drop) {
    Eigen::Vector3d moved = at;
    moved.z() += after.height + drop - before.height;
    const double out = at.head<2>().norm();
    if (before.lump || after.lump || !(out > 0)) return moved;
    const Eigen::Vector2d along = at.head<2>() / out;
    const double was = way_out_to_surface(before, at.z(), along);
    const double is = way_out_to_surface(after, moved.z(), along);
    if (is != was && out >= was * (1 - kOnSurface)) moved.head<2>() = along * (out - was + is);
    return moved;
}

void move_beside(Job& job, std::size_t tier, std::size_t count, const Tier& before) {
    const Move move(job, tier, count, before);
    move.guests();
    move.side_masses();
    move.supports();
    move.passes();
}

double least_height(const Job& job, std::size_t tier) {
    const Stack& stack = job.stack;
    const Tier& host = stack.tiers.at(tier);
    double deepest = 0;
    const auto take = [&](double z) { deepest = std::max(deepest, host.height - z); };
    for (const Tier& guest : stack.tiers) {
        if (guest.placement.host == tier && guest.placement.at) take(guest.placement.at->z());
    }
    for (const SideMass& mass : host.side) take(mass.at.z());
    for (const Support& support : stack.supports) {
        if (support.tier == tier) take(support.at.z());
    }
    for (const Pass& pass : job.passes) {
        if (pass.tier != tier) continue;
        for (const Eigen::Vector3d& point : pass.path) take(point.z());
    }
    return deepest;
}

}  // namespace standfast
