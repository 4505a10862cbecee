#include "fea/chatter/map/cut_step.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>

#include "fea/chatter/equation/exponentials.hpp"
#include "fea/chatter/equation/gauss_rule.hpp"
#include "fea/chatter/equation/small_matrices.hpp"

namespace standfast {
namespace {

using Eigen::Index;
using Eigen::MatrixXcd;
using Eigen::MatrixXd;
using Eigen::Vector3d;
using Eigen::VectorXd;

// Row `row` of W at an angle, of displacement or of speed: the first coordinate of its height and a
// direction there. Of the chip alone: the direction in which it grows.
struct SensedDirection {
    Index first = 0;
    Vector3d direction;
    template <class Coordinates>
    auto of(const Coordinates& coordinates) const {
        return direction[0] * coordinates[first] + direction[1] * coordinates[first + 1] +
               direction[2] * coordinates[first + 2];
    }
};

SensedDirection sensed_direction(const Sensing& sensing, Index row, double angle) {
    const bool speed = row >= sensing.rows();
    const Index among = speed ? row - sensing.rows() : row;
    const Index each = speed ? sensing.speeds_per_height() : sensing.per_height();
    const Index first = 3 * (among / each);
    if (sensing.chip_alone) return {first, {std::sin(angle), std::cos(angle), 0}};
    const auto& axes = speed ? sensing.rubbed_axes : sensing.axes;
    return {first, Vector3d::Unit(axes[static_cast<std::size_t>(among % each)])};
}

// P of A = P W and of the rubbing: coordinates x rows of displacement and speed at most, so nothing
// is allocated.
using Factor = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::ColMajor,
                             kMostCoordinates, 5 * kMostHeights>;

EdgeVector along(const EdgeMatrix& matrix, const SensedDirection& sensed) {
    return matrix.middleCols<3>(sensed.first) * sensed.direction;
}

// exp(lambda T x) at all nodes x (modes x nodes). The nodes lie evenly about 1/2, so that the
// second half follows from the first: exp(l (1 - x)) = exp(l) exp(-l x).
MatrixXcd turns_at(const Eigen::VectorXcd& exponent, const VectorXd& node) {
    const Index count = node.size(), half = (count + 1) / 2;
    MatrixXcd arguments(exponent.size(), half + 1);
    arguments.leftCols(half) = exponent * node.head(half).transpose();
    arguments.col(half) = exponent;
    const MatrixXcd value = exponentials(arguments);
    MatrixXcd turn(exponent.size(), count);
    for (Index i = 0; i < half; ++i) {
        for (Index m = 0; m < exponent.size(); ++m) {
            turn(m, count - 1 - i) =
                value(m, half) * (std::conj(value(m, i)) / std::norm(value(m, i)));
            turn(m, i) = value(m, i);
        }
    }
    return turn;
}

// The piece's share of everything that the local equations need.
struct Frame {
    const PieceForces& forces;
    const ModalState& modes;
    const Sensing& sensing;
    const CutPiece& piece;
    const GaussRule& rule;
    double duration;
    double angle(double share) const { return piece.start + share * piece.length; }
};

// Forces of a unit of every row.
Factor all_factors(const Frame& frame, double angle) {
    const Sensing& sensing = frame.sensing;
    const EdgeMatrix directional = directional_at(frame.forces, angle);
    Factor factor(frame.modes.coordinates(), sensing.all_rows());
    for (Index row = 0; row < sensing.rows(); ++row) {
        factor.col(row) = along(directional, sensed_direction(sensing, row, angle));
    }
    if (!sensing.rubs) return factor;
    const EdgeMatrix rubbing = value_at(frame.forces.rubbing, angle) / frame.forces.cutting_speed;
    for (Index row = sensing.rows(); row < sensing.all_rows(); ++row) {
        factor.col(row) = -along(rubbing, sensed_direction(sensing, row, angle));
    }
    return factor;
}

// Forces of a unit of what an earlier tooth left, as one part of A feels it.
Factor earlier_factors(const Frame& frame, std::size_t part, double angle) {
    const EdgeMatrix directional = value_at(*frame.forces.earlier[part], angle);
    Factor factor(frame.modes.coordinates(), frame.sensing.rows());
    for (Index row = 0; row < frame.sensing.rows(); ++row) {
        factor.col(row) = -along(directional, sensed_direction(frame.sensing, row, angle));
    }
    return factor;
}

// O: what the modal state at the piece's start would show at the points; rows x 2 modes.
MatrixXd observation(const Frame& frame) {
    const Index points = frame.rule.node.size();
    MatrixXd observed(points * frame.sensing.all_rows(), 2 * frame.modes.modes());
    const MatrixXcd turn = turns_at(frame.modes.lambda * frame.duration, frame.rule.node);
    for (Index row = 0; row < frame.sensing.all_rows(); ++row) {
        const bool speed = row >= frame.sensing.rows();
        for (Index i = 0; i < points; ++i) {
            const SensedDirection sensed =
                sensed_direction(frame.sensing, row, frame.angle(frame.rule.node[i]));
            for (Index m = 0; m < frame.modes.modes(); ++m) {
                const std::complex<double> felt = sensed.of(frame.modes.shape.col(m));
                const std::complex<double> shows =
                    felt * (speed ? frame.modes.lambda[m] * turn(m, i) : turn(m, i));
                observed(row * points + i, 2 * m) = shows.imag();
                observed(row * points + i, 2 * m + 1) = shows.real();
            }
        }
    }
    return observed;
}

// Forces of a unit of each row at the fine points, coordinates x fine rows.
template <class Factors>
MatrixXd fine_forces(const Frame& frame, Index rows, const Factors& factors) {
    const Index fine = frame.rule.fine_node.size();
    MatrixXd force(frame.modes.coordinates(), fine * rows);
    for (Index q = 0; q < fine; ++q) {
        const Factor factor = factors(frame.angle(frame.rule.fine_node[q]));
        for (Index row = 0; row < rows; ++row) force.col(row * fine + q) = factor.col(row);
    }
    return force;
}

// Modal states at the piece's start that would act later as unit impulses of z at the fine points.
MatrixXd impulses(const Frame& frame, const MatrixXd& force) {
    const Index fine = frame.rule.fine_node.size();
    MatrixXd input(2 * frame.modes.modes(), force.cols());
    const MatrixXcd back = turns_at(-frame.modes.lambda * frame.duration, frame.rule.fine_node);
    const MatrixXcd driven = frame.modes.shape.transpose() * force;
    for (Index column = 0; column < force.cols(); ++column) {
        for (Index m = 0; m < frame.modes.modes(); ++m) {
            const std::complex<double> impulse = back(m, column % fine) * driven(m, column);
            input(2 * m, column) = impulse.real();
            input(2 * m + 1, column) = impulse.imag();
        }
    }
    return input;
}

// K: responses at the points to forces at the fine points (each column of `input` one), integrated
// up to each point; still to be interpolated from the points of what makes the forces.
MatrixXd integrated_response(const Frame& frame, const MatrixXd& observed, const MatrixXd& input) {
    const Index points = frame.rule.node.size(), fine = frame.rule.fine_node.size();
    const MatrixXd up_to = frame.duration * frame.rule.integral;
    MatrixXd response = small_product(observed, input);
    for (Index b = 0; b < input.cols() / fine; ++b) {
        for (Index a = 0; a < frame.sensing.all_rows(); ++a) {
            response.block(a * points, b * fine, points, fine).array() *= up_to.array();
        }
    }
    return response;
}

// K P, where the residual answers at once.
template <class Factors>
MatrixXd local_response(const Frame& frame, const MatrixXd& observed, const MatrixXd& input,
                        const Factors& factors) {
    const Index points = frame.rule.node.size(), fine = frame.rule.fine_node.size();
    const Index rows = input.cols() / fine;
    const MatrixXd response = integrated_response(frame, observed, input);
    MatrixXd local(observed.rows(), rows * points);
    for (Index b = 0; b < rows; ++b) {
        local.middleCols(b * points, points) =
            small_product(response.middleCols(b * fine, fine), frame.rule.interpolation);
    }
    if (frame.modes.residual.isZero(0)) return local;
    for (Index i = 0; i < points; ++i) {
        const double angle = frame.angle(frame.rule.node[i]);
        const Factor shown = frame.modes.residual * factors(angle);
        for (Index a = 0; a < frame.sensing.rows(); ++a) {
            const SensedDirection sensed = sensed_direction(frame.sensing, a, angle);
            for (Index b = 0; b < rows; ++b) {
                local(a * points + i, b * points + i) += sensed.of(shown.col(b));
            }
        }
    }
    return local;
}

// What forces at the fine points leave in the modes at the piece's end, before interpolation.
MatrixXd weighted(const Frame& frame, MatrixXd input) {
    const Index fine = frame.rule.fine_node.size();
    for (Index column = 0; column < input.cols(); ++column) {
        input.col(column) *= frame.duration * frame.rule.fine_weight[column % fine];
    }
    return input;
}

// B.
MatrixXd left_behind(const Frame& frame, const MatrixXd& input) {
    const Index points = frame.rule.node.size(), fine = frame.rule.fine_node.size();
    const MatrixXd impulse = weighted(frame, input);
    MatrixXd pushed(input.rows(), input.cols() / fine * points);
    for (Index b = 0; b < input.cols() / fine; ++b) {
        pushed.middleCols(b * points, points) =
            small_product(impulse.middleCols(b * fine, fine), frame.rule.interpolation);
    }
    turn_modes(turns(frame.modes, frame.duration), pushed);
    return pushed;
}

void append_columns(MatrixXd& matrix, const MatrixXd& more) {
    const Index before = matrix.cols();
    matrix.conservativeResize(Eigen::NoChange, before + more.cols());
    matrix.rightCols(more.cols()) = more;
}

// Adds what the parts find of their earlier teeth below what is there.
void add_earlier(const Frame& frame, const MatrixXd& observed, CutStep& step) {
    const Index points = frame.rule.node.size(), rows = frame.sensing.rows();
    MatrixXd response(observed.rows(), 0);
    for (std::size_t part = 0; part < frame.forces.earlier.size(); ++part) {
        const auto factors = [&](double angle) { return earlier_factors(frame, part, angle); };
        const MatrixXd force = fine_forces(frame, rows, factors);
        const MatrixXd input = impulses(frame, force);
        append_columns(response, local_response(frame, observed, input, factors));
        append_columns(step.pushed, left_behind(frame, input));
        append_columns(step.force, force);
    }
    const Index top = observed.rows(), before = response.cols();
    MatrixXd resolvent(top + before, before);
    resolvent.topRows(top) = -(step.resolvent * response);
    resolvent.bottomRows(before) = -MatrixXd::Identity(before, before);
    step.resolvent = std::move(resolvent);
    step.shown.conservativeResize(top + before, Eigen::NoChange);
    step.shown.bottomRows(before).setZero();
    step.kept = rows * points;
}

// What the given force shows and leaves.
void add_given(const Frame& frame, const MatrixXd& observed, CutStep& step) {
    const Index points = frame.rule.node.size(), fine = frame.rule.fine_node.size();
    step.given.resize(frame.modes.coordinates(), fine);
    for (Index q = 0; q < fine; ++q) {
        step.given.col(q) = value_at(*frame.forces.given, frame.angle(frame.rule.fine_node[q]));
    }
    const MatrixXd input = impulses(frame, step.given);
    VectorXd shown = integrated_response(frame, observed, input).rowwise().sum();
    for (Index i = 0; i < points; ++i) {
        const double angle = frame.angle(frame.rule.node[i]);
        const EdgeVector at_once = frame.modes.residual * value_at(*frame.forces.given, angle);
        for (Index a = 0; a < frame.sensing.rows(); ++a) {
            shown[a * points + i] += sensed_direction(frame.sensing, a, angle).of(at_once);
        }
    }
    step.forced = step.resolvent * shown;
    MatrixXd left = weighted(frame, input).rowwise().sum();
    turn_modes(turns(frame.modes, frame.duration), left);
    step.kick = left;
}

}  // namespace

Sensing sensing(const DelaySystem& system, const ModalState& modes, bool apart) {
    const bool square = system.cutter.corner_radius <= 0;
    double pitch = 2 * std::numbers::pi;
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        pitch = std::min(pitch, tooth_pitch(system.cutter, tooth));
    }
    const double engaged = system.engagement.exit - system.engagement.entry;
    Sensing result;
    result.chip_alone =
        !apart && square && system.cutter.helix == 0 && engaged <= pitch * (1 + 1e-12);
    result.rubs = system.law.process_damping > 0 && system.law.rubbing == Rubbing::momentary &&
                  modes.modes() > 0;
    result.heights = static_cast<int>(modes.coordinates() / 3);
    for (int axis = 0; axis < (square ? 2 : 3); ++axis) {
        bool by_modes = false, moves = false;
        for (Index row = axis; row < 3 * result.heights; row += 3) {
            by_modes = by_modes || modes.shape.row(row).cwiseAbs().sum() > 0;
            moves = moves || modes.residual.row(row).cwiseAbs().sum() > 0;
        }
        if (by_modes || moves) result.axes.push_back(axis);
        if (by_modes && axis < 2) result.rubbed_axes.push_back(axis);
    }
    return result;
}

