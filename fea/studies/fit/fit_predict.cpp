#include "fea/studies/fit/fit_predict.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "fea/chatter/motion/surface_error.hpp"
#include "fea/solution/modes.hpp"
#include "fea/solution/statics.hpp"
#include "fea/studies/regression/assignment.hpp"

namespace standfast {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
constexpr double kSameFrequency = 1e-4;
constexpr int kLeastModes = 8, kMostModes = 40;
constexpr double kStiffnessDeviation = 0.7;  // of the logarithm, in pairing
constexpr double kHidden = 8;                // most that being hard to feel costs in pairing

/// Highest frequency measured on a side, Hz; 0: none.
double highest_measured(const FitProblem& problem, std::size_t side) {
    double highest = 0;
    for (const ObservedMode& mode : problem.modes) {
        if (mode.side == side) highest = std::max(highest, mode.hertz);
    }
    return highest;
}

/// Modes with room above the highest measured one.
std::vector<Mode> modes_for(const AssembledSystem& system, double highest) {
    std::vector<Mode> found;
    for (int count = kLeastModes;; count *= 2) {
        found = modes(system, std::min(count, kMostModes));
        if (count >= kMostModes || static_cast<int>(found.size()) < count ||
            found.back().frequency.hertz() > 2 * highest) {
            return found;
        }
    }
}

/// Of the modes the one with the shape of the pairing (largest modal assurance in the mass norm).
const Mode& followed(const std::vector<Mode>& found, const Eigen::VectorXd& mass_times_shape) {
    return *std::max_element(found.begin(), found.end(), [&](const Mode& a, const Mode& b) {
        return std::abs(a.shape.dot(mass_times_shape)) < std::abs(b.shape.dot(mass_times_shape));
    });
}

/// Square of how much a place moves in a mode, per unit modal mass, kg^-1. Modes of one frequency,
/// as of a round tool, have no directions of their own: they count together.
double felt_at(const std::vector<Mode>& found, const Mode& mode, const Eigen::MatrixXd& at_place) {
    double sum = 0;
    for (const Mode& other : found) {
        const double ratio = other.frequency.radians_per_second / mode.frequency.radians_per_second;
        const double apart = (ratio - 1) / kSameFrequency;
        // Fades out, so that a fit that moves two modes apart sees no jump.
        sum += (at_place * other.shape).squaredNorm() / (1 + apart * apart);
    }
    return sum;
}

double dynamic_stiffness(const Mode& mode, double felt) {
    const double omega = mode.frequency.radians_per_second;
    return omega * omega / std::max(felt, 1e-30);
}

/// What a stiffness and damping do to the point of a side under unit forces, m/N.
Eigen::Matrix3d compliance_at(const FitSide& side, const FitPoint& at, const MaterialPoint& point) {
    return point_compliance(moved_system(side, at), point);
}

struct WallErrors {
    double top = kNone, foot = kNone;  ///< m of stock left
};

WallErrors wall_errors(const FitProblem& problem, const ObservedCut& cut, const FitPoint& at) {
    const Eigen::Matrix3d tool =
        cut.tool_side ? compliance_at(problem.sides[*cut.tool_side], at, cut.tip) : cut.tool;
    const Eigen::Matrix3d work =
        cut.work_side ? compliance_at(problem.sides[*cut.work_side], at, cut.place) : cut.work;
    const Eigen::Matrix3d relative =
        cut.axes_from_spindle.transpose() * tool * cut.axes_from_spindle +
        cut.axes_from_stack.transpose() * work * cut.axes_from_stack;
    const double force = cut.force_nuisance < 0 ? 1 : std::exp(at.nuisance[cut.force_nuisance]);
    const std::vector<double> errors =
        static_error(force * relative, cut.cut, {0.0, cut.cut.depth});
    return {.top = -errors.back(), .foot = -errors.front()};
}

class Predictor {
public:
    Predictor(const FitProblem& problem, const FitPoint& at)
        : problem_(problem),
          at_(at),
          values_(Eigen::VectorXd::Constant(static_cast<Eigen::Index>(problem.observations.size()),
                                            kNone)) {}

