#include "fea/chatter/motion/time_march.hpp"

#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>

#include "fea/chatter/equation/modal_state.hpp"
#include "fea/chatter/motion/march_table.hpp"
#include "fea/cutting/edge_slices.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

using Eigen::Vector3d;

constexpr double kTurn = 2 * std::numbers::pi;
constexpr int kLeastSlices = 10;  // of an edge whose displacement differs along it

// exp(lambda h), and the weights of the force at the start and the end of a step.
struct ModeStep {
    std::complex<double> turn, first, last;
};

std::vector<ModeStep> mode_steps(const ModalState& modes, double h) {
    std::vector<ModeStep> steps;
    for (const std::complex<double>& lambda : modes.lambda) {
        const std::complex<double> z = lambda * h, turn = std::exp(z);
        const std::complex<double> all = (turn - 1.0) / lambda;
        const std::complex<double> last = (turn - 1.0 - z) / (lambda * z);
        steps.push_back({turn, all - last, last});
    }
    return steps;
}

class Marcher {
public:
    Marcher(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed,
            const MarchSetting& setting)
        : cut_(cut), setting_(setting), modes_(modal_state(receptance)) {
        steps_ = steps_of(speed);
        h_ = kTurn / (speed.radians_per_second * steps_);
        advance_ = mode_steps(modes_, h_);
        state_ = then_ = Eigen::VectorXcd::Zero(modes_.modes());
        lag_ = lag_per_height(cut.cutter);
        basis_ = receptance.basis;
        table_ = march_table(cut, steps_, slice_count());
        for (const double z : table_.middle) weights_.push_back(weights_at(basis_, z));
        force_ = coordinates_ = EdgeVector::Zero(basis_.size());
        wall_.assign(table_.engaged.size(), std::numeric_limits<double>::quiet_NaN());
        per_step_ = cut.feed_per_tooth * cut.cutter.teeth() / steps_;
        cutting_speed_ = speed.radians_per_second * cut.cutter.diameter / 2;
        rubbed_ = modes_.lambda.unaryExpr([&](const std::complex<double>& lambda) {
            return lambda * cut.law.fade.share(kTurn * cutting_speed_ / std::abs(lambda));
        });
        for (const double angle : cut.cutter.tooth_angle) {
            tooth_step_.push_back(static_cast<int>(std::lround(angle / kTurn * steps_)));
        }
    }

    March run() {
        March march{h_,
                    steps_,
                    cut_.cutter.teeth(),
                    cut_.cutter.evenly_spaced() && !cut_.cutter.runs_out(),
                    basis_,
                    {},
                    {},
                    {},
                    {},
                    {},
                    {}};
        march.height = table_.middle;
        const int last = setting_.revolutions * steps_;
        march.displacement.reserve(static_cast<std::size_t>(last));
        march.force.reserve(static_cast<std::size_t>(last));
        for (step_ = 1; step_ <= last; ++step_) {
            take_step();
            march.coordinates.push_back(coordinates_);
            march.displacement.push_back(displacement_at(basis_, coordinates_, 0));
            march.force.push_back(whole_force_);
        }
        for (const double height : table_.middle) {
            march.wall_reach.push_back(wall_reach(march, height));
            march.wall_error.push_back(
                *std::max_element(march.wall_reach.back().begin(), march.wall_reach.back().end()));
        }
        return march;
    }

private:
    int steps_of(SpindleSpeed speed) const {
        const int teeth = cut_.cutter.teeth();
        int wanted = setting_.steps_per_revolution;
        if (wanted == 0) {
            const double engaged = cut_.engagement.exit - cut_.engagement.entry;
            const double by_mode = 60 * modes_.fastest() / speed.radians_per_second;
            wanted = static_cast<int>(std::min(2e5, std::max(by_mode, 60 * kTurn / engaged)));
        }
        return teeth * std::max(1, (wanted + teeth - 1) / teeth);
    }

    int slice_count() const {
        if (setting_.slices > 0) return setting_.slices;
        const double lag = std::abs(lag_) * cut_.depth;
        const int least = basis_.is_point() ? 1 : kLeastSlices;
        return std::clamp(static_cast<int>(std::ceil(lag / (3 * kTurn / steps_))), least, 30);
    }