EdgeMatrix directional_at(const PieceForces& forces, double angle) {
    return forces.course != nullptr ? forces.course->at(forces.piece, angle, forces.course_scale)
                                    : EdgeMatrix(value_at(forces.directional, angle));
}

CutStep cut_step(const PieceForces& forces, const ModalState& modes, const Sensing& sensing,
                 const CutPiece& piece, SpindleSpeed speed, int points) {
    const GaussRule& rule = gauss_rule(points);
    const Frame frame{forces, modes, sensing, piece, rule, piece.length / speed.radians_per_second};
    const auto factors = [&](double angle) { return all_factors(frame, angle); };
    CutStep step{.duration = frame.duration, .points = points};
    step.force = fine_forces(frame, sensing.all_rows(), factors);
    const MatrixXd observed = observation(frame);
    const MatrixXd input = impulses(frame, step.force);
    MatrixXd local = -local_response(frame, observed, input, factors);
    local.diagonal().array() += 1;
    step.resolvent = inverse_of(local);
    step.shown = small_product(step.resolvent, observed);
    step.pushed = left_behind(frame, input);
    step.kept = sensing.rows() * points;
    if (forces.given != nullptr) add_given(frame, observed, step);
    if (!forces.earlier.empty()) {
        add_earlier(frame, observed, step);
    } else if (sensing.rubs) {
        step.resolvent = MatrixXd(step.resolvent.leftCols(step.kept));
    }
    if (step.forced.size() > 0) {  // nothing of it in what earlier teeth left
        const Index known = step.forced.size();
        step.forced.conservativeResize(step.rows());
        step.forced.tail(step.rows() - known).setZero();
    }
    return step;
}

}  // namespace standfast
