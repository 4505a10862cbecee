#include "fea/judgement/tries/cut_tries.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "fea/chatter/limits/depth_stability.hpp"
#include "fea/chatter/motion/wall_motion.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

// Tries are worked on in blocks, so that a hopeless cut is given up early.
constexpr std::size_t kBlock = 16;
constexpr int kHeights = 5;
constexpr std::size_t kWhereTeethDiffer = 4;
constexpr std::size_t kLeastForTheWall = 8;
constexpr std::size_t kRoughWall = 12;
constexpr std::size_t kEnough = 64;  // tries that decide where the share is
constexpr double kFarUnder = 4;      // so many times smaller than what is asked
constexpr double kAll = 2;           // a share that is never reached

RigidCut cut_of_try(const CutProblem& problem, const DelaySystem& one, double depth) {
    RigidCut cut = problem.cut;
    cut.cutter = one.cutter;
    cut.law = one.law;
    cut.depth = depth;
    return cut;
}

/// What the tries of one cut share: the force of its law without edge forces, and of these alone.
struct SharedForce {
    ForceCourse chip, edge;
};

SharedForce shared_force(const CutProblem& problem, const EdgeBasis& basis, std::size_t harmonics,
                         double depth) {
    RigidCut chip = problem.cut;
    chip.depth = depth;
    RigidCut edge = chip;
    chip.law.tangential_edge = chip.law.radial_edge = chip.law.axial_edge = 0;
    edge.law.tangential = edge.law.radial = edge.law.axial = 0;
    const std::vector<double> heights = wall_heights(depth, kHeights);
    return {force_course(chip, basis, harmonics, heights),
            force_course(edge, basis, harmonics, heights)};
}

double ratio(double of, double to) { return to != 0 ? of / to : 1; }

/// The errors of those tries, m; they differ in receptance and in the size of chip and edge forces.
std::vector<double> wall_errors(const CutProblem& problem, const std::vector<DelaySystem>& tries,
                                const std::vector<std::size_t>& which, SpindleSpeed speed,
                                double depth) {
    const std::size_t count = which.size();
    std::vector<ModalReceptance> receptance(count);
    std::vector<std::size_t> harmonics(count);
    for_each_index(count, [&](std::size_t i) {
        const DelaySystem& one = tries[which[i]];
        receptance[i] = receptance_of_cut(one, depth);
        harmonics[i] =
            WallMotions::harmonics_needed(receptance[i], cut_of_try(problem, one, depth), speed);
    });
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const bool shared = !teeth_differ(cut);
    const std::size_t most = *std::max_element(harmonics.begin(), harmonics.end());
    std::map<int, SharedForce> forces;  // by the heights of the basis
    for (const ModalReceptance& one : receptance) {
        const int heights = one.basis.heights();
        if (shared && !forces.contains(heights)) {
            forces.emplace(heights, shared_force(problem, one.basis, most, depth));
        }
    }
    std::vector<double> error(count);
    for_each_index(count, [&](std::size_t i) {
        const RigidCut own = cut_of_try(problem, tries[which[i]], depth);
        ForceCourse force;
        if (shared) {
            const SharedForce& both = forces.at(receptance[i].basis.heights());
            force = combined(ratio(own.law.tangential, cut.law.tangential), both.chip,
                             ratio(own.law.tangential_edge, cut.law.tangential_edge), both.edge);
        }
        error[i] = WallMotions(receptance[i], own, speed, wall_heights(depth, kHeights), force)
                       .at(speed)
                       .largest_error;
    });
    return error;
}

/// Tries that were asked, and those of them in which the cut is stable.
struct Asked {
    std::size_t count = 0;
    std::vector<std::size_t> stable;
    double unstable() const {
        return 1 - static_cast<double>(stable.size()) / static_cast<double>(count);
    }
};

/// None once too many are not stable.
std::optional<Asked> stable_tries(const std::vector<DelaySystem>& tries, SpindleSpeed speed,
                                  double depth, double most, bool rough) {
    const std::size_t count = tries.size();
    std::vector<char> unstable(count, 0);
    std::vector<std::size_t> stable;
    CourseShelf shelf;
    const double doubt = rough ? doubt_in_a_search : usual_doubt;
    for (std::size_t from = 0; from < count; from += kBlock) {
        const std::size_t to = std::min(from + kBlock, count);
        for_each_index(to - from, [&](std::size_t i) {
            const DelaySystem& one = tries[from + i];
            unstable[from + i] =
                growth(prepare_depth(one, depth, &shelf), speed, doubt) > 1 ? 1 : 0;
        });
        for (std::size_t i = from; i < to; ++i) {
            if (unstable[i] == 0) stable.push_back(i);
        }
        const auto lost = static_cast<double>(to - stable.size());
        if (lost >= most * static_cast<double>(count)) return std::nullopt;
        if (rough && lost == 0) return Asked{to, std::move(stable)};
        const auto share = lost / static_cast<double>(to);
        if (most < 1 && to >= kEnough && share < most / kFarUnder) {
            return Asked{to, std::move(stable)};
        }
    }
    return Asked{count, std::move(stable)};
}

double unstable_of(const std::vector<DelaySystem>& tries, SpindleSpeed speed, double depth) {
    return stable_tries(tries, speed, depth, kAll, false)->unstable();
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

CutTries a_few(const CutTries& tries) {
    constexpr std::size_t kOneIn = 4, kFew = 24;
    if (tries.at_stability.size() < kOneIn * kFew) return tries;
    const auto every = [](const std::vector<DelaySystem>& all) {
        std::vector<DelaySystem> some;
        for (std::size_t i = 0; i < all.size(); i += kOneIn) some.push_back(all[i]);
        return some;
    };
    return {.at_stability = every(tries.at_stability),
            .at_error = every(tries.at_error),
            .rough = true};
}

std::optional<WallTries> wall_of_tries(const CutProblem& problem, const CutTries& tries,
                                       std::vector<std::size_t> stable, SpindleSpeed speed,
                                       double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    if (teeth_differ(cut)) {
        std::erase_if(stable, [](std::size_t i) { return i % kWhereTeethDiffer != 0; });
    }
    if (tries.rough && stable.size() > kRoughWall) stable.resize(kRoughWall);
    if (stable.size() < kLeastForTheWall) return std::nullopt;
    return WallTries{.error = wall_errors(problem, tries.of_wall(), stable, speed, depth)};
}

std::optional<TriedCut> try_cut(const CutProblem& problem, const CutTries& tries,
                                SpindleSpeed speed, double depth, double most) {
    const auto asked = stable_tries(tries.at_stability, speed, depth, most, tries.rough);
    if (!asked) return std::nullopt;
    TriedCut cut{.tries = static_cast<int>(asked->count),
                 .unstable = asked->unstable(),
                 .fresh_unstable = std::nullopt,
                 .wall = wall_of_tries(problem, tries, asked->stable, speed, depth)};
    if (rubs_as_its_group(problem) &&
        cut.unstable < problem.job->limits.chatter_probability_marginal) {
        cut.fresh_unstable = unstable_of(with_fresh_edges(tries.at_stability), speed, depth);
    }
    return cut;
}

}  // namespace standfast
