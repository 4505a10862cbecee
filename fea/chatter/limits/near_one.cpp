#include "fea/chatter/limits/near_one.hpp"

#include <algorithm>
#include <cmath>
#include <complex>

namespace standfast {
namespace {

constexpr double kRoughTolerance = 1e-2;
constexpr double kSettled = 0.2;  // of what a magnitude lacks of 1, the residual of a close look

Eigen::Index leading_mode(const ModalState& modes, const Eigen::VectorXcd& state) {
    double most = -1;
    Eigen::Index leading = 0;
    for (Eigen::Index m = 0; m < modes.modes(); ++m) {
        const double moves = (std::norm(state[2 * m]) + std::norm(state[2 * m + 1])) *
                             modes.shape.col(m).squaredNorm();
        if (moves <= most) continue;
        most = moves;
        leading = m;
    }
    return leading;
}

}  // namespace

double moved_by_cut(const PeriodMap& map, const MapEigenpair& pair) {
    const std::complex<double> lambda = map.modes().lambda[leading_mode(map.modes(), pair.vector)];
    const std::complex<double> free = std::exp(lambda * map.period());
    return std::min(std::abs(pair.value - free), std::abs(pair.value - std::conj(free))) /
           std::abs(pair.value);
}

MapLook look_at(const PeriodMap& map, double doubt, double share) {
    EigenpairSearch search(map, kRoughTolerance);
    MapLook look{.growth = std::abs(search.dominant(kRoughTolerance).value)};
    if (map.modes().modes() == 0 || std::abs(std::log(look.growth)) > doubt) return look;
    double largest = 0;
    for (const MapEigenpair& pair : search.beyond(std::exp(-doubt), kSettled)) {
        const double size = std::abs(pair.value), away = std::abs(std::log(size));
        look.told = look.told && (away > doubt || away > share * moved_by_cut(map, pair));
        largest = std::max(largest, size);
    }
    if (largest > 0) look.growth = largest;
    return look;
}

}  // namespace standfast
