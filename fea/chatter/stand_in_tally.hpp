#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "fea/chatter/stability_limits.hpp"

namespace standfast {

/// Differences between stand-ins and what they stand for, gathered.
class StandInTally {
public:
    /// @param ratio  of the stand-in's limit to the other
    void add(double ratio) {
        const double off = std::abs(ratio - 1);
        ++count_;
        worst_ = std::max(worst_, off);
        squares_ += off * off;
    }
    void add(const StandIn& other) {
        count_ += other.sample;
        worst_ = std::max(worst_, other.worst);
        squares_ += other.root_mean_square * other.root_mean_square * other.sample;
    }
    /// @param speeds  at which it stood in
    StandIn of(SolvedOn kind, std::ptrdiff_t speeds) const {
        return {kind, static_cast<int>(speeds), count_, worst_,
                count_ > 0 ? std::sqrt(squares_ / count_) : 0};
    }

private:
    int count_ = 0;
    double worst_ = 0, squares_ = 0;
};

}  // namespace standfast
