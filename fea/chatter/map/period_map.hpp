#pragma once

#include <Eigen/Core>
#include <complex>
#include <memory>
#include <optional>
#include <vector>

#include "fea/chatter/equation/delay_system.hpp"
#include "fea/chatter/equation/modal_state.hpp"
#include "fea/chatter/equation/regeneration.hpp"
#include "fea/chatter/map/cut_step.hpp"
#include "fea/chatter/map/directional_course.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// What maps of one system at one depth have in common, whatever the speed and resolution.
struct PreparedCut {
    ModalState modes;
    Sensing sensing;
    /// A of equal teeth, and by what it is too small; else none.
    std::shared_ptr<const DirectionalCourse> course = {};
    double course_scale = 1;
    /// A where there is no course; of one tooth alone if the teeth take turns.
    EdgeSum<Eigen::Matrix3d> directional;
    EdgeSum<Eigen::Matrix3d> rubbing;  ///< likewise, N; nothing unless it is momentary
    /// N, of all teeth: rubbing that the modes take as damping (flank_drag.hpp); empty: none.
    EdgeMatrix mean_rubbing = {};
    WaveFade fade = {};
    /// m/N, of a mode's receptance at its peak: below it, a mode that the flank's drag damps cannot
    /// sing and is static if it is fast; 0: all are kept.
    double sings = 0;
    std::vector<CutPiece> pieces;  ///< of its period
    double radius = 0;             ///< m, of the cutter
    /// rad, from each tooth to the next, where unequal teeth take turns; else empty.
    std::vector<double> pitch = {};
    /// Parts with delays of their own, over a revolution; else empty.
    std::vector<Regeneration> parts = {};
    std::optional<EdgeSum<Eigen::Vector3d>> given = {};  ///< N, a force that acts anyway
};

/// For small motion about the stable one. Teeth of unequal pitch take turns where one at a time is
/// in the cut, and are parts of their own where several are.
/// @param depth  m, > 0
/// @param shelf  of cuts of the same geometry, whose directional matrix this one shares; none: had
///               for itself
/// @throws std::domain_error if the system or depth is not usable
PreparedCut prepare_cut(const DelaySystem& system, double depth, CourseShelf* shelf = nullptr);

/// For the motion itself, with the force of the rigid cut: over a tooth period for equal teeth
/// without runout, else over a revolution, every stretch of chip with the tooth that left it.
/// @param receptance  in whose basis the motion is had
PreparedCut prepare_motion(const ModalReceptance& receptance, const RigidCut& cut);

/// What the motion does in one step of the map.
struct CoursePiece {
    double angle = 0, length = 0;       ///< rad of tooth 0's tip
    bool cutting = false;               ///< false: free flight, displacement by `modal` alone
    Eigen::VectorXd modal = {};         ///< state at the start
    Eigen::VectorXd node = {};          ///< shares of the length, both ends included
    Eigen::MatrixXd displacement = {};  ///< m, coordinates x nodes
    EdgeVector impulse = {};            ///< N s; empty in free flight
};

/// The map of the delay equation over one period, for small motion about the stable one:
/// F = A(t) [d(t) - d(t - tau)], over one tooth period; teeth of unequal pitch over one revolution,
/// during which each meets at every angle what the one before it left there.
///
/// State: modal coordinates when the tip of tooth 0 enters, then y = W d (see cut_step.hpp) at the
/// Gauss points of every cutting piece, as the period before left it. The force needs nothing else
/// of the past, since it acts through few directions and only in the cut. Free flight is exact;
/// the cutting pieces lie between the kinks of A, so the error falls as h^(2 points). Where parts
/// have delays of their own, the pieces lie between the kinks that come back over the delays too,
/// and what an earlier tooth left is interpolated within one piece.
class PeriodMap {
public:
    /// @param margin  points in a piece = phase/2 + margin, where phase (rad) is that of the
    ///                fastest mode and of A; a piece that would need more than 12 is divided
    /// @throws std::domain_error if the speed is not positive, or as prepare_cut
    PeriodMap(const PreparedCut& cut, SpindleSpeed speed, double margin);
    PeriodMap(const DelaySystem& system, SpindleSpeed speed, double depth, double margin)
        : PeriodMap(prepare_cut(system, depth), speed, margin) {}

