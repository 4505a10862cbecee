#include "fea/judgement/cut/sides.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <utility>
#include <variant>

#include "fea/chatter/limits/zero_order.hpp"
#include "fea/judgement/cut/own_spreads.hpp"
#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

using Key = std::vector<double>;

void append(Key& key, const RoundShape& s) { key.insert(key.end(), {0, s.diameter}); }
void append(Key& key, const TubeShape& s) { key.insert(key.end(), {1, s.outer, s.inner}); }
void append(Key& key, const BlockShape& s) { key.insert(key.end(), {2, s.x, s.y}); }
void append(Key& key, const BoxShape& s) { key.insert(key.end(), {3, s.x, s.y, s.wall}); }
void append(Key& key, const GeneralShape& s) {
    key.insert(key.end(), {4, s.area, s.ix, s.iy, s.torsion});
}

/// Equal keys, equal work sides (of one job).
Key work_key(const Job& job, const Pass& pass) {
    if (job.stack.tiers.empty() || job.stack.rigid) return {};
    const Eigen::Vector3d place = judged_place(job, pass);
    Key key{static_cast<double>(pass.tier), place.x(), place.y(), place.z()};
    key.insert(key.end(), {pass.tilt, pass.turn, pass.from_top ? 1.0 : 0.0});
    if (!pass.state) return key;
    key.push_back(pass.state->height.value_or(-1));
    if (pass.state->shape) {
        std::visit([&](const auto& shape) { append(key, shape); }, *pass.state->shape);
    }
    return key;
}

Key tool_key(const Job&, const Pass& pass) { return {static_cast<double>(pass.tool)}; }

using SideOf = std::shared_ptr<const SolvedSide> (*)(const Job&, const Pass&);
using KeyOf = Key (*)(const Job&, const Pass&);

/// The passes' sides, one solution per key; the solutions are found on several threads.
void solve_once(const Job& job, const std::vector<std::size_t>& passes, SideOf solve, KeyOf key,
                std::vector<std::shared_ptr<const SolvedSide>>& sides) {
    std::map<Key, std::size_t> place;
    std::vector<std::size_t> first;
    for (const std::size_t pass : passes) {
        if (place.try_emplace(key(job, job.passes[pass]), first.size()).second) {
            first.push_back(pass);
        }
    }
    std::vector<std::shared_ptr<const SolvedSide>> solved(first.size());
    for_each_index(first.size(),
                   [&](std::size_t i) { solved[i] = solve(job, job.passes[first[i]]); });
    for (const std::size_t pass : passes) {
        sides[pass] = solved[place.at(key(job, job.passes[pass]))];
    }
}

/// What the job knows better of its spreads comes before anything is drawn from them.
std::shared_ptr<const SolvedSide> with_own_spreads(SolvedSide side, const Job& job) {
    if (side.system && says_of_parameters(job.uncertainty)) {
        const auto system = std::make_shared<AssembledSystem>(*side.system);
        use_own_spreads(*system, job.uncertainty);
        side.system = system;
    }
    return std::make_shared<const SolvedSide>(std::move(side));
}

ReportedMode reported(const Mode& mode, const std::vector<Member>& members) {
    ReportedMode result{mode.frequency.hertz(), mode.damping_ratio, {}};
    for (std::size_t m = 0; m < members.size(); ++m) {
        result.strain_share.emplace_back(members[m].name,
                                         mode.strain_share[static_cast<Eigen::Index>(m)]);
    }
    std::stable_sort(result.strain_share.begin(), result.strain_share.end(),
                     [](const auto& a, const auto& b) { return a.second > b.second; });
    return result;
}

}  // namespace

Eigen::Vector3d judged_place(const Job& job, const Pass& pass) {
    if (job.stack.tiers.empty()) return Eigen::Vector3d::Zero();
    const double usual = job.tools[pass.tool].cutter.diameter;
    return softest_place(job.machine, job.stack, pass, pass.axial.value_or(usual));
}

std::shared_ptr<const SolvedSide> tool_side_of(const Job& job, const Pass& pass) {
    return with_own_spreads(solve_tool_side(job.machine, job.tools[pass.tool]), job);
}

std::shared_ptr<const SolvedSide> work_side_of(const Job& job, const Pass& pass) {
    return with_own_spreads(solve_work_side(job.machine, job.stack, pass, judged_place(job, pass)),
                            job);
}

JobSides solve_sides(const Job& job, const std::vector<std::size_t>& passes) {
    JobSides sides;
    sides.tool.resize(job.passes.size());
    solve_once(job, passes, tool_side_of, tool_key, sides.tool);
    sides.work = solve_work_sides(job, passes);
    return sides;
}

