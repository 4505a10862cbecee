#pragma once

#include <Eigen/Cholesky>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "fea/judgement/uncertainty/sampling.hpp"
#include "fea/studies/fit/fit.hpp"
#include "fea/studies/fit/fit_predict.hpp"

namespace standfast {

inline Material fitted_steel() {
    return {.name = "steel",
            .youngs_modulus = 205e9,
            .poissons_ratio = 0.29,
            .density = 7850,
            .loss_factor = 0.002,
            .modulus_spread = 1.03,
            .loss_spread = 2};
}

inline Joint soft_joint(double lateral, double tilting) {
    Joint joint;
    joint.given = {.lateral = std::array{lateral, 0.9 * lateral},
                   .vertical = 2 * lateral,
                   .tilting = std::array{tilting, 0.8 * tilting},
                   .twisting = tilting,
                   .loss = 0.03};
    joint.stiffness_spread = 2.0;
    joint.loss_spread = 2.0;
    return joint;
}

/// A base plate, a riser and a part (invented), each on a joint known to a factor of two, on a
/// table known to a factor of 1.5.
inline Job measured_job() {
    Job job;
    job.machine.slowest = SpindleSpeed::from_rpm(500);
    job.machine.fastest = SpindleSpeed::from_rpm(12000);
    job.machine.table.given = {.lateral = std::array{150e6, 130e6},
                               .vertical = 400e6,
                               .tilting = std::array{6e6, 5e6},
                               .twisting = 4e6,
                               .loss = 0.04};
    job.machine.table.adjusted.stiffness_spread = 1.5;
    job.machine.table.adjusted.loss_spread = 1.6;
    const auto tier = [&](const char* name, double size, double height, Joint joint) {
        Tier made;
        made.name = name;
        made.material = fitted_steel();
        made.shape = BlockShape{.x = size, .y = 0.9 * size};
        made.height = height;
        made.joint = std::move(joint);
        if (!job.stack.tiers.empty()) made.placement.host = job.stack.tiers.size() - 1;
        job.stack.tiers.push_back(std::move(made));
    };
    tier("plate", 0.16, 0.03, soft_joint(600e6, 4e6));
    tier("riser", 0.09, 0.15, soft_joint(300e6, 0.8e6));
    tier("part", 0.06, 0.09, soft_joint(150e6, 0.15e6));
    return job;
}

inline MeasuredPlace top_of(const Job& job, std::size_t tier) {
    return {.tier = tier, .at = {0, 0, job.stack.tiers[tier].height}};
}

inline Measured push_at(const MeasuredPlace& place, const Eigen::Vector3d& direction, double moved,
                        IndicatorBase against) {
    PushTest push;
    push.pushed = push.read = place;
    push.direction = push.read_direction = direction;
    push.force = 500;
    push.moved = {moved};
    push.division = 1e-9;
    push.against = against;
    Measured measured;
    measured.name = "push";
    measured.push = push;
    measured.good_to = 0.03;
    return measured;
}

inline Measured tap_at(const MeasuredPlace& place, const std::vector<double>& hertz,
                       const std::vector<double>& damping) {
    TapTest tap;
    tap.place = place;
    for (const double value : hertz) tap.frequencies.push_back(AngularFrequency::from_hertz(value));
    tap.damping = damping;
    Measured measured;
    measured.name = "tap";
    measured.tap = tap;
    measured.good_to = 0.01;
    return measured;
}

/// Logarithms of factors drawn from a covariance.
inline Eigen::VectorXd drawn(const Eigen::MatrixXd& covariance, std::mt19937_64& stream) {
    std::normal_distribution<double> normal;
    const Eigen::VectorXd independent =
        Eigen::VectorXd::NullaryExpr(covariance.rows(), [&] { return normal(stream); });
    return Eigen::LLT<Eigen::MatrixXd>(covariance).matrixL() * independent;
}

/// The problem with its values as the model at a planted point gives them, and noise of the stated
/// deviations on top.
inline FitProblem planted(FitProblem problem, const FitPoint& at, std::mt19937_64& stream) {
    std::normal_distribution<double> normal;
    // Modes are followed from their shapes where nothing is moved.
    const FitPoint nominal{.unknown = Eigen::VectorXd::Zero(at.unknown.size()),
                           .nuisance = Eigen::VectorXd::Zero(at.nuisance.size())};
    pair_modes(problem, nominal, 0.25);
    const Eigen::VectorXd truth = predicted(problem, at);
    for (std::size_t i = 0; i < problem.observations.size(); ++i) {
        Observation& observation = problem.observations[i];
        const double off = observation.deviation * normal(stream);
        const double value = truth[static_cast<Eigen::Index>(i)];
        const bool plain = observation.what == Observed::moved ||
                           observation.what == Observed::wall_top ||
                           observation.what == Observed::wall_foot;
        observation.value = plain ? value + off : value * std::exp(off);
        if (observation.what == Observed::frequency)
            problem.modes[observation.mode].hertz = observation.value;
    }
    return problem;
}

}  // namespace standfast