    Eigen::Index size() const { return size_; }
    Eigen::Index modal_size() const { return 2 * static_cast<Eigen::Index>(modes_.modes()); }
    double period() const { return period_; }       ///< s; a revolution for unequal pitch
    int teeth_in_period() const { return teeth_; }  ///< 1, or all of unequal pitch
    const ModalState& modes() const { return modes_; }
    /// A state one period later; `after` must not be `before`.
    void advance(const Eigen::Ref<const Eigen::VectorXd>& before, Eigen::VectorXd& after) const;
    /// The same with the given force.
    void advance_forced(const Eigen::Ref<const Eigen::VectorXd>& before,
                        Eigen::VectorXd& after) const;
    /// The motion over a period from a state on, with the given force.
    std::vector<CoursePiece> course(const Eigen::VectorXd& state) const;
    /// The map as a matrix, size() x size().
    Eigen::MatrixXd matrix() const;

    /// About how much of a multiplier the points miss whose motion has this frequency, as a share
    /// of what the cut adds to it: the square of the error of a polynomial through them.
    double missed_by_points(AngularFrequency frequency) const;

    /// Strongest line of the relative displacement of an eigenvector, Hz: with the multiplier
    /// r exp(i theta), lines stand at |theta/(2 pi) + k|/period for all whole k.
    double strongest_line(std::complex<double> multiplier, const Eigen::VectorXcd& state) const;

private:
    /// Where one point of what an earlier tooth left is found: between the points of a step.
    struct Source {
        Eigen::Index first = 0;   ///< of that step's y in the state
        Eigen::VectorXd weights;  ///< of its points
    };
    struct Step {
        bool cutting = false;
        double start = 0;                  ///< s, in the period
        double angle = 0, length = 0;      ///< rad
        Eigen::VectorXcd turn = {};        ///< exp(lambda duration) of each mode
        Eigen::Index first = 0;            ///< where its y stand in the state
        std::vector<double> delays = {};   ///< rad, of its parts; none: its own y
        std::vector<Source> sources = {};  ///< point by point, part by part
        CutStep cut = {};                  ///< of free flight: the duration alone
    };
    void repeat_for_each_tooth(const PreparedCut& cut, SpindleSpeed speed);
    void add_flight(double angle, double length, SpindleSpeed speed);
    void add_piece(const PreparedCut& cut, SpindleSpeed speed, double margin, std::size_t piece);
    void find_sources();
    Source source_of(double angle) const;
    Eigen::VectorXd left_before(const Step& step, const Eigen::VectorXd& state) const;
    Eigen::VectorXd take_step(const Step& step, bool forced, Eigen::VectorXd& state,
                              Eigen::VectorXd& modal) const;
    void run(bool forced, Eigen::VectorXd& state) const;
    CoursePiece course_of(const Step& step, const Eigen::VectorXd& modal,
                          const Eigen::VectorXd& chip, const Eigen::VectorXd& modal_after) const;
    Eigen::MatrixXd matrix_by_columns() const;
    std::vector<Eigen::VectorXcd> chips(std::complex<double> multiplier,
                                        const Eigen::VectorXcd& state) const;
    /// Forces at all fine points, times their weights.
    struct Impulses {
        Eigen::VectorXd time;    ///< s, in the period
        Eigen::MatrixXcd force;  ///< N s, coordinates x points
    };
    Impulses impulses_of(const std::vector<Eigen::VectorXcd>& chip) const;

    ModalState modes_;
    Sensing sensing_;
    double period_ = 0;
    int passes_ = 1;  ///< of a tooth over the same y within the period
    int teeth_ = 1;
    bool plain_ = true;  ///< every step finds its own y and nothing rubs
    Eigen::Index size_ = 0;
    std::vector<Step> steps_;
};

}  // namespace standfast
