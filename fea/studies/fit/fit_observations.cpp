#include "fea/studies/fit/fit_observations.hpp"
#include "fea/judgement/uncertainty/sampling.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "fea/judgement/cut/cut_problem.hpp"
#include "fea/judgement/cut/headings.hpp"
#include "fea/judgement/cut/sides.hpp"
#include "fea/stack/frames.hpp"
#include "fea/studies/fit/modal_fit.hpp"
#include "fea/studies/fit/push_reading.hpp"
#include "fea/studies/fit/receptance_average.hpp"

namespace standfast {
namespace {

constexpr double kFrequency = 0.02, kDamping = 0.25, kReceptance = 0.15, kWall = 0.20;
constexpr double kWallLeast = 2e-6;
constexpr double kScale = 0.07;  // of the force that a scale shows

std::vector<MeasuredPlace> places_of(const Job& job) {
    std::vector<MeasuredPlace> places;
    for (const Measured& measured : job.measured) {
        if (measured.push) {
            places.push_back(measured.push->pushed);
            places.push_back(measured.push->read);
        }
        if (measured.tap) places.push_back(measured.tap->place);
        if (measured.receptance) places.push_back(measured.receptance->place);
    }
    return places;
}

class Builder {
public:
    explicit Builder(const Job& job) : job_(job), places_(places_of(job)) {}

    FitProblem build() {
        for (index_ = 0; index_ < job_.measured.size(); ++index_) {
            const Measured& measured = job_.measured[index_];
            if (measured.push) add_push(measured);
            if (measured.tap) add_tap(measured);
            if (measured.receptance) add_receptance(measured);
            if (measured.wall) add_wall(measured);
        }
        return std::move(problem_);
    }

private:
    std::size_t side_at(const MeasuredPlace& place) {
        for (std::size_t side = 0; side < problem_.sides.size(); ++side) {
            if (problem_.sides[side].tool == place.tool && !problem_.sides[side].pass) return side;
        }
        problem_.sides.push_back(place.tool ? tool_side(job_, *place.tool, problem_.unknowns)
                                            : stack_side(job_, places_, problem_.unknowns));
        return problem_.sides.size() - 1;
    }

    void add_push(const Measured& measured) {
        const PushTest& push = *measured.push;
        const std::size_t side_index = side_at(push.pushed);
        const FitSide& side = problem_.sides[side_index];
        const PushReading reading = push_reading(push, measured.good_to);
        for (const std::string& warning : reading.warnings) {
            problem_.warnings.push_back(measured.name + ": " + warning);
        }
        const bool against_base =
            push.against == (side.tool ? IndicatorBase::spindle : IndicatorBase::table);
        Observation observation{.measured = index_,
                                .what = Observed::moved,
                                .side = side_index,
                                .value = reading.moved,
                                .deviation = reading.deviation};
        observation.load = seen_motion(side, point_of(side, job_, push.pushed), false).transpose() *
                           (push.force * push.direction.normalized());
        observation.seen =
            seen_motion(side, point_of(side, job_, push.read), against_base).transpose() *
            push.read_direction.normalized();
        observation.scale_nuisance = nuisance_of(
            problem_.unknowns,
            {.group = "force by scale " + push.scale, .factor = ten_ninety_factor(kScale)});
        problem_.observations.push_back(std::move(observation));
    }

    /// What one peak says; 0: not measured.
    struct Peak {
        double hertz = 0, damping = 0, stiffness = 0;
        double hertz_deviation = 0, damping_deviation = 0;  ///< relative, beside the usual ones
    };

    void add_mode(std::size_t side, const Eigen::MatrixXd& at_place, const Peak& peak,
                  std::optional<double> good_to) {
        const std::size_t mode = problem_.modes.size();
        problem_.modes.push_back({.measured = index_,
                                  .side = side,
                                  .hertz = peak.hertz,
                                  .dynamic_stiffness = peak.stiffness,
                                  .at_place = at_place,
                                  .shape = {}});
        const auto add = [&](Observed what, double value, double deviation) {
            problem_.observations.push_back({.measured = index_,
                                             .what = what,
                                             .side = side,
                                             .value = value,
                                             .deviation = deviation,
                                             .load = {},
                                             .seen = {},
                                             .mode = mode});
        };
        add(Observed::frequency, peak.hertz,
            std::hypot(good_to.value_or(kFrequency), peak.hertz_deviation));
        if (peak.damping > 0) {
            add(Observed::damping, peak.damping, std::hypot(kDamping, peak.damping_deviation));
        }
        if (peak.stiffness > 0) add(Observed::dynamic_stiffness, peak.stiffness, kReceptance);
    }

    void add_tap(const Measured& measured) {
        const TapTest& tap = *measured.tap;
        const std::size_t side = side_at(tap.place);
        Eigen::MatrixXd at_place = seen_motion(
            problem_.sides[side], point_of(problem_.sides[side], job_, tap.place), false);
        if (tap.direction) at_place = (tap.direction->normalized().transpose() * at_place).eval();
        for (const std::string& remark : tap.remarks) {
            problem_.warnings.push_back(measured.name + ": " + remark);
        }
        const auto at = [](const std::vector<double>& list, std::size_t i) {
            return i < list.size() ? list[i] : 0.0;
        };
        for (std::size_t i = 0; i < tap.frequencies.size(); ++i) {
            add_mode(side, at_place,
                     {.hertz = tap.frequencies[i].hertz(),
                      .damping = at(tap.damping, i),
                      .hertz_deviation = at(tap.frequency_deviation, i),
                      .damping_deviation = at(tap.damping_deviation, i)},
                     measured.good_to);
        }
    }

