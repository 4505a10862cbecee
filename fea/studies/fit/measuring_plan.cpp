#include "fea/studies/fit/measuring_plan.hpp"

#include <Eigen/Cholesky>
#include <Eigen/LU>
#include <algorithm>
#include <cmath>
#include <limits>
#include <stdexcept>

#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"
#include "fea/quantities/for_each_index.hpp"
#include "fea/solution/modes.hpp"
#include "fea/studies/fit/fit_predict.hpp"
#include "fea/studies/regression/least_squares.hpp"

namespace standfast {
namespace {

constexpr double kSlopeStep = 0.2;      // of a logarithm, either way
constexpr double kJacobianStep = 1e-4;  // of a logarithm
constexpr double kGains = 0.02;         // of the spread's logarithm
constexpr double kFewDivisions = 5;
constexpr double kUsualDepth = 2e-3;  // m, where the pass names none
constexpr int kSpeeds = 60, kModes = 8;
constexpr std::size_t kTones = 2;  // that a tap surely brings out
constexpr double kHeard = 0.05;    // of the loudest mode's motion: below, a tap hides it

void multiply(Job& job, const FitUnknown& unknown, double factor) {
    const bool stiffness = unknown.quantity == FitQuantity::stiffness;
    const auto springs = [&](SpringAdjustment& adjusted) {
        (stiffness ? adjusted.stiffness : adjusted.loss) *= factor;
    };
    const auto joint = [&](Joint& adjusted) {
        (stiffness ? adjusted.stiffness_adjust : adjusted.loss_adjust) *= factor;
    };
    switch (unknown.target) {
        case FitTarget::table:
            return springs(job.machine.table.adjusted);
        case FitTarget::spindle:
            return springs(job.machine.spindle.adjusted);
        case FitTarget::tier_joint:
            return joint(job.stack.tiers[unknown.index].joint);
        case FitTarget::support:
            return springs(job.stack.supports[unknown.index].adjusted);
        case FitTarget::taper:
            return joint(job.tools[unknown.index].taper);
        case FitTarget::grip:
            return joint(job.tools[unknown.index].grip);
    }
}

std::vector<SpindleSpeed> speeds_of(const Job& job) {
    std::vector<SpindleSpeed> speeds;
    const double low = job.machine.slowest.radians_per_second;
    const double high = job.machine.fastest.radians_per_second;
    for (int i = 0; i < kSpeeds; ++i) {
        const double share = static_cast<double>(i) / (kSpeeds - 1);
        speeds.push_back({1 / ((1 - share) / low + share / high)});
    }
    return speeds;
}

bool stack_can_be_measured(const Job& job) {
    return !job.stack.rigid && job.stack.modes.empty() && !job.stack.tiers.empty();
}

bool tool_can_be_measured(const ToolChain& tool) { return !tool.rigid && tool.modes.empty(); }

std::string along(const Eigen::Vector3d& direction) { return direction.x() > 0.5 ? "x" : "y"; }

/// Everything that could be measured for a pass, readings still to be filled in.
class Candidates {
public:
    Candidates(const Job& job, std::size_t pass, const PlanningOptions& options)
        : job_(job), pass_(job.passes.at(pass)), options_(options) {}

    std::vector<Measured> all() {
        for (const Eigen::Vector3d& direction : {Eigen::Vector3d(Eigen::Vector3d::UnitX()),
                                                 Eigen::Vector3d(Eigen::Vector3d::UnitY())}) {
            if (stack_can_be_measured(job_)) add_stack(direction);
            if (tool_can_be_measured(job_.tools[pass_.tool])) add_tool(direction);
        }
        return std::move(list_);
    }

private:
    void add_push(const std::string& name, const MeasuredPlace& place,
                  const Eigen::Vector3d& direction, IndicatorBase against) {
        PushTest push;
        push.pushed = push.read = place;
        push.direction = push.read_direction = direction;
        push.force = place.tool ? options_.tool_force : options_.stack_force;
        push.moved = {10 * options_.division};
        push.division = options_.division;
        push.against = against;
        Measured measured;
        measured.name = name + ", pushed along " + along(direction) +
                        (against == IndicatorBase::table ? ", indicator on the table"
                                                         : ", indicator held in the spindle");
        measured.push = push;
        list_.push_back(std::move(measured));
    }

    void add_tap(const std::string& name, const MeasuredPlace& place,
                 const Eigen::Vector3d& direction) {
        TapTest tap;
        tap.place = place;
        tap.direction = direction;
        Measured measured;
        measured.name = name + ", tapped along " + along(direction);
        measured.tap = tap;
        list_.push_back(std::move(measured));
    }

    void add_stack(const Eigen::Vector3d& direction) {
        for (std::size_t tier = 0; tier < job_.stack.tiers.size(); ++tier) {
            const Tier& one = job_.stack.tiers[tier];
            const MeasuredPlace top{.tool = std::nullopt, .tier = tier, .at = {0, 0, one.height}};
            add_push(one.name + " top", top, direction, IndicatorBase::table);
            add_push(one.name + " top", top, direction, IndicatorBase::spindle);
            if (tier > 0 || job_.stack.tiers.size() == 1) {
                add_tap(one.name + " top", top, direction);
            }
        }
    }