std::vector<std::shared_ptr<const SolvedSide>> solve_work_sides(
    const Job& job, const std::vector<std::size_t>& passes) {
    std::vector<std::shared_ptr<const SolvedSide>> sides(job.passes.size());
    solve_once(job, passes, work_side_of, work_key, sides);
    return sides;
}

std::vector<AngularFrequency> grid_of_both(const SolvedSide& tool, const SolvedSide& work,
                                           double coarser) {
    std::vector<ModalTerm> peaks = tool.modal.terms;
    peaks.insert(peaks.end(), work.modal.terms.begin(), work.modal.terms.end());
    return frequency_grid(peaks, ModeChoice{}.up_to, coarser);
}

CutProblem cut_problem(const Job& job, std::size_t pass, std::shared_ptr<const SolvedSide> tool,
                       std::shared_ptr<const SolvedSide> work, StabilityMethod method) {
    CutProblem problem;
    problem.job = &job;
    problem.pass_index = pass;
    problem.tool = std::move(tool);
    problem.work = std::move(work);
    problem.method = method;
    problem.cut = rigid_cut(job, job.passes[pass], 0);
    problem.searched_to = searched_depth(job, job.passes[pass], *problem.tool, *problem.work);
    problem.frequencies = grid_of_both(*problem.tool, *problem.work, 1);
    return problem;
}

std::vector<ReportedMode> reported_modes(const SolvedSide& side, int count) {
    std::vector<ReportedMode> modes;
    if (side.measured) {
        for (const ModalTerm& term : side.modal.terms) {
            modes.push_back({term.frequency.hertz(), term.damping_ratio, {}});
        }
        std::stable_sort(modes.begin(), modes.end(),
                         [](const ReportedMode& a, const ReportedMode& b) {
                             return a.frequency_hertz < b.frequency_hertz;
                         });
    } else if (side.system) {
        for (const Mode& mode : side.modes) modes.push_back(reported(mode, side.system->members));
    }
    if (static_cast<int>(modes.size()) > count) modes.resize(static_cast<std::size_t>(count));
    return modes;
}

namespace {

/// Shapes of the listed modes at coordinates of a side's line, by frequency.
void add_shapes(std::vector<ReportedMode>& modes, const LineReceptance& line,
                const std::vector<double>& coordinates) {
    for (std::size_t m = 0; m < std::min(modes.size(), line.modes.size()); ++m) {
        const std::size_t rows = line.point.size() == 1 ? 1 : coordinates.size();
        for (std::size_t a = 0; a < rows; ++a) {
            modes[m].shape.emplace_back(line.modes[m].shape.real() *
                                        line_weights(line.point, coordinates[a]));
        }
    }
}

/// How far along the path a place lies, 0 to 1; none for a single place.
std::optional<double> along_path(const Pass& pass, const Eigen::Vector3d& place) {
    double length = 0, nearest = HUGE_VAL, at = 0;
    for (std::size_t i = 1; i < pass.path.size(); ++i) {
        const Eigen::Vector3d stretch = pass.path[i] - pass.path[i - 1];
        const double size = stretch.norm();
        if (!(size > 0)) continue;
        const double share =
            std::clamp((place - pass.path[i - 1]).dot(stretch) / (size * size), 0.0, 1.0);
        const double away = (pass.path[i - 1] + share * stretch - place).norm();
        if (away < nearest - 1e-9) {
            nearest = away;
            at = length + share * size;
        }
        length += size;
    }
    return length > 0 ? std::optional(at / length) : std::nullopt;
}

}  // namespace

EdgeReport edge_report(const CutProblem& problem, double depth, std::vector<ReportedMode>& tool,
                       std::vector<ReportedMode>& work) {
    const CutLines lines = lines_at_heading(problem, 0);
    EdgeReport edge;
    edge.from_top = lines.from_top;
    edge.height = edge_receptance(lines, depth).basis.height;
    const auto at_a_point = [](const SolvedSide& side) { return side.measured; };
    edge.one_point = at_a_point(*problem.tool) || at_a_point(*problem.work);
    std::vector<double> of_work = edge.height;
    for (double& height : of_work) height -= lines.from_top ? depth : 0;
    add_shapes(tool, problem.tool->line, edge.height);
    add_shapes(work, problem.work->line, of_work);
    if (!problem.job->stack.tiers.empty()) {
        edge.place = along_path(problem.pass(), judged_place(*problem.job, problem.pass()));
    }
    return edge;
}

}  // namespace standfast
