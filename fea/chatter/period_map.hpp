#pragma once

#include <Eigen/Core>
#include <complex>
#include <vector>

#include "fea/chatter/cut_step.hpp"
#include "fea/chatter/delay_system.hpp"
#include "fea/chatter/modal_state.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// What maps of one system at one depth have in common, whatever the speed and resolution.
struct PreparedCut {
    ModalState modes;
    Sensing sensing;
    EdgeSum<Eigen::Matrix3d> directional;  ///< A; of one tooth alone if the pitch is unequal
    std::vector<CutPiece> pieces;          ///< of its period
    std::vector<double> pitch;             ///< rad, from each tooth to the next; empty: equal
};

/// @param depth  m, > 0
/// @throws std::domain_error if the system or depth is not usable; also for teeth of unequal pitch
///         of which more than one is in the cut at a time
PreparedCut prepare_cut(const DelaySystem& system, double depth);

/// The map of the delay equation over one tooth period, for small motion about the stable one:
/// F = A(t) [d(t) - d(t - tau)]. Teeth of unequal pitch: over one revolution, during which the
/// teeth take turns, each meeting at every angle what the one before it left there.
///
/// State: modal coordinates when the tip of tooth 0 enters, then y = W d (see cut_step.hpp) at the
/// Gauss points of every cutting piece, as the period before left it. The force needs nothing else
/// of the past, since it acts through few directions and only in the cut. Free flight is exact;
/// the cutting pieces lie between the kinks of A, so the error falls as h^(2 points).
class PeriodMap {
public:
    /// @param margin  points in a piece = phase/2 + margin, where phase (rad) is that of the
    ///                fastest mode and of A; a piece that would need more than 24 is divided
    /// @throws std::domain_error if the speed is not positive, or as prepare_cut
    PeriodMap(const PreparedCut& cut, SpindleSpeed speed, double margin);
    PeriodMap(const DelaySystem& system, SpindleSpeed speed, double depth, double margin)
        : PeriodMap(prepare_cut(system, depth), speed, margin) {}

    Eigen::Index size() const { return size_; }
    Eigen::Index modal_size() const { return 2 * modes_.modes(); }
    double period() const { return period_; }        ///< s; a revolution for unequal pitch
    int teeth_in_period() const { return passes_; }  ///< 1, or all of unequal pitch
    const ModalState& modes() const { return modes_; }
    /// A state one period later; `after` must not be `before`.
    void advance(const Eigen::Ref<const Eigen::VectorXd>& before, Eigen::VectorXd& after) const;
    /// The map as a matrix, size() x size().
    Eigen::MatrixXd matrix() const;

    /// Strongest line of the relative displacement of an eigenvector, Hz: with the multiplier
    /// r exp(i theta), lines stand at |theta/(2 pi) + k|/period for all whole k.
    double strongest_line(std::complex<double> multiplier, const Eigen::VectorXcd& state) const;

private:
    struct Step {
        bool cutting = false;
        double start = 0;        ///< s, in the period
        Eigen::VectorXcd turn;   ///< exp(lambda duration) of each mode
        Eigen::Index first = 0;  ///< where its y stand in the state
        CutStep cut;             ///< of free flight: the duration alone
    };
    void repeat_for_each_tooth(const PreparedCut& cut, SpindleSpeed speed);
    void add_flight(double duration);
    void add_piece(const PreparedCut& cut, SpindleSpeed speed, double margin,
                   const CutPiece& piece);
    Eigen::MatrixXd matrix_by_columns() const;
    std::vector<Eigen::VectorXcd> chips(std::complex<double> multiplier,
                                        const Eigen::VectorXcd& state) const;
    /// Forces at all fine points, times their weights.
    struct Impulses {
        Eigen::VectorXd time;     ///< s, in the period
        Eigen::Matrix3Xcd force;  ///< N s
    };
    Impulses impulses_of(const std::vector<Eigen::VectorXcd>& chip) const;

    ModalState modes_;
    Sensing sensing_;
    double period_ = 0;
    int passes_ = 1;
    Eigen::Index size_ = 0;
    std::vector<Step> steps_;
};

}  // namespace standfast
