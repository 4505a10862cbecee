#include "fea/studies/trade/finish_stock.hpp"

#include <algorithm>
#include <cmath>

#include "fea/chatter/motion/wall_motion.hpp"
#include "fea/judgement/answer/levels.hpp"
#include "fea/judgement/speed/deepest_that.hpp"
#include "fea/judgement/tries/cut_tries.hpp"

namespace standfast {
namespace {

constexpr double kNineInTen = 0.9;
constexpr double kLeastShare = 0.1, kMostShare = 3;
constexpr double kLess = 0.9;
constexpr int kHeights = 5;

Job with_radial(const Job& job, std::size_t pass, double radial) {
    Job other = job;
    other.passes[pass].radial = radial;
    return other;
}

/// The problem with its pass at another radial depth.
/// @param job  with_radial(); must outlive it
CutProblem at_radial(CutProblem problem, const Job& job) {
    problem.job = &job;
    problem.cut = rigid_cut(job, problem.pass(), 0);
    return problem;
}

/// Share of all tries that are stable and land within the tolerance.
double landing(const CutProblem& problem, const Headings& headings, SpindleSpeed speed,
               double depth) {
    CutTries tries = a_few(cut_tries(problem, headings));
    tries.rough = false;
    const auto tried = try_cut(problem, tries, speed, depth);
    if (!tried || !tried->wall) return 0;
    return (1 - tried->unstable) *
           (1 - share_outside(*tried->wall, problem.pass(), problem.job->limits));
}

/// m, of stock left on the wall by the computed cut; not negative.
double left_by(const CutProblem& problem, const Headings& headings, SpindleSpeed speed,
               double depth) {
    RigidCut cut = problem.cut;
    cut.depth = depth;
    const WallMotions motions(edge_at_heading(problem, headings.error, depth), cut, speed,
                              wall_heights(depth, kHeights));
    return std::max(0.0, -motions.at(speed).largest_error);
}

}  // namespace

FinishStock finish_stock(const CutProblem& problem, const Headings& headings, SpindleSpeed speed,
                         double depth) {
    const Pass& pass = problem.pass();
    const auto with = [&](double radial, const auto& answer) {
        const Job job = with_radial(*problem.job, problem.pass_index, radial);
        return answer(at_radial(problem, job), headings, speed, depth);
    };
    FinishStock finish;
    const double most =
        std::min(kMostShare * pass.radial, problem.tool_chain().cutter.diameter / 2);
    finish.stock = deepest_that(
        {.guess = pass.radial, .most = most, .least = kLeastShare * pass.radial},
        [&](double radial) { return with(radial, landing) >= kNineInTen ? 1.0 : kLess; });
    finish.left = with(pass.radial, left_by);
    if (finish.left > 0) {
        finish.second_takes = std::max(0.0, finish.left - with(finish.left, left_by));
    }
    return finish;
}

}  // namespace standfast
