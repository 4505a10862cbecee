#pragma once

#include <cmath>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/map/directional_course.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Which of the tries of a cut chatter at a few speeds, asked for one depth after the other.
///
/// A try that is stable at a depth is taken to be so at every lesser one, and one that chatters to
/// do so at every greater one, so that a search over depths asks each of them about twice. Islands
/// are not seen: what a search finds is to be judged anew.
class ChatterByDepth {
public:
    /// @param tries  must outlive it
    /// @param doubt  as in growth()
    ChatterByDepth(const std::vector<DelaySystem>& tries, std::vector<SpindleSpeed> speeds,
                   double doubt);

    /// Whether at each of the speeds at most so many tries chatter at that depth; given up as soon
    /// as more do.
    /// @param depth  m, > 0
    bool at_most(std::size_t most, double depth);

    /// Tries that are stable at one of the speeds (by its index) and a depth for which at_most()
    /// held; ascending.
    std::vector<std::size_t> stable(std::size_t speed, double depth) const;

private:
    /// What is known of one try at one speed, m.
    struct Known {
        double stable_to = 0, chatters_from = HUGE_VAL;
        bool tells(double depth) const { return depth <= stable_to || depth >= chatters_from; }
    };
    void ask(std::size_t attempt, double depth, CourseShelf& shelf);
    bool more_than(std::size_t most, double depth) const;

    const std::vector<DelaySystem>& tries_;
    std::vector<SpindleSpeed> speeds_;
    double doubt_ = 0;
    std::vector<std::vector<Known>> known_;  ///< try x speed
};

}  // namespace standfast
