#include "fea/judgement/uncertainty/wall_tries.hpp"

#include <algorithm>
#include <cmath>

namespace standfast {

double WallTries::share_beyond(double size) const {
    if (error.empty()) return 0;
    const auto beyond =
        std::count_if(error.begin(), error.end(), [&](double e) { return std::abs(e) >= size; });
    return static_cast<double>(beyond) / static_cast<double>(error.size());
}

double WallTries::stays_under() const {
    if (error.empty()) return 0;
    constexpr double kNineInTen = 0.9;
    std::vector<double> sorted = error;
    std::sort(sorted.begin(), sorted.end(),
              [](double a, double b) { return std::abs(a) < std::abs(b); });
    const auto count = static_cast<double>(sorted.size());
    return sorted[static_cast<std::size_t>(std::ceil(kNineInTen * count)) - 1];
}

bool WallTries::either_way() const {
    const double far = std::abs(stays_under()) / 2;
    const auto beyond = [&](double sign) {
        return std::any_of(error.begin(), error.end(),
                           [&](double e) { return sign * e >= far && e != 0; });
    };
    return beyond(1) && beyond(-1);
}

}  // namespace standfast
