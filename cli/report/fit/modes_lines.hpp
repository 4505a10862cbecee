#pragma once

#include <string>
#include <vector>

#include "fea/job/measured_mode.hpp"
#include "fea/studies/fit/modal_fit.hpp"

namespace standfast {

/// Measured modes along one direction, for a job: direction as the job writes it.
struct FittedDirection {
    std::string source;     ///< file or name of the measurement
    std::string direction;  ///< "x" or "[0.6, 0.8, 0]"
    ModalFit fit;
};

/// "modes = [ ... ]" for a job, with the misfit and warnings as comments; six digits.
std::string modes_lines(const std::vector<FittedDirection>& directions);

/// A direction as a job writes it: "x", "-y" in quotes or three numbers.
std::string direction_text(const Eigen::Vector3d& direction);

}  // namespace standfast
