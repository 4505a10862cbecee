#include "fea/judgement/tries/drawn_sides.hpp"

#include <algorithm>
#include <cmath>

#include "fea/quantities/for_each_index.hpp"
#include "fea/solution/reduced_system.hpp"

namespace standfast {
namespace {

constexpr double kMeasuredStiffness = 1.1;
constexpr double kMeasuredDamping = 1.25;

std::string measured_stiffness(const std::string& name) { return "measured stiffness: " + name; }
std::string measured_damping(const std::string& name) { return "measured damping: " + name; }

/// Stiffer modes of the same mass: the frequency rises with the root, the shape stays.
LineReceptance scaled(LineReceptance line, double stiffness, double damping) {
    for (LineMode& mode : line.modes) {
        mode.frequency.radians_per_second *= std::sqrt(stiffness);
        mode.damping_ratio *= damping;
    }
    return line;
}

}  // namespace

std::vector<Spread> side_spreads(const SolvedSide& side, const std::string& name,
                                 const Uncertainty& own) {
    if (side.system) return spread_groups(*side.system);
    if (!side.measured) return {};
    return {{.group = measured_stiffness(name),
             .factor = own.measured_stiffness.of(name).value_or(kMeasuredStiffness)},
            {.group = measured_damping(name),
             .factor = own.measured_damping.of(name).value_or(kMeasuredDamping)}};
}

double factor_in(const Draws& draws, Eigen::Index draw, const std::string& group) {
    const auto found = std::find(draws.group.begin(), draws.group.end(), group);
    return found == draws.group.end() ? 1 : draws.factor(draw, found - draws.group.begin());
}

std::vector<LineReceptance> drawn_lines(const SolvedSide& side, const std::string& name,
                                        const Draws& draws) {
    const auto count = static_cast<std::size_t>(draws.count());
    std::vector<LineReceptance> drawn(count, side.line);
    if (!side.system) {
        for (std::size_t draw = 0; draw < count && side.measured; ++draw) {
            const auto row = static_cast<Eigen::Index>(draw);
            drawn[draw] = scaled(side.line, factor_in(draws, row, measured_stiffness(name)),
                                 factor_in(draws, row, measured_damping(name)));
        }
        return drawn;
    }
    const ReducedSystem reduced =
        reduced_system(*side.system, side.modes, side.line.point,
                       point_displacements(*side.system, side.line_points));
    for_each_index(count, [&](std::size_t draw) {
        drawn[draw] = line_of_draw(reduced, [&](const std::string& group) {
            return factor_in(draws, static_cast<Eigen::Index>(draw), group);
        });
    });
    return drawn;
}

std::vector<Spread> merged_spreads(const std::vector<std::vector<Spread>>& lists) {
    std::vector<Spread> merged;
    for (const std::vector<Spread>& list : lists) {
        for (const Spread& spread : list) {
            const bool known = std::any_of(merged.begin(), merged.end(), [&](const Spread& other) {
                return other.group == spread.group;
            });
            if (!known) merged.push_back(spread);
        }
    }
    return merged;
}

}  // namespace standfast
