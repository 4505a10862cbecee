#include "fea/chatter/equation/cut_lines.hpp"

#include <algorithm>
#include <cmath>

#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;

constexpr double kLeftOut = 3e-4;
constexpr int kLooked = 12;  // heights at which shapes are compared

double offset_of_work(const CutLines& lines, double depth) { return lines.from_top ? -depth : 0; }

// What the polynomial through `count` heights leaves of the values at kLooked heights.
MatrixXd left_by(int count) {
    const EdgeBasis basis{.height = gauss_heights(count, 1)};
    const std::vector<double> looked = gauss_heights(kLooked, 1);
    MatrixXd values(kLooked, count);
    for (int row = 0; row < kLooked; ++row) {
        const EdgeWeights weights = weights_at(basis, looked[static_cast<std::size_t>(row)]);
        for (int a = 0; a < count; ++a) values(row, a) = weights[static_cast<std::size_t>(a)];
    }
    return values;
}

// Weights of a line's points in the values at heights of a cut.
MatrixXd points_to_heights(const LineReceptance& line, const std::vector<double>& heights,
                           double offset) {
    MatrixXd weights(static_cast<Index>(heights.size()), static_cast<Index>(line.point.size()));
    for (std::size_t row = 0; row < heights.size(); ++row) {
        weights.row(static_cast<Index>(row)) =
            line_weights(line.point, offset + heights[row]).transpose();
    }
    return weights;
}

struct Misfit {
    double left = 0, whole = 0;  // both weighed with the peak's receptance
};

// Of every mode of a line, by the number of heights.
void add_misfits(std::vector<Misfit>& misfits, const LineReceptance& line, double offset,
                 double depth, int count) {
    const MatrixXd to_looked = points_to_heights(line, gauss_heights(kLooked, depth), offset);
    const MatrixXd to_heights = points_to_heights(line, gauss_heights(count, depth), offset);
    static const std::array<MatrixXd, kMostHeights> interpolation = [] {
        std::array<MatrixXd, kMostHeights> all;
        for (int n = 1; n <= kMostHeights; ++n) all[static_cast<std::size_t>(n - 1)] = left_by(n);
        return all;
    }();
    const MatrixXd left =
        to_looked - interpolation[static_cast<std::size_t>(count - 1)] * to_heights;
    for (const LineMode& mode : line.modes) {
        const Eigen::Matrix<double, 2, Eigen::Dynamic> shape = mode.shape.real().topRows<2>();
        const double w = mode.frequency.radians_per_second;
        const double peak = 1 / (w * w * std::max(2 * mode.damping_ratio, 1e-3));
        misfits.push_back({peak * (left * shape.transpose()).squaredNorm(),
                           peak * (to_looked * shape.transpose()).squaredNorm()});
    }
}

}  // namespace

int heights_needed(const CutLines& lines, double depth) {
    require_positive(depth, "heights_needed", "axial depth");
    if (lines.tool.point.size() == 1 && lines.work.point.size() == 1) return 1;
    for (int count = 2; count < kMostHeights; ++count) {
        std::vector<Misfit> misfits;
        add_misfits(misfits, lines.tool, 0, depth, count);
        add_misfits(misfits, lines.work, offset_of_work(lines, depth), depth, count);
        double largest = 0;
        for (const Misfit& one : misfits) largest = std::max(largest, one.whole);
        const bool enough = std::all_of(misfits.begin(), misfits.end(), [&](const Misfit& one) {
            return one.left * std::sqrt(one.whole / largest) <= kLeftOut * one.whole;
        });
        if (enough) return count;
    }
    return kMostHeights;
}

namespace {

ModalReceptance on_basis(const CutLines& lines, const EdgeBasis& basis, double depth) {
    return sum(along_edge(lines.tool, basis, 0, depth, true),
               along_edge(lines.work, basis, offset_of_work(lines, depth), depth, false));
}

}  // namespace

ModalReceptance edge_receptance(const CutLines& lines, double depth) {
    const int heights = lines.heights > 0 ? lines.heights : heights_needed(lines, depth);
    return on_basis(lines, {.height = gauss_heights(heights, depth), .lever = lines.lever}, depth);
}

ModalReceptance receptance_at_height(const CutLines& lines, double depth, double z) {
    return on_basis(lines, {.height = {z}}, depth);
}

}  // namespace standfast