    Eigen::VectorXd all() {
        for (std::size_t side = 0; side < problem_.sides.size(); ++side) predict_side(side);
        predict_walls();
        return values_;
    }

private:
    double& value(std::size_t observation) {
        return values_[static_cast<Eigen::Index>(observation)];
    }

    void predict_side(std::size_t side) {
        std::vector<std::size_t> moved, modal;
        for (std::size_t i = 0; i < problem_.observations.size(); ++i) {
            const Observation& observation = problem_.observations[i];
            if (observation.what == Observed::wall_top || observation.what == Observed::wall_foot ||
                observation.side != side) {
                continue;
            }
            (observation.what == Observed::moved ? moved : modal).push_back(i);
        }
        if (moved.empty() && modal.empty()) return;
        const AssembledSystem system = moved_system(problem_.sides[side], at_);
        if (!moved.empty()) predict_moved(system, moved);
        if (!modal.empty()) predict_modal(side, system, modal);
    }

    void predict_moved(const AssembledSystem& system, const std::vector<std::size_t>& moved) {
        Eigen::MatrixXd loads(system.size, static_cast<Eigen::Index>(moved.size()));
        for (std::size_t i = 0; i < moved.size(); ++i) {
            loads.col(static_cast<Eigen::Index>(i)) = problem_.observations[moved[i]].load;
        }
        const Eigen::MatrixXd motion = StaticSolution(system).displacements(loads);
        for (std::size_t i = 0; i < moved.size(); ++i) {
            const Observation& observation = problem_.observations[moved[i]];
            const int scale = observation.scale_nuisance;
            value(moved[i]) = (scale < 0 ? 1.0 : std::exp(at_.nuisance[scale])) *
                              observation.seen.dot(motion.col(static_cast<Eigen::Index>(i)));
        }
    }

    void predict_modal(std::size_t side, const AssembledSystem& system,
                       const std::vector<std::size_t>& modal) {
        const std::vector<Mode> found = modes_for(system, highest_measured(problem_, side));
        const Eigen::SparseMatrix<double> mass = mass_matrix(system);
        for (const std::size_t i : modal) {
            const Observation& observation = problem_.observations[i];
            const ObservedMode& measured = problem_.modes[observation.mode];
            const Mode& mode = followed(found, mass * measured.shape);
            if (observation.what == Observed::frequency) value(i) = mode.frequency.hertz();
            if (observation.what == Observed::damping) value(i) = mode.damping_ratio;
            if (observation.what == Observed::dynamic_stiffness) {
                value(i) = dynamic_stiffness(mode, felt_at(found, mode, measured.at_place));
            }
        }
    }

    void predict_walls() {
        std::vector<std::optional<WallErrors>> known(problem_.cuts.size());
        for (std::size_t i = 0; i < problem_.observations.size(); ++i) {
            const Observation& observation = problem_.observations[i];
            const bool top = observation.what == Observed::wall_top;
            if (!top && observation.what != Observed::wall_foot) continue;
            std::optional<WallErrors>& errors = known[observation.mode];
            if (!errors) errors = wall_errors(problem_, problem_.cuts[observation.mode], at_);
            value(i) = top ? errors->top : errors->foot;
        }
    }

