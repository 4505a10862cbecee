#include "fea/judgement/cut/headings.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>

#include "fea/chatter/limits/zero_order.hpp"
#include "fea/judgement/answer/speed_window.hpp"
#include "fea/judgement/cut/speed_grid.hpp"
#include "fea/stack/frames.hpp"

namespace standfast {
namespace {

constexpr double kTurn = 2 * std::numbers::pi;
constexpr double kResolved = std::numbers::pi / 180;
constexpr int kHeadings = 24;

double wrapped(double heading) {
    const double turned = std::remainder(heading, kTurn);
    return turned <= -std::numbers::pi ? turned + kTurn : turned;
}

/// Lowest point of `badness` negated: searches the largest badness over `span` from 0.
double worst_heading(const std::function<double(double)>& badness, double span) {
    const int count = span < kTurn ? kHeadings / 2 : kHeadings;
    const double step = span / count;
    double worst = 0, most = -std::numeric_limits<double>::infinity();
    for (int i = 0; i < count; ++i) {
        const double value = badness(i * step);
        if (value <= most) continue;
        most = value;
        worst = i * step;
    }
    const double golden = (std::sqrt(5.0) - 1) / 2;
    double low = worst - step, high = worst + step;
    double a = high - golden * (high - low), b = low + golden * (high - low);
    double at_a = badness(a), at_b = badness(b);
    while (high - low > kResolved) {
        if (at_a > at_b) {
            high = b;
            b = a;
            at_b = at_a;
            a = high - golden * (high - low);
            at_a = badness(a);
        } else {
            low = a;
            a = b;
            at_a = at_b;
            b = low + golden * (high - low);
            at_b = badness(b);
        }
    }
    // The refined place may have found a lower ridge beside a sharp one.
    const double refined = at_a > at_b ? a : b;
    return wrapped(std::max(at_a, at_b) > most ? refined : worst);
}

/// True where the axial direction is coupled with the others on either side.
bool axially_coupled(const CutProblem& problem) {
    const Eigen::Matrix3d g = static_compliance(receptance_at_heading(problem, 0).modal);
    return g.topRightCorner<2, 1>().norm() > 1e-6 * g.norm();
}

/// Limits that rank headings, as ranking_limits. Turning the feed about the tool's axis turns the
/// receptance alone, so that it is sampled once.
class RankingByHeading {
public:
    RankingByHeading(const CutProblem& problem, double depth) : problem_(problem) {
        if (nothing_gives(problem)) return;
        const DelaySystem system = delay_system(problem, 0);
        cut_ = averaged_cut(system, depth);
        receptance_ = sampled_in_the_middle(system, problem.frequencies, depth);
    }

    /// m, the smallest over the speeds; infinite where there is none.
    double smallest_limit(double heading, const std::vector<SpindleSpeed>& speeds) const {
        double smallest = std::numeric_limits<double>::infinity();
        if (receptance_.frequency.empty()) return smallest;
        const Eigen::Matrix3d axes = tool_axes(0, 0, heading);
        SampledReceptance turned = receptance_;
        for (Eigen::MatrixXcd& value : turned.value) {
            value = axes.transpose() * Eigen::Matrix3cd(value) * axes;
        }
        for (const SpeedLimit& at :
             averaged_limits(cut_, turned, speeds, problem_.searched_to).speeds) {
            if (at.limit) smallest = std::min(smallest, *at.limit);
        }
        return smallest;
    }

private:
    const CutProblem& problem_;
    AveragedCut cut_;
    SampledReceptance receptance_;
};

bool known_by_modes(const Job& job, const Pass& pass) {
    const ToolChain& tool = job.tools[pass.tool];
    const bool work = job.stack.tiers.empty() && (job.stack.rigid || !job.stack.modes.empty());
    return work && (tool.rigid || !tool.modes.empty());
}

}  // namespace

std::optional<double> fixed_heading(const Job& job, const Pass& pass) {
    if (pass.feed_heading) return pass.feed_heading;
    if (pass.wall) {
        const Eigen::Vector3d wall =
            job.stack.tiers.empty()
                ? *pass.wall
                : Eigen::Vector3d(tier_frames(job.stack)[pass.tier].axes * *pass.wall);
        return feed_heading_for_wall(pass.tilt, pass.turn, wall, pass.milling != Milling::up);
    }
    if (known_by_modes(job, pass)) return 0.0;
    return std::nullopt;
}

Headings judged_headings(const CutProblem& problem, const std::vector<SpindleSpeed>& speeds,
                         double depth) {
    if (const std::optional<double> fixed = fixed_heading(*problem.job, problem.pass())) {
        return {*fixed, *fixed, false};
    }
    const double span = axially_coupled(problem) ? kTurn : kTurn / 2;
    const RankingByHeading ranking(problem, depth);
    const auto weakness = [&](double heading) { return -ranking.smallest_limit(heading, speeds); };
    const auto error = [&](double heading) {
        return std::abs(static_wall_error(problem, heading, depth));
    };
    return {worst_heading(weakness, span), worst_heading(error, span), true};
}

Headings headings_of(const CutProblem& problem) {
    const Pass& pass = problem.pass();
    return judged_headings(problem, representative_speeds(*problem.job, pass),
                           pass.axial.value_or(problem.tool_chain().cutter.diameter / 2));
}

std::vector<SpindleSpeed> representative_speeds(const Job& job, const Pass& pass) {
    if (pass.speed) return {*pass.speed};
    const SpeedWindow window = offered_window(job, pass);
    if (window.from < window.to) return default_speeds(window.from, window.to, 12);
    return default_speeds(job.machine.slowest, job.machine.fastest, 12);
}

std::vector<double> load_headings(const Job& job, const Pass& pass) {
    if (const std::optional<double> fixed = fixed_heading(job, pass)) return {*fixed};
    std::vector<double> headings;
    for (int i = 0; i < 12; ++i) headings.push_back(wrapped(kTurn * i / 12));
    return headings;
}

}  // namespace standfast