    // Force of all teeth at a displacement; `settle`: the wall takes what was cut.
    EdgeVector force_at(const EdgeVector& d, const EdgeVector& velocity, bool settle) {
        EdgeVector total = EdgeVector::Zero(basis_.size());
        whole_force_.setZero();
        for (int tooth = 0; tooth < cut_.cutter.teeth(); ++tooth) {
            int grid = (step_ - tooth_step_[static_cast<std::size_t>(tooth)]) % steps_;
            if (grid < 0) grid += steps_;
            const auto at = static_cast<std::size_t>(grid);
            for (int k = table_.first[at]; k < table_.first[at + 1]; ++k) {
                const auto place = static_cast<std::size_t>(k);
                const EngagedSlice& slice = table_.engaged[place];
                const EdgeWeights& weights = weights_[static_cast<std::size_t>(slice.slice)];
                const Vector3d force = slice_force(place, tooth, at_slice(d, weights),
                                                   at_slice(velocity, weights), settle);
                whole_force_ += force;
                detail::add_force(total, basis_, weights, force, slice.sine, slice.cosine);
            }
        }
        return total;
    }

    Vector3d at_slice(const EdgeVector& coordinates, const EdgeWeights& weights) const {
        Vector3d sum = Vector3d::Zero();
        for (int a = 0; a < basis_.heights(); ++a) {
            sum += weights[static_cast<std::size_t>(a)] * coordinates.segment<3>(3 * a);
        }
        return sum;
    }

    Vector3d slice_force(std::size_t place, int tooth, const Vector3d& d, const Vector3d& velocity,
                         bool settle) {
        const EngagedSlice& slice = table_.engaged[place];
        const double reach = per_step_ * step_ * slice.sine + runout_of(tooth) +
                             d.x() * slice.sine + d.y() * slice.cosine + d.z() * slice.axial;
        double& wall = wall_[place];
        if (std::isnan(wall)) wall = first_wall(tooth, slice.sine);
        const double offset = reach - wall;
        if (settle) wall = setting_.leaves_cut ? std::max(wall, reach) : reach;
        if (setting_.leaves_cut && offset <= 0) return Vector3d::Zero();
        Vector3d per_height = slice.edge + offset * slice.per_offset;
        if (cut_.law.process_damping > 0) {
            const Vector3d normal(slice.sine, slice.cosine, 0);
            per_height -= cut_.law.process_damping * normal.dot(velocity) / cutting_speed_ * normal;
        }
        return slice.height * per_height;
    }

    double runout_of(int tooth) const {
        return cut_.cutter.runs_out() ? cut_.cutter.runout[static_cast<std::size_t>(tooth)] : 0.0;
    }

    // What the tooth before would have left without vibration.
    double first_wall(int tooth, double sine) const {
        const int teeth = cut_.cutter.teeth();
        const int before = (tooth + teeth - 1) % teeth;
        const auto a = static_cast<std::size_t>(tooth), b = static_cast<std::size_t>(before);
        int apart = tooth_step_[a] - tooth_step_[b];
        if (apart <= 0) apart += steps_;
        return per_step_ * (step_ - apart) * sine + runout_of(before);
    }

    // The modes a step on, into then_.
    void step_modes(const EdgeVector& force_then) {
        const Eigen::VectorXcd before = modes_.shape.transpose() * force_;
        const Eigen::VectorXcd after = modes_.shape.transpose() * force_then;
        for (Eigen::Index m = 0; m < modes_.modes(); ++m) {
            const ModeStep& s = advance_[static_cast<std::size_t>(m)];
            then_[m] = s.turn * state_[m] + s.first * before[m] + s.last * after[m];
        }
    }

    EdgeVector shown() const { return (modes_.shape * then_).imag(); }
    EdgeVector moving() const {
        if (cut_.law.process_damping == 0) return EdgeVector::Zero(basis_.size());
        return (modes_.shape * then_.cwiseProduct(rubbed_)).imag();
    }

