#include "fea/studies/regression/least_squares.hpp"

#include <unsupported/Eigen/NonLinearOptimization>

#include "fea/quantities/for_each_index.hpp"

namespace standfast {
namespace {

struct Functor {
    using Scalar = double;
    using InputType = Eigen::VectorXd;
    using ValueType = Eigen::VectorXd;
    using JacobianType = Eigen::MatrixXd;
    enum { InputsAtCompileTime = Eigen::Dynamic, ValuesAtCompileTime = Eigen::Dynamic };

    const Residuals* residuals = nullptr;
    double step = 0;
    int count = 0;

    int values() const { return count; }
    int operator()(const InputType& at, ValueType& value) const {
        value = (*residuals)(at);
        return 0;
    }
    int df(const InputType& at, JacobianType& jacobian) const {
        jacobian = jacobian_of(*residuals, at, (*residuals)(at), step);
        return 0;
    }
};

}  // namespace

Eigen::MatrixXd jacobian_of(const Residuals& residuals, const Eigen::VectorXd& at,
                            const Eigen::VectorXd& value, double step) {
    Eigen::MatrixXd jacobian(value.size(), at.size());
    for_each_index(static_cast<std::size_t>(at.size()), [&](std::size_t index) {
        const auto column = static_cast<Eigen::Index>(index);
        Eigen::VectorXd beside = at;
        beside[column] += step;
        jacobian.col(column) = (residuals(beside) - value) / step;
    });
    return jacobian;
}

LeastSquares least_squares(const Residuals& residuals, Eigen::VectorXd start, double step,
                           int most_iterations) {
    LeastSquares result{.solution = std::move(start), .residuals = {}, .jacobian = {}};
    result.residuals = residuals(result.solution);
    if (!result.residuals.allFinite()) return result;
    Functor functor{
        .residuals = &residuals, .step = step, .count = static_cast<int>(result.residuals.size())};
    Eigen::LevenbergMarquardt<Functor> method(functor);
    method.parameters.ftol = 1e-10;
    method.parameters.xtol = 1e-8;
    method.parameters.maxfev = most_iterations;
    Eigen::VectorXd best = result.solution;
    const auto status = method.minimize(best);
    result.iterations = static_cast<int>(method.iter);
    result.converged = status > 0 && status < 5;
    if (best.allFinite()) {
        const Eigen::VectorXd at_best = residuals(best);
        if (at_best.allFinite() && at_best.squaredNorm() <= result.residuals.squaredNorm()) {
            result.solution = best;
            result.residuals = at_best;
        }
    }
    result.jacobian = jacobian_of(residuals, result.solution, result.residuals, step);
    return result;
}

}  // namespace standfast
