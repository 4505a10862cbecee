#include "fea/structure/line_matrices.hpp"

#include <Eigen/LU>
#include <array>
#include <cmath>

namespace standfast {
namespace {

/// Values at the points, then in the middle and at the end.
constexpr int kMiddle = kLinePoints;
constexpr int kEnd = kLinePoints + 1;
using Along = Eigen::Matrix<double, kLinePoints + 2, 1>;
using Integration = Eigen::Matrix<double, kLinePoints + 2, kLinePoints>;

using Weights = std::array<double, kLinePoints / 2>;
constexpr Weights kPlace{0.1834346424956498, 0.5255324099163290, 0.7966664774136267,
                         0.9602898564975363};
constexpr Weights kWeight{0.3626837833783620, 0.3137066458778873, 0.2223810344533745,
                          0.1012285362903763};

LineValues mirrored(const Weights& half, double sign, double shift) {
    LineValues values;
    for (int i = 0; i < kLinePoints / 2; ++i) {
        const double value = half.at(static_cast<std::size_t>(i)) / 2;
        values[kLinePoints / 2 - 1 - i] = shift + sign * value;
        values[kLinePoints / 2 + i] = shift + value;
    }
    return values;
}

/// Integrals from the start of the polynomial through the values at the points.
Integration integration_rule() {
    Along upper;
    upper << line_points(), 0.5, 1;
    Eigen::Matrix<double, kLinePoints, kLinePoints> powers;
    Integration integrals;
    // Powers of a variable that goes from -1 to 1: well conditioned.
    const auto to = [](double place) { return 2 * place - 1; };
    for (int power = 0; power < kLinePoints; ++power) {
        for (int i = 0; i < kLinePoints; ++i) {
            powers(i, power) = std::pow(to(line_points()[i]), power);
        }
        for (int i = 0; i < kLinePoints + 2; ++i) {
            integrals(i, power) =
                (std::pow(to(upper[i]), power + 1) - std::pow(-1.0, power + 1)) / (power + 1) / 2;
        }
    }
    return integrals * powers.inverse();
}

Along integral(const LineValues& values, double length) {
    static const Integration rule = integration_rule();
    return length * (rule * values);
}

LineValues at_points(const Along& along) { return along.head<kLinePoints>(); }

/// Integral from each point to the end.
LineValues rest(const LineValues& values, double length) {
    const Along from_start = integral(values, length);
    return (from_start[kEnd] - at_points(from_start).array()).matrix();
}

LineValues quotient(const LineValues& a, const LineValues& b) {
    return (a.array() / b.array()).matrix();
}

struct BendingResponse {
    LineValues shear, moment;
    Along rotation, deflection;
};

/// Of the line held at its start: force and moment at its end, force and moment per length along
/// it.
BendingResponse respond(const BendingLine& line, double force, double moment,
                        const LineValues& forces, const LineValues& moments) {
    BendingResponse response;
    response.shear = (force + rest(forces, line.length).array()).matrix();
    response.moment = (moment + rest(response.shear + moments, line.length).array()).matrix();
    response.rotation = integral(quotient(response.moment, line.bending), line.length);
    response.deflection =
        integral(at_points(response.rotation) + quotient(response.shear, line.shear), line.length);
    return response;
}

/// Under loads at the end and, for a middle node, under the inertia of rigid motions.
template <int Nodes>
std::array<BendingResponse, 2 * (Nodes - 1)> bending_responses(const BendingLine& line) {
    const LineValues none = LineValues::Zero();
    const BendingResponse force = respond(line, 1, 0, none, none);
    const BendingResponse moment = respond(line, 0, 1, none, none);
    if constexpr (Nodes == 2) {
        return {force, moment};
    } else {
        const LineValues arm = (line.length * (line_points().array() - 0.5)).matrix();
        return {force, moment, respond(line, 0, 0, line.mass, none),
                respond(line, 0, 0, line.mass.cwiseProduct(arm), line.rotary)};
    }
}

/// Motion of end and middle beyond the rigid one that the start gives.
template <int Nodes>
Eigen::Matrix<double, 2 * (Nodes - 1), 2 * Nodes> bending_beyond_rigid(double length) {
    Eigen::Matrix<double, 2 * (Nodes - 1), 2 * Nodes> relative;
    relative.setZero();
    for (int node = 1; node < Nodes; ++node) {
        const int row = 2 * (node - 1);
        relative.template block<2, 2>(row, 0) << -1, -length / node, 0, -1;
        relative.template block<2, 2>(row, 2 * node).setIdentity();
    }
    return relative;
}

/// The loads' responses, one a column.
template <int Loads>
struct BendingFields {
    Eigen::Matrix<double, kLinePoints, Loads> shear, moment, rotation, deflection;
    Eigen::Matrix<double, Loads, Loads> at_nodes;  ///< deflection, rotation of end, then middle
};

template <int Nodes>
BendingFields<2 * (Nodes - 1)> bending_fields(const BendingLine& line) {
    BendingFields<2 * (Nodes - 1)> fields;
    const auto responses = bending_responses<Nodes>(line);
    for (std::size_t i = 0; i < responses.size(); ++i) {
        const BendingResponse& response = responses[i];
        const auto load = static_cast<Eigen::Index>(i);
        // Alike in size, so that the loads' matrix is well conditioned.
        const double scale =
            1 / (std::abs(response.deflection[kEnd]) + line.length * response.rotation.norm());
        fields.shear.col(load) = scale * response.shear;
        fields.moment.col(load) = scale * response.moment;
        fields.rotation.col(load) = scale * at_points(response.rotation);
        fields.deflection.col(load) = scale * at_points(response.deflection);
        for (int node = 1; node < Nodes; ++node) {
            const int place = node == 1 ? kEnd : kMiddle;
            fields.at_nodes(2 * node - 2, load) = scale * response.deflection[place];
            fields.at_nodes(2 * node - 1, load) = scale * response.rotation[place];
        }
    }
    return fields;
}

/// sum over the points of weight x a^T a.
template <class Values>
auto summed(const Values& values, const LineValues& weights) {
    return (values.transpose() * weights.asDiagonal() * values).eval();
}

template <class Matrix>
Matrix even(const Matrix& matrix) {
    return (matrix + matrix.transpose()) / 2;
}

struct RodResponse {
    LineValues force;
    Along motion;
};

RodResponse respond(const RodLine& line, double force, const LineValues& forces) {
    RodResponse response;
    response.force = (force + rest(forces, line.length).array()).matrix();
    response.motion = integral(quotient(response.force, line.rigidity), line.length);
    return response;
}

template <int Nodes>
std::array<RodResponse, Nodes - 1> rod_responses(const RodLine& line) {
    const RodResponse force = respond(line, 1, LineValues::Zero());
    if constexpr (Nodes == 2) {
        return {force};
    } else {
        return {force, respond(line, 0, line.inertia)};
    }
}

}  // namespace

const LineValues& line_points() {
    static const LineValues points = mirrored(kPlace, -1, 0.5);
    return points;
}

const LineValues& line_weights() {
    static const LineValues weights = mirrored(kWeight, 1, 0);
    return weights;
}

template <int Nodes>
LineMatrices<Nodes> rod_matrices(const RodLine& line) {
    constexpr int kLoads = Nodes - 1;
    Eigen::Matrix<double, kLinePoints, kLoads> force, motion;
    Eigen::Matrix<double, kLoads, kLoads> at_nodes;
    const auto responses = rod_responses<Nodes>(line);
    for (int load = 0; load < kLoads; ++load) {
        const RodResponse& response = responses[static_cast<std::size_t>(load)];
        const double scale = 1 / response.motion[kEnd];
        force.col(load) = scale * response.force;
        motion.col(load) = scale * at_points(response.motion);
        at_nodes(0, load) = 1;
        if constexpr (Nodes == 3) at_nodes(1, load) = scale * response.motion[kMiddle];
    }
    Eigen::Matrix<double, kLoads, Nodes> relative;
    relative << -Eigen::Matrix<double, kLoads, 1>::Ones(),
        Eigen::Matrix<double, kLoads, kLoads>::Identity();
    const Eigen::Matrix<double, kLoads, Nodes> loads = at_nodes.inverse() * relative;
    Eigen::Matrix<double, kLinePoints, Nodes> shapes = motion * loads;
    shapes.col(0).array() += 1;
    const LineValues weights = line.length * line_weights();
    return {.stiffness = even(summed((force * loads).eval(), quotient(weights, line.rigidity))),
            .mass = even(summed(shapes, weights.cwiseProduct(line.inertia)))};
}

template <int Nodes>
LineMatrices<2 * Nodes> bending_matrices(const BendingLine& line) {
    constexpr int kLoads = 2 * (Nodes - 1);
    using Shapes = Eigen::Matrix<double, kLinePoints, 2 * Nodes>;
    const BendingFields<kLoads> fields = bending_fields<Nodes>(line);
    const Eigen::Matrix<double, kLoads, 2 * Nodes> loads =
        fields.at_nodes.partialPivLu().solve(bending_beyond_rigid<Nodes>(line.length));
    Shapes deflection = fields.deflection * loads;
    deflection.col(0).array() += 1;
    deflection.col(1) += line.length * line_points();
    Shapes rotation = fields.rotation * loads;
    rotation.col(1).array() += 1;
    const Shapes moment = fields.moment * loads;
    const Shapes shear = fields.shear * loads;
    const LineValues weights = line.length * line_weights();
    return {.stiffness = even((summed(moment, quotient(weights, line.bending)) +
                               summed(shear, quotient(weights, line.shear)))
                                  .eval()),
            .mass = even((summed(deflection, weights.cwiseProduct(line.mass)) +
                          summed(rotation, weights.cwiseProduct(line.rotary)))
                             .eval())};
}

template LineMatrices<2> rod_matrices<2>(const RodLine&);
template LineMatrices<3> rod_matrices<3>(const RodLine&);
template LineMatrices<4> bending_matrices<2>(const BendingLine&);
template LineMatrices<6> bending_matrices<3>(const BendingLine&);

}  // namespace standfast
