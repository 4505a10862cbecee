#include "fea/judgement/advice/changed_pass.hpp"

#include <algorithm>

#include "fea/job/edits/apply_edits.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/tries/pass_odds.hpp"

namespace standfast {
namespace {

/// Where along its path a pass is judged may change with its depth.
bool moves_the_place(const Job& before, const Job& after, std::size_t pass) {
    if (before.passes[pass].axial == after.passes[pass].axial) return false;
    return judged_place(before, before.passes[pass]) != judged_place(after, after.passes[pass]);
}

}  // namespace

ChangedPass changed_pass(const AdviceCase& given, const std::vector<Candidate>& changes) {
    const CutProblem& before = *given.problem;
    std::vector<Edit> set;
    for (const Candidate& change : changes) {
        set.insert(set.end(), change.set.begin(), change.set.end());
    }
    ChangedPass changed;
    changed.job = std::make_shared<const Job>(edited(*before.job, set));
    const Pass& pass = changed.job->passes[before.pass_index];
    const bool tool = changes_tool(set);
    const bool work =
        changes_work(set) || moves_the_place(*before.job, *changed.job, before.pass_index);
    changed.problem = before;
    changed.problem.job = changed.job.get();
    if (tool || work) {
        changed.problem = cut_problem(
            *changed.job, before.pass_index, tool ? tool_side_of(*changed.job, pass) : before.tool,
            work ? work_side_of(*changed.job, pass) : before.work, before.method);
        changed.problem.distance = before.distance;
        changed.problem.draws.reset();
    } else {
        changed.problem.cut = rigid_cut(*changed.job, pass, 0);
    }
    changed.headings =
        given.answer.headings.searched ? headings_of(changed.problem) : given.answer.headings;
    return changed;
}

void draw_changed(ChangedPass& changed, const AdviceCase& given) {
    if (given.tries.none()) return;
    CutProblem& problem = changed.problem;
    if (!problem.draws) {
        const CutProblem& before = *given.problem;
        DrawnSides tools, works;
        // Unknowns that a fit found to hang together lean on those before them in the list, and
        // that may have changed.
        if (!changed.job->fitted) {
            tools.emplace(before.tool.get(), before.tool_draws);
            works.emplace(before.work.get(), before.work_draws);
        }
        JobSides sides;
        sides.tool.resize(changed.job->passes.size());
        sides.work.resize(changed.job->passes.size());
        sides.tool[problem.pass_index] = problem.tool;
        sides.work[problem.pass_index] = problem.work;
        const JobDraws drawn =
            draw_job(*changed.job, {problem.pass_index}, sides, given.drawn, &tools, &works);
        problem.draws = drawn.draws;
        problem.tool_draws = drawn.tool[problem.pass_index];
        problem.work_draws = drawn.work[problem.pass_index];
    }
    changed.tries = cut_tries(problem, changed.headings);
}

double removal_rate(const CutProblem& problem, SpindleSpeed speed, double depth) {
    const Pass& pass = problem.pass();
    return pass.radial * depth * pass.feed_per_tooth * problem.tool_chain().cutter.teeth *
           speed.revolutions_per_second();
}

}  // namespace standfast