    // Predict with the old force, correct with the force found there, and settle the wall.
    void take_step() {
        EdgeVector force_then = force_;
        for (int pass = 0; pass < 2; ++pass) {
            step_modes(force_then);
            force_then = force_at(shown() + modes_.residual * force_then, moving(), false);
        }
        step_modes(force_then);
        coordinates_ = shown() + modes_.residual * force_then;
        force_ = force_at(coordinates_, moving(), true);
        state_ = then_;
    }

    // How far each tooth reaches into the wall at a height in the last revolution.
    std::vector<double> wall_reach(const March& march, double height) const {
        const bool up = cut_.engagement.milling == Milling::up;
        std::vector<double> reach;
        for (int tooth = 0; tooth < cut_.cutter.teeth(); ++tooth) {
            const auto place = static_cast<std::size_t>(tooth);
            const double angle = (up ? 0.0 : kTurn / 2) + lag_ * height;
            double at = std::fmod(angle / kTurn * steps_ + tooth_step_[place], steps_);
            if (at < 1) at += steps_;
            const double position = (setting_.revolutions - 1.0) * steps_ + at - 1 - steps_;
            const auto k = static_cast<std::size_t>(std::max(0.0, std::floor(position)));
            const double part = position - std::floor(position);
            const EdgeVector there =
                (1 - part) * march.coordinates[k] + part * march.coordinates[k + 1];
            const double y = displacement_at(basis_, there, height).y();
            reach.push_back((up ? y : -y) + runout_of(tooth));
        }
        return reach;
    }

    const RigidCut& cut_;
    const MarchSetting& setting_;
    ModalState modes_;
    int steps_ = 0;
    double h_ = 0, lag_ = 0, per_step_ = 0, cutting_speed_ = 0;
    std::vector<ModeStep> advance_;
    MarchTable table_;
    std::vector<double> wall_;  // farthest reach at every place of the table; NaN: not yet met
    std::vector<int> tooth_step_;
    Eigen::VectorXcd state_, then_;
    Eigen::VectorXcd rubbed_;  // each mode's lambda, less as its wave grows beyond rubbing
    EdgeBasis basis_;
    std::vector<EdgeWeights> weights_;  // of each slice
    EdgeVector coordinates_, force_;
    Vector3d whole_force_ = Vector3d::Zero();
    int step_ = 0;
};

}  // namespace

March time_march(const ModalReceptance& receptance, const RigidCut& cut, SpindleSpeed speed,
                 const MarchSetting& setting) {
    require_positive(speed.radians_per_second, "time_march", "spindle speed");
    require_positive(cut.depth, "time_march", "axial depth");
    require_positive(cut.cutter.teeth(), "time_march", "number of teeth");
    require_not_negative(cut.feed_per_tooth, "time_march", "feed per tooth");
    require_not_negative(cut.law.process_damping, "time_march", "process damping");
    require_between(setting.revolutions, 2, 1e6, "time_march", "number of revolutions");
    require_not_negative(setting.steps_per_revolution, "time_march", "steps per revolution");
    return Marcher(receptance, cut, speed, setting).run();
}

double growth_per_tooth(const March& march) {
    const int period = march.steps_per_revolution / (march.repeats_by_tooth ? march.teeth : 1);
    const int total = static_cast<int>(march.displacement.size());
    const int window = std::max(period, total / 6 / period * period);
    const auto size_before = [&](int end) {
        double sum = 0;
        for (int k = end - window; k < end; ++k) {
            const auto now = static_cast<std::size_t>(k);
            const auto then = static_cast<std::size_t>(k - period);
            sum += (march.displacement[now] - march.displacement[then]).squaredNorm();
        }
        return std::sqrt(sum);
    };
    require_between(2 * window + period, 1, total, "growth_per_tooth", "steps needed");
    const int apart = std::max(1, (total / 2 - window) / period) * period;
    const double tooth_periods =
        static_cast<double>(apart) * march.teeth / march.steps_per_revolution;
    const double before = size_before(total - apart), after = size_before(total);
    require_positive(before, "growth_per_tooth", "motion between periods");
    return std::exp(std::log(std::max(after, 1e-300) / before) / tooth_periods);
}

}  // namespace standfast
