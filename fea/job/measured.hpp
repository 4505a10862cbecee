#pragma once

#include <Eigen/Core>
#include <complex>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Where a hand pushes, a hammer strikes or an indicator's tip rests.
struct MeasuredPlace {
    std::optional<std::size_t> tool;  ///< none: the stack
    std::size_t tier = 0;             ///< of the stack
    /// m; on the stack from the tier's foot, tier axes; on a tool from its tip, spindle axes
    Eigen::Vector3d at = Eigen::Vector3d::Zero();
};

/// What the indicator's base stands on; the reading is the motion against that.
enum class IndicatorBase { table, spindle, floor };

/// A steady push, and what an indicator showed.
struct PushTest {
    MeasuredPlace pushed, read;                                 ///< usually the same place
    Eigen::Vector3d direction = Eigen::Vector3d::UnitX();       ///< of the force; unit
    Eigen::Vector3d read_direction = Eigen::Vector3d::UnitX();  ///< of the indicator; unit
    double force = 0;                                           ///< N
    std::vector<double> moved;                                  ///< m, loaded; repeats
    std::vector<double> returned;                               ///< m, after letting go; repeats
    double division = 1e-6;                                     ///< m, of the indicator's dial
    IndicatorBase against = IndicatorBase::table;
    std::string scale;  ///< which scale showed the force; pushes by one scale share its error
};

/// Frequencies heard or seen after a tap at a place, in any order.
struct TapTest {
    MeasuredPlace place;
    std::optional<Eigen::Vector3d> direction;  ///< unit; none: any
    std::vector<AngularFrequency> frequencies;
    std::vector<double> damping;  ///< ratios, one for each frequency; empty: not measured
    /// Relative standard deviations, one for each frequency, by the spread between knocks of a
    /// recording; empty: usual for the kind
    std::vector<double> frequency_deviation, damping_deviation;
    std::vector<std::string> remarks;  ///< what is worth knowing of the recording
};

/// Displacement per force at one place and direction.
struct ReceptanceTest {
    MeasuredPlace place;
    Eigen::Vector3d direction = Eigen::Vector3d::UnitX();  ///< unit
    std::vector<AngularFrequency> frequency;               ///< ascending
    std::vector<std::complex<double>> receptance;          ///< m/N, exp(+i w t)
    std::vector<double> coherence;     ///< 0 to 1, one for each frequency; empty: not measured
    std::vector<std::string> remarks;  ///< what its file says against the job
    std::string file;
};

/// Stock found on a wall after a cut, against programmed; > 0: left standing.
struct WallTest {
    std::size_t pass = 0;
    double top = 0, foot = 0;  ///< m
};

/// One measurement at the machine. Exactly one of the tests is there.
struct Measured {
    std::string name;
    std::optional<PushTest> push;
    std::optional<TapTest> tap;
    std::optional<ReceptanceTest> receptance;
    std::optional<WallTest> wall;
    /// Relative standard deviation of what is measured, model's shortcomings included; none: usual
    /// for its kind
    std::optional<double> good_to;
};

/// What an overlay of `fit` says of how the errors of its adjusted spread groups hang together:
/// the logarithms of their factors are jointly normal with this correlation.
struct FittedTogether {
    std::vector<std::string> groups;
    Eigen::MatrixXd correlation;  ///< symmetric, 1 on the diagonal
};

}  // namespace standfast
