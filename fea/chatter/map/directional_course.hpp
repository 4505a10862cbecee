#pragma once

#include <Eigen/Core>
#include <memory>
#include <mutex>
#include <vector>

#include "fea/chatter/equation/cut_pieces.hpp"
#include "fea/chatter/equation/delay_system.hpp"

namespace standfast {

/// The directional matrix A over the pieces of a tooth period, each by the polynomial through a few
/// of its values: A is smooth within a piece, and dear where a corner radius is cut into slices.
/// To 5e-6 of the largest value on a straight edge; with a corner radius in slices within twice
/// what their sum is off from the arc (measured in tests).
struct DirectionalCourse {
    EdgeBasis basis;                     ///< in whose coordinates it is had
    std::vector<CutPiece> pieces;        ///< as cut_pieces gives them
    std::vector<Eigen::MatrixXd> value;  ///< per piece: entries of A x Gauss points; empty: no cut
    EdgeMatrix mean_rubbing;             ///< N, harmonic 0 of rubbing_sum with coefficient 1 N/m
    Eigen::Matrix3d mean;                ///< N/m^2, mean_directional_matrix

    /// A at an angle of a piece, N/m.
    /// @param scale  see CourseShelf
    EdgeMatrix at(std::size_t piece, double angle, double scale) const;
};

/// @param system  equal teeth; with the receptance of a cut of that depth (PreparedCut)
/// @param depth   m, > 0
DirectionalCourse directional_course(const DelaySystem& system, const EdgeBasis& basis,
                                     double depth);

/// Courses of one geometry and depth, shared by cuts whose force laws differ by a factor, as tries
/// do. Several threads may ask at once.
class CourseShelf {
public:
    struct Course {
        std::shared_ptr<const DirectionalCourse> course;
        double scale = 1;  ///< by which its A and mean are too small for the system asked for
    };
    /// @param system  equal teeth, in everything but receptance and size of the force the same at
    ///                every call; of another corner or another ratio of its forces it is had anew
    Course at(const DelaySystem& system, const EdgeBasis& basis, double depth);

private:
    struct Kept {
        double corner_radius = 0, depth = 0;
        int arc_slices = 0;
        Eigen::Vector3d law;  ///< tangential, radial, axial, N/m^2
        std::shared_ptr<const DirectionalCourse> course;
    };
    std::mutex mutex_;
    std::vector<Kept> kept_;
};

}  // namespace standfast