    void add_tool(const Eigen::Vector3d& direction) {
        const ToolChain& tool = job_.tools[pass_.tool];
        const MeasuredPlace tip{.tool = pass_.tool, .tier = 0, .at = Eigen::Vector3d::Zero()};
        const MeasuredPlace face{
            .tool = pass_.tool, .tier = 0, .at = {0, 0, stickout_of(tool.cutter)}};
        add_push(tool.name + " tip", tip, direction, IndicatorBase::table);
        add_push(tool.name + " holder face", face, direction, IndicatorBase::table);
        add_tap(tool.name + " tip", tip, direction);
    }

    const Job& job_;
    const Pass& pass_;
    const PlanningOptions& options_;
    std::vector<Measured> list_;
};

FitPoint nominal(const FitProblem& problem) {
    return {
        .unknown = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(problem.unknowns.list.size())),
        .nuisance =
            Eigen::VectorXd::Zero(static_cast<Eigen::Index>(problem.unknowns.nuisances.size()))};
}

/// Lowest tones that a tap brings out, with their damping, by the model.
void fill_tap(TapTest& tap, const Job& job) {
    FitUnknowns ignored;
    const FitSide side = tap.place.tool ? tool_side(job, *tap.place.tool, ignored)
                                        : stack_side(job, {tap.place}, ignored);
    const Eigen::RowVectorXd felt =
        tap.direction->transpose() * seen_motion(side, point_of(side, job, tap.place), false);
    const std::vector<Mode> found = modes(side.system, kModes);
    std::vector<double> motion;
    for (const Mode& mode : found) {
        motion.push_back(std::abs(felt.dot(mode.shape)) / mode.frequency.radians_per_second);
    }
    const double loudest = *std::max_element(motion.begin(), motion.end());
    for (std::size_t i = 0; i < found.size() && tap.frequencies.size() < kTones; ++i) {
        if (motion[i] < kHeard * loudest) continue;
        tap.frequencies.push_back(found[i].frequency);
        tap.damping.push_back(found[i].damping_ratio);
    }
}

/// The job with all that could be measured behind what was, every reading as the model expects it.
Job with_expected(const Job& job, const std::vector<Measured>& candidates) {
    Job all = job;
    for (Measured measured : candidates) {
        if (measured.tap) fill_tap(*measured.tap, job);
        all.measured.push_back(std::move(measured));
    }
    FitProblem problem = fit_problem(all);
    pair_modes(problem, nominal(problem), 1);
    const Eigen::VectorXd expected = predicted(problem, nominal(problem));
    for (std::size_t i = 0; i < problem.observations.size(); ++i) {
        Measured& measured = all.measured[problem.observations[i].measured];
        if (problem.observations[i].measured < job.measured.size() || !measured.push) continue;
        measured.push->moved = {expected[static_cast<Eigen::Index>(i)]};
    }
    return all;
}

/// Slopes of what is observed, and its noise with what nuisances add, at the nominal point.
struct Linear {
    Eigen::MatrixXd slope, noise;
};

Linear linearised(FitProblem& problem) {
    pair_modes(problem, nominal(problem), 1);
    const FitPoint at = nominal(problem);
    const Residuals by_unknown = [&](const Eigen::VectorXd& unknown) {
        return misses(problem, predicted(problem, {.unknown = unknown, .nuisance = at.nuisance}));
    };
    const Residuals by_nuisance = [&](const Eigen::VectorXd& nuisance) {
        return misses(problem, predicted(problem, {.unknown = at.unknown, .nuisance = nuisance}));
    };
    Linear linear;
    linear.slope = jacobian_of(by_unknown, at.unknown, by_unknown(at.unknown), kJacobianStep);
    const auto count = static_cast<Eigen::Index>(problem.observations.size());
    linear.noise = Eigen::MatrixXd::Zero(count, count);
    for (Eigen::Index i = 0; i < count; ++i) {
        linear.noise(i, i) =
            std::pow(problem.observations[static_cast<std::size_t>(i)].deviation, 2);
    }
    if (at.nuisance.size() > 0) {
        Eigen::MatrixXd moved =
            jacobian_of(by_nuisance, at.nuisance, by_nuisance(at.nuisance), kJacobianStep);
        for (Eigen::Index j = 0; j < moved.cols(); ++j) {
            moved.col(j) *= log_deviation(
                problem.unknowns.nuisances[static_cast<std::size_t>(j)].spread.factor);
        }
        linear.noise += moved * moved.transpose();
    }
    return linear;
}

/// Variance of a linear function of the unknowns once some observations are known.
double variance_after(const Linear& linear, const Eigen::MatrixXd& prior,
                      const Eigen::VectorXd& slope, const std::vector<Eigen::Index>& known) {
    const double before = slope.dot(prior * slope);
    if (known.empty()) return before;
    const Eigen::MatrixXd rows = linear.slope(known, Eigen::all);
    const Eigen::MatrixXd covariance = rows * prior * rows.transpose() + linear.noise(known, known);
    const Eigen::VectorXd with = rows * prior * slope;
    return std::max(0.0, before - with.dot(covariance.ldlt().solve(with)));
}

/// Slope of the logarithm of the limit over those of the factors.
Eigen::VectorXd limit_slope(const Job& job, std::size_t pass,
                            const std::vector<FitUnknown>& unknowns) {
    const auto count = static_cast<Eigen::Index>(unknowns.size());
    Eigen::VectorXd slope(count);
    for_each_index(unknowns.size(), [&](std::size_t index) {
        const auto i = static_cast<Eigen::Index>(index);
        Eigen::VectorXd step = Eigen::VectorXd::Zero(count);
        step[i] = kSlopeStep;
        slope[i] = (std::log(worst_limit(job, pass, unknowns, step)) -
                    std::log(worst_limit(job, pass, unknowns, -step))) /
                   (2 * kSlopeStep);
    });
    return slope;
}

std::vector<Eigen::Index> observations_of(const FitProblem& problem, std::size_t measured) {
    std::vector<Eigen::Index> found;
    for (std::size_t i = 0; i < problem.observations.size(); ++i) {
        if (problem.observations[i].measured == measured) {
            found.push_back(static_cast<Eigen::Index>(i));
        }
    }
    return found;
}

double ten_ninety(double variance) { return ten_ninety_factor(std::sqrt(variance)); }

PlannedReading reading_of(const Measured& measured, double before, double after) {
    PlannedReading reading{.measured = measured, .before = before, .after = after};
    if (measured.push) {
        reading.expected = measured.push->moved.front();
        reading.resolved = std::abs(reading.expected) >= kFewDivisions * measured.push->division;
    } else {
        reading.expected = measured.tap->frequencies.front().hertz();
        reading.resolved = true;
    }
    return reading;
}

}  // namespace

