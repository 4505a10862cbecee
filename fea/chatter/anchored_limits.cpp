#include "fea/chatter/anchored_limits.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <optional>
#include <utility>
#include <vector>

#include "fea/chatter/stand_in_tally.hpp"

namespace standfast {
namespace {

constexpr std::size_t kSpacing = 8;
constexpr std::size_t kSolvedToo = 12;  // one in so many that are filled in
constexpr double kAgree = 0.02;         // of the ratio

/// The limits of one search while they are found, by ascending speed.
class Anchored {
public:
    explicit Anchored(const BandSearch& search) : search_(search), order_(search.speeds().size()) {
        std::iota(order_.begin(), order_.end(), std::size_t{0});
        std::stable_sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
            return search_.speeds()[a] < search_.speeds()[b];
        });
        limits_.resize(order_.size());
        for (std::size_t i = 0; i < limits_.size(); ++i) limits_[i].speed = search.speeds()[i];
    }

    StabilityLimits find() {
        if (!order_.empty()) solve(0);
        for (std::size_t low = 0; low + 1 < order_.size();) {
            const std::size_t high = std::min(low + kSpacing, order_.size() - 1);
            solve(high);
            divide(low, high);
            low = high;
        }
        StabilityLimits found{.method = StabilityMethod::periodic,
                              .searched_to = search_.searched_to(),
                              .speeds = std::move(limits_)};
        if (filled_ > 0) found.stand_ins.push_back(tally_.of(SolvedOn::ratio, filled_));
        return found;
    }

private:
    SpeedLimit& at(std::size_t place) { return limits_[order_[place]]; }
    const std::optional<double>& averaged(std::size_t place) const {
        return search_.averaged(order_[place]).limit;
    }

    void solve(std::size_t place) {
        at(place).limit = search_.depth_on_bands(order_[place]);
        at(place).solved_on = SolvedOn::bands;
    }

    /// ln of limit over averaged limit; none where either is.
    std::optional<double> log_ratio(std::size_t place) {
        if (!at(place).limit || !averaged(place)) return std::nullopt;
        return std::log(*at(place).limit / *averaged(place));
    }

    std::optional<double> interpolated(std::size_t low, std::size_t high, std::size_t place) {
        const auto a = log_ratio(low), b = log_ratio(high);
        if (!a || !b || !averaged(place)) return std::nullopt;
        const auto log_speed = [&](std::size_t i) {
            return std::log(at(i).speed.radians_per_second);
        };
        const double span = log_speed(high) - log_speed(low);
        const double share = span > 0 ? (log_speed(place) - log_speed(low)) / span : 0;
        return *averaged(place) * std::exp(*a + share * (*b - *a));
    }

    void divide(std::size_t low, std::size_t high) {
        if (high - low < 2) return;
        const std::size_t middle = low + (high - low) / 2;
        const std::optional<double> guess = interpolated(low, high, middle);
        solve(middle);
        const bool agrees =
            guess && at(middle).limit && std::abs(*guess / *at(middle).limit - 1) < kAgree;
        for (const auto& [from, to] : {std::pair{low, middle}, std::pair{middle, high}}) {
            if (agrees) {
                fill(from, to);
            } else {
                divide(from, to);
            }
        }
    }

    void fill(std::size_t low, std::size_t high) {
        for (std::size_t place = low + 1; place < high; ++place) {
            const std::optional<double> depth = interpolated(low, high, place);
            if (depth && seen_++ % kSolvedToo != 0) {
                ++filled_;
                at(place).solved_on = SolvedOn::ratio;
                if (*depth <= search_.searched_to()) at(place).limit = depth;
                continue;
            }
            solve(place);
            if (depth && at(place).limit) tally_.add(*depth / *at(place).limit);
        }
    }

    const BandSearch& search_;
    std::vector<std::size_t> order_;
    std::vector<SpeedLimit> limits_;
    StandInTally tally_;
    std::size_t seen_ = 0;
    int filled_ = 0;
};

}  // namespace

StabilityLimits anchored_limits(const BandSearch& search) { return Anchored(search).find(); }

}  // namespace standfast