    const FitProblem& problem_;
    const FitPoint& at_;
    Eigen::VectorXd values_;
};

/// What it costs to call a mode of the model the measured one.
double pairing_cost(const ObservedMode& measured, const Mode& mode, double felt, double most_felt,
                    double frequency_deviation) {
    const double off = std::log(mode.frequency.hertz() / measured.hertz) / frequency_deviation;
    const double share = felt / std::max(most_felt, 1e-30);
    double cost = off * off + std::min(kHidden, -std::log(std::max(share, 1e-30)));
    if (measured.dynamic_stiffness > 0) {
        const double stiffness =
            std::log(dynamic_stiffness(mode, felt) / measured.dynamic_stiffness) /
            kStiffnessDeviation;
        cost += std::min(stiffness * stiffness, 50.0);
    }
    return cost;
}

bool same_shape(const Eigen::VectorXd& a, const Eigen::VectorXd& mass_times_b) {
    if (a.size() != mass_times_b.size()) return false;
    const double assurance = a.dot(mass_times_b);
    return assurance * assurance > 0.5;
}

/// The measured modes of one side that came of one measurement; those are different modes.
bool pair_group(FitProblem& problem, const std::vector<std::size_t>& group,
                const std::vector<Mode>& found, const Eigen::SparseMatrix<double>& mass,
                double frequency_deviation) {
    const std::size_t count = std::min(group.size(), found.size());
    Eigen::MatrixXd cost(static_cast<Eigen::Index>(count), static_cast<Eigen::Index>(found.size()));
    for (std::size_t row = 0; row < count; ++row) {
        const ObservedMode& measured = problem.modes[group[row]];
        std::vector<double> felt;
        for (const Mode& mode : found) felt.push_back(felt_at(found, mode, measured.at_place));
        const double most_felt = *std::max_element(felt.begin(), felt.end());
        for (std::size_t column = 0; column < found.size(); ++column) {
            cost(static_cast<Eigen::Index>(row), static_cast<Eigen::Index>(column)) =
                pairing_cost(measured, found[column], felt[column], most_felt, frequency_deviation);
        }
    }
    const std::vector<Eigen::Index> partner = cheapest_assignment(cost);
    bool changed = false;
    for (std::size_t row = 0; row < count; ++row) {
        ObservedMode& measured = problem.modes[group[row]];
        const Eigen::VectorXd& shape = found[static_cast<std::size_t>(partner[row])].shape;
        changed = changed || !same_shape(measured.shape, mass * shape);
        measured.shape = shape;
    }
    return changed;
}

}  // namespace

Eigen::VectorXd predicted(const FitProblem& problem, const FitPoint& at) {
    return Predictor(problem, at).all();
}

Eigen::VectorXd misses(const FitProblem& problem, const Eigen::VectorXd& prediction) {
    Eigen::VectorXd miss = prediction;
    for (std::size_t i = 0; i < problem.observations.size(); ++i) {
        const Observation& observation = problem.observations[i];
        const auto row = static_cast<Eigen::Index>(i);
        const bool plain = observation.what == Observed::moved ||
                           observation.what == Observed::wall_top ||
                           observation.what == Observed::wall_foot;
        miss[row] = plain ? prediction[row] - observation.value
                          : std::log(prediction[row] / observation.value);
    }
    return miss;
}

bool pair_modes(FitProblem& problem, const FitPoint& at, double frequency_deviation) {
    bool changed = false;
    for (std::size_t side = 0; side < problem.sides.size(); ++side) {
        const double highest = highest_measured(problem, side);
        if (!(highest > 0)) continue;
        const AssembledSystem system = moved_system(problem.sides[side], at);
        const std::vector<Mode> found = modes_for(system, highest);
        const Eigen::SparseMatrix<double> mass = mass_matrix(system);
        std::vector<std::size_t> group;
        for (std::size_t i = 0; i < problem.modes.size(); ++i) {
            if (problem.modes[i].side != side) continue;
            if (!group.empty() &&
                problem.modes[group.back()].measured != problem.modes[i].measured) {
                changed = pair_group(problem, group, found, mass, frequency_deviation) || changed;
                group.clear();
            }
            group.push_back(i);
        }
        changed = pair_group(problem, group, found, mass, frequency_deviation) || changed;
    }
    return changed;
}

}  // namespace standfast
