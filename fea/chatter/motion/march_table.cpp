#include "fea/chatter/motion/march_table.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/cutting/edge_law.hpp"
#include "fea/cutting/edge_slices.hpp"

namespace standfast {
namespace {

using Eigen::Vector3d;

constexpr double kTurn = 2 * std::numbers::pi;

// A slice of the edge with its force law: force = height (edge + chip offset).
struct MarchSlice {
    double middle, height;
    double cotangent;  // of the lead angle
    AnglePolynomial<Vector3d> edge, per_offset;
};

AnglePolynomial<Vector3d> difference(const AnglePolynomial<Vector3d>& a,
                                     const AnglePolynomial<Vector3d>& b) {
    return {a.constant - b.constant, a.cos1 - b.cos1, a.sin1 - b.sin1, a.cos2 - b.cos2,
            a.sin2 - b.sin2};
}

std::vector<MarchSlice> march_slices(const RigidCut& cut, int count) {
    std::vector<MarchSlice> slices;
    for (const EdgeSlice& part : edge_slices(cut.cutter, cut.depth)) {
        const double share = (part.to - part.from) / cut.depth;
        const int pieces = std::max(1, static_cast<int>(std::lround(count * share)));
        const double height = (part.to - part.from) / pieces;
        const auto edge = force_per_height(cut.cutter, cut.law, part, {0, 0});
        const auto both = force_per_height(cut.cutter, cut.law, part, {0, 1});
        for (int k = 0; k < pieces; ++k) {
            slices.push_back({part.from + (k + 0.5) * height, height,
                              part.lead_cosine / part.lead_sine, edge, difference(both, edge)});
        }
    }
    return slices;
}

// Part of a step in which a slice at this angle cuts.
double engaged_share(const Engagement& engagement, double angle, double width) {
    const double from = std::max(angle - width / 2, engagement.entry);
    const double to = std::min(angle + width / 2, engagement.exit);
    return std::max(0.0, to - from) / width;
}

}  // namespace

MarchTable march_table(const RigidCut& cut, int steps, int count) {
    const std::vector<MarchSlice> slices = march_slices(cut, count);
    const double lag = lag_per_height(cut.cutter);
    MarchTable table;
    for (const MarchSlice& slice : slices) table.middle.push_back(slice.middle);
    for (int grid = 0; grid < steps; ++grid) {
        table.first.push_back(static_cast<int>(table.engaged.size()));
        for (std::size_t k = 0; k < slices.size(); ++k) {
            const MarchSlice& slice = slices[k];
            const double angle = kTurn * grid / steps - lag * slice.middle;
            const double wrapped = angle - kTurn * std::floor(angle / kTurn);
            const double width = kTurn / steps + std::abs(lag) * slice.height;
            const double share = engaged_share(cut.engagement, wrapped, width);
            if (share == 0) continue;
            table.engaged.push_back({static_cast<int>(k), share * slice.height, std::sin(wrapped),
                                     std::cos(wrapped), -slice.cotangent,
                                     value_at(slice.edge, wrapped),
                                     value_at(slice.per_offset, wrapped)});
        }
    }
    table.first.push_back(static_cast<int>(table.engaged.size()));
    return table;
}

}  // namespace standfast
