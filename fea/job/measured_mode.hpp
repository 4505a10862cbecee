#pragma once

#include <Eigen/Core>

#include "fea/quantities/quantities.hpp"

namespace standfast {

/// A mode as measured. The direction is the displacement per unit of the modal coordinate to
/// which `mass` belongs; it is never normalised.
struct MeasuredMode {
    Eigen::Vector3d direction = Eigen::Vector3d::UnitX();  ///< -; spindle axes, or stack axes
    AngularFrequency frequency;                            ///< undamped
    double damping_ratio = 0;
    double mass = 0;  ///< kg; stiffness / frequency^2 where the job gives a stiffness
};

}  // namespace standfast
