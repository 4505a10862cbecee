#include "fea/judgement/tries/chatter_by_depth.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

// Tries are asked in blocks, so that a hopeless depth is given up early.
constexpr std::size_t kBlock = 8;

}  // namespace

ChatterByDepth::ChatterByDepth(const std::vector<DelaySystem>& tries,
                               std::vector<SpindleSpeed> speeds, double doubt)
    : tries_(tries),
      speeds_(std::move(speeds)),
      doubt_(doubt),
      known_(tries.size(), std::vector<Known>(speeds_.size())) {}

void ChatterByDepth::ask(std::size_t attempt, double depth, CourseShelf& shelf) {
    std::optional<PreparedDepth> cut;
    for (std::size_t speed = 0; speed < speeds_.size(); ++speed) {
        Known& known = known_[attempt][speed];
        if (known.tells(depth)) continue;
        if (!cut) cut = prepare_depth(tries_[attempt], depth, &shelf);
        const bool chatters = growth(*cut, speeds_[speed], doubt_) > 1;
        (chatters ? known.chatters_from : known.stable_to) = depth;
    }
}

bool ChatterByDepth::more_than(std::size_t most, double depth) const {
    for (std::size_t speed = 0; speed < speeds_.size(); ++speed) {
        const auto lost = std::count_if(
            known_.begin(), known_.end(),
            [&](const std::vector<Known>& one) { return one[speed].chatters_from <= depth; });
        if (static_cast<std::size_t>(lost) > most) return true;
    }
    return false;
}

bool ChatterByDepth::at_most(std::size_t most, double depth) {
    std::vector<std::size_t> open;
    for (std::size_t attempt = 0; attempt < tries_.size(); ++attempt) {
        const bool told = std::all_of(known_[attempt].begin(), known_[attempt].end(),
                                      [&](const Known& known) { return known.tells(depth); });
        if (!told) open.push_back(attempt);
    }
    CourseShelf shelf;
    for (std::size_t from = 0; from < open.size(); from += kBlock) {
        if (more_than(most, depth)) return false;
        const std::size_t count = std::min(kBlock, open.size() - from);
        for_each_index(count, [&](std::size_t i) { ask(open[from + i], depth, shelf); });
    }
    return !more_than(most, depth);
}

std::vector<std::size_t> ChatterByDepth::stable(std::size_t speed, double depth) const {
    std::vector<std::size_t> list;
    for (std::size_t attempt = 0; attempt < tries_.size(); ++attempt) {
        if (known_[attempt][speed].chatters_from > depth) list.push_back(attempt);
    }
    return list;
}

}  // namespace standfast