    void add_receptance(const Measured& measured) {
        const ReceptanceTest& test = *measured.receptance;
        const std::size_t side = side_at(test.place);
        const Eigen::MatrixXd at_place =
            test.direction.normalized().transpose() *
            seen_motion(problem_.sides[side], point_of(problem_.sides[side], job_, test.place),
                        false);
        for (const std::string& remark : test.remarks) {
            problem_.warnings.push_back(measured.name + ": " + remark);
        }
        const std::optional<ReceptanceTest> average = average_with_repeats(job_, index_);
        if (!average) return;
        if (sign_reversed(*average)) {
            problem_.warnings.push_back(
                measured.name +
                ": sign reversed? Its motion leads the force, as of a sensor mounted the other way "
                "round; until that is known it counts for nothing");
            return;
        }
        const ModalFit fitted =
            fit_modes(average->frequency, average->receptance, average->coherence);
        for (const std::string& warning : fitted.warnings) {
            problem_.warnings.push_back(measured.name + ": " + warning);
        }
        if (fitted.terms.empty()) {
            throw std::domain_error(measured.name + ": no mode stands out of the noise in " +
                                    test.file);
        }
        for (const FittedMode& term : fitted.terms) {
            const double omega = term.frequency.radians_per_second;
            add_mode(side, at_place,
                     {.hertz = term.frequency.hertz(),
                      .damping = term.damping_ratio,
                      .stiffness = omega * omega / term.residue},
                     measured.good_to);
        }
    }

    void add_wall(const Measured& measured) {
        const WallTest& wall = *measured.wall;
        const Pass& pass = job_.passes.at(wall.pass);
        const std::optional<double> heading = fixed_heading(job_, pass);
        if (!heading) {
            throw std::domain_error(measured.name + ": pass \"" + pass.name +
                                    "\" must say its wall or feed_heading to compare with a wall");
        }
        if (!pass.axial) {
            throw std::domain_error(measured.name + ": pass \"" + pass.name +
                                    "\" must say its axial depth to compare with a wall");
        }
        ObservedCut observed;
        observed.axes_from_spindle = rotation_z(*heading);
        observed.axes_from_stack = tool_axes(pass.tilt, pass.turn, *heading);
        observed.cut = rigid_cut(job_, pass, *pass.axial);
        observed.force_nuisance =
            nuisance_of(problem_.unknowns, {.group = "cutting force: " + pass.cutting.name,
                                            .factor = std::max(observed.cut.law.spread, 1.0)});
        add_cut_sides(wall.pass, observed);
        const double size = std::max(std::abs(wall.top), std::abs(wall.foot));
        const double relative = measured.good_to.value_or(kWall) * size;
        const double deviation = std::hypot(relative, kWallLeast);
        const std::size_t cut = problem_.cuts.size();
        problem_.cuts.push_back(std::move(observed));
        for (const Observed what : {Observed::wall_top, Observed::wall_foot}) {
            problem_.observations.push_back(
                {.measured = index_,
                 .what = what,
                 .side = 0,
                 .value = what == Observed::wall_top ? wall.top : wall.foot,
                 .deviation = deviation,
                 .load = {},
                 .seen = {},
                 .mode = cut});
        }
    }

    void add_cut_sides(std::size_t pass_index, ObservedCut& observed) {
        const Pass& pass = job_.passes[pass_index];
        const ToolChain& tool = job_.tools[pass.tool];
        if (tool.rigid || !tool.modes.empty()) {
            observed.tool = tool_side_of(job_, pass)->compliance;
        } else {
            observed.tool_side = side_at({.tool = pass.tool});
            observed.tip = point_of(problem_.sides[*observed.tool_side], job_, {.tool = pass.tool});
        }
        if (job_.stack.rigid || !job_.stack.modes.empty() || job_.stack.tiers.empty()) {
            observed.work = work_side_of(job_, pass)->compliance;
        } else {
            problem_.sides.push_back(
                pass_side(job_, pass_index, problem_.unknowns, observed.place));
            observed.work_side = problem_.sides.size() - 1;
        }
    }

    const Job& job_;
    std::vector<MeasuredPlace> places_;
    std::size_t index_ = 0;
    FitProblem problem_;
};

}  // namespace

FitProblem without_measured(FitProblem problem, const std::vector<std::size_t>& set_aside) {
    std::erase_if(problem.observations, [&](const Observation& one) {
        return std::ranges::find(set_aside, one.measured) != set_aside.end();
    });
    return problem;
}

FitProblem fit_problem(const Job& job) {
    if (job.measured.empty()) {
        throw std::domain_error(
            "fit: nothing is measured; the job needs at least one [[measured]]");
    }
    FitProblem problem = Builder(job).build();
    if (problem.unknowns.list.empty()) {
        throw std::domain_error("fit: nothing that was measured depends on a joint");
    }
    if (problem.observations.empty()) {
        std::string why = "fit: no measurement is left that counts";
        for (const std::string& warning : problem.warnings) why += "; " + warning;
        throw std::domain_error(why);
    }
    return problem;
}

}  // namespace standfast
