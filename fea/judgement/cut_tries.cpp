#include "fea/judgement/cut_tries.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/depth_stability.hpp"
#include "fea/chatter/wall_motion.hpp"
#include "fea/judgement/pass_odds.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

// Tries are worked on in blocks, so that a hopeless cut is given up early.
constexpr std::size_t kBlock = 32;
constexpr int kHeights = 5;
constexpr std::size_t kWhereTeethDiffer = 4;
constexpr std::size_t kLeastForTheWall = 8;
constexpr double kAll = 2;  // a share that is never reached

RigidCut cut_of_try(const CutProblem& problem, const DelaySystem& one, double depth) {
    RigidCut cut = problem.cut;
    cut.cutter = one.cutter;
    cut.law = one.law;
    cut.depth = depth;
    return cut;
}

double wall_error_of_try(const CutProblem& problem, const DelaySystem& one, SpindleSpeed speed,
                         double depth) {
    return WallMotions(receptance_of_cut(one, depth), cut_of_try(problem, one, depth), speed,
                       wall_heights(depth, kHeights))
        .at(speed)
        .largest_error;
}

/// Indices of the tries in which the cut is stable; none once too many are not.
std::optional<std::vector<std::size_t>> stable_tries(const std::vector<DelaySystem>& tries,
                                                     SpindleSpeed speed, double depth,
                                                     double most) {
    const std::size_t count = tries.size();
    std::vector<char> unstable(count, 0);
    std::vector<std::size_t> stable;
    for (std::size_t from = 0; from < count; from += kBlock) {
        const std::size_t to = std::min(from + kBlock, count);
        for_each_index(to - from, [&](std::size_t i) {
            const DelaySystem& one = tries[from + i];
            unstable[from + i] = growth(prepare_depth(one, depth), speed) > 1 ? 1 : 0;
        });
        for (std::size_t i = from; i < to; ++i) {
            if (unstable[i] == 0) stable.push_back(i);
        }
        const auto lost = static_cast<double>(to - stable.size());
        if (lost >= most * static_cast<double>(count)) return std::nullopt;
    }
    return stable;
}

std::optional<WallTries> tried_wall(const CutProblem& problem, const CutTries& tries,
                                    std::vector<std::size_t> stable, SpindleSpeed speed,
                                    double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    if (teeth_differ(cut)) {
        std::erase_if(stable, [](std::size_t i) { return i % kWhereTeethDiffer != 0; });
    }
    if (stable.size() < kLeastForTheWall) return std::nullopt;
    WallTries wall{.error = std::vector<double>(stable.size())};
    for_each_index(stable.size(), [&](std::size_t i) {
        wall.error[i] = wall_error_of_try(problem, tries.of_wall()[stable[i]], speed, depth);
    });
    return wall;
}

double unstable_of(const std::vector<DelaySystem>& tries, SpindleSpeed speed, double depth) {
    const auto stable = stable_tries(tries, speed, depth, kAll);
    return 1 - static_cast<double>(stable->size()) / static_cast<double>(tries.size());
}

}  // namespace

std::vector<DelaySystem> with_fresh_edges(std::vector<DelaySystem> tries) {
    for (DelaySystem& one : tries) one.law.process_damping = 0;
    return tries;
}

CutTries cut_tries(const CutProblem& problem, const Headings& headings) {
    if (!problem.draws) return {};
    CutTries tries{.at_stability = drawn_systems(problem, headings.stability), .at_error = {}};
    if (headings.error != headings.stability) {
        tries.at_error = drawn_systems(problem, headings.error);
    }
    return tries;
}

std::optional<TriedCut> try_cut(const CutProblem& problem, const CutTries& tries,
                                SpindleSpeed speed, double depth, double most) {
    const auto stable = stable_tries(tries.at_stability, speed, depth, most);
    if (!stable) return std::nullopt;
    const auto count = static_cast<double>(tries.at_stability.size());
    TriedCut cut{.tries = static_cast<int>(tries.at_stability.size()),
                 .unstable = 1 - static_cast<double>(stable->size()) / count,
                 .fresh_unstable = std::nullopt,
                 .wall = tried_wall(problem, tries, *stable, speed, depth)};
    if (rubs_as_its_group(problem) &&
        cut.unstable < problem.job->limits.chatter_probability_marginal) {
        cut.fresh_unstable = unstable_of(with_fresh_edges(tries.at_stability), speed, depth);
    }
    return cut;
}

double counting_error(double share, int tries) {
    // Half a try either way keeps the error of "none in n" from being 0.
    const double inside = std::clamp(share, 0.5 / tries, 1 - 0.5 / tries);
    return std::sqrt(inside * (1 - inside) / tries);
}

}  // namespace standfast
