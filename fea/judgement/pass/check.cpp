#include "fea/judgement/pass/check.hpp"

#include <algorithm>
#include <numeric>
#include <stdexcept>

#include "fea/judgement/answer/weight.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/pass/pass_report.hpp"
#include "fea/judgement/tries/pass_odds.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

std::vector<std::size_t> chosen_passes(const Job& job, const CheckOptions& options) {
    if (job.passes.empty()) throw std::domain_error("check: the job has no pass");
    if (options.only_pass) {
        if (*options.only_pass >= job.passes.size()) {
            throw std::domain_error("check: there is no pass " +
                                    std::to_string(*options.only_pass + 1));
        }
        return {*options.only_pass};
    }
    std::vector<std::size_t> all(job.passes.size());
    std::iota(all.begin(), all.end(), std::size_t{0});
    return all;
}

void require_references(const Job& job, const std::vector<std::size_t>& passes) {
    for (const std::size_t i : passes) {
        const Pass& pass = job.passes[i];
        if (pass.tool >= job.tools.size()) {
            throw std::domain_error("pass \"" + pass.name + "\": its tool does not exist");
        }
        if (!job.stack.tiers.empty() && pass.tier >= job.stack.tiers.size()) {
            throw std::domain_error("pass \"" + pass.name + "\": its tier does not exist");
        }
    }
}

void add_notes(std::vector<Assumption>& assumed, const std::vector<Assumption>& notes) {
    for (const Assumption& note : notes) {
        const bool known =
            std::any_of(assumed.begin(), assumed.end(), [&](const Assumption& other) {
                return other.path == note.path && other.text == note.text;
            });
        if (!known) assumed.push_back(note);
    }
}

/// Modes of the stack as the job describes it, before any pass changes the part.
std::vector<ReportedMode> stack_modes(const Job& job, const std::vector<std::size_t>& passes,
                                      const JobSides& sides, int count) {
    for (const std::size_t pass : passes) {
        if (!job.passes[pass].state) return reported_modes(*sides.work[pass], count);
    }
    Pass bare = job.passes[passes.front()];
    bare.state.reset();
    return reported_modes(*work_side_of(job, bare), count);
}

}  // namespace

JobReport check_job(const Job& job, const CheckOptions& options) {
    const std::vector<std::size_t> passes = chosen_passes(job, options);
    require_references(job, passes);
    const JobSides sides = solve_sides(job, passes);

    JobReport report;
    report.title = job.title;
    report.assumed = job.assumed;
    report.not_judged = never_judged();
    report.stack_modes = stack_modes(job, passes, sides, options.listed_modes);
    const PointMass mass = stack_mass(job.stack, tier_frames(job.stack));
    report.mass = mass.mass;
    report.centre_of_mass = mass.centre;
    for (const std::size_t pass : passes) {
        add_notes(report.assumed, sides.tool[pass]->notes);
        add_notes(report.assumed, sides.work[pass]->notes);
    }

    JobDraws drawn;
    if (options.odds.draws > 0) drawn = draw_job(job, passes, sides, options.odds);
    report.passes.resize(passes.size());
    for_each_index(passes.size(), [&](std::size_t i) {
        const std::size_t pass = passes[i];
        CutProblem problem =
            cut_problem(job, pass, sides.tool[pass], sides.work[pass], options.method);
        problem.distance = options.distance;
        if (drawn.draws) {
            problem.draws = drawn.draws;
            problem.tool_draws = drawn.tool[pass];
            problem.work_draws = drawn.work[pass];
        }
        report.passes[i] = report_pass(problem, options);
    });
    return report;
}

}  // namespace standfast