double worst_limit(const Job& job, std::size_t pass, const std::vector<FitUnknown>& unknowns,
                   const Eigen::VectorXd& logs) {
    Job moved = job;
    for (std::size_t i = 0; i < unknowns.size(); ++i) {
        multiply(moved, unknowns[i], std::exp(logs[static_cast<Eigen::Index>(i)]));
    }
    const JobSides sides = solve_sides(moved, {pass});
    const CutProblem problem =
        cut_problem(moved, pass, sides.tool[pass], sides.work[pass], StabilityMethod::zero_order);
    const double depth = moved.passes[pass].axial.value_or(kUsualDepth);
    const std::vector<SpindleSpeed> speeds = speeds_of(moved);
    std::vector<double> headings = load_headings(moved, moved.passes[pass]);
    if (const auto fixed = fixed_heading(moved, moved.passes[pass])) headings = {*fixed};
    double least = std::numeric_limits<double>::infinity();
    for (const double heading : headings) {
        for (const SpeedLimit& at : ranking_limits(problem, heading, speeds, depth).speeds) {
            if (at.limit) least = std::min(least, *at.limit);
        }
    }
    return std::isfinite(least) ? least : problem.searched_to;
}

MeasuringPlan measuring_plan(const Job& job, std::size_t pass, const PlanningOptions& options) {
    const std::vector<Measured> candidates = Candidates(job, pass, options).all();
    if (candidates.empty()) {
        throw std::domain_error(
            "plan: both sides of this pass are rigid or given by their modes; there are no joints "
            "to measure");
    }
    const Job all = with_expected(job, candidates);
    FitProblem problem = fit_problem(all);
    const Eigen::MatrixXd prior = prior_covariance(problem.unknowns, all);
    const Linear linear = linearised(problem);
    const Eigen::VectorXd slope = limit_slope(job, pass, problem.unknowns.list);
    MeasuringPlan plan{.pass = pass,
                       .limit = worst_limit(job, pass, {}, Eigen::VectorXd()),
                       .spread = 1,
                       .readings = {}};
    std::vector<Eigen::Index> known;
    for (std::size_t i = 0; i < job.measured.size(); ++i) {
        const auto rows = observations_of(problem, i);
        known.insert(known.end(), rows.begin(), rows.end());
    }
    double variance = variance_after(linear, prior, slope, known);
    plan.spread = ten_ninety(variance);
    std::vector<bool> taken(all.measured.size(), false);
    while (plan.readings.size() < options.most) {
        std::size_t best = 0;
        double least = variance;
        for (std::size_t i = job.measured.size(); i < all.measured.size(); ++i) {
            if (taken[i]) continue;
            std::vector<Eigen::Index> with = known;
            const auto rows = observations_of(problem, i);
            with.insert(with.end(), rows.begin(), rows.end());
            const double after = variance_after(linear, prior, slope, with);
            if (after < least) {
                least = after;
                best = i;
            }
        }
        if (!(std::sqrt(least) < (1 - kGains) * std::sqrt(variance))) break;
        taken[best] = true;
        const auto rows = observations_of(problem, best);
        known.insert(known.end(), rows.begin(), rows.end());
        plan.readings.push_back(
            reading_of(all.measured[best], ten_ninety(variance), ten_ninety(least)));
        variance = least;
    }
    return plan;
}

}  // namespace standfast
