#pragma once

#include <optional>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/studies/fit/receptance_coupling.hpp"

namespace standfast {

/// Receptance of the holder's face, spindle side and grip in, cutter off, as modelled: deflection
/// along `direction` and slope in its plane, for each frequency.
/// @param direction  unit, across the tool's axis; spindle axes
/// @throws std::domain_error as tool_model, and where nothing between spindle and grip gives
std::vector<EndReceptance> modelled_base(const Machine& machine, const ToolChain& tool,
                                         const Eigen::Vector3d& direction,
                                         const std::vector<AngularFrequency>& frequency);

/// A tip receptance measured at one stickout, carried to the tool's own: the cutter as it stuck
/// out when measured is taken off the measured tip, and the cutter as it sticks out now is put on
/// (receptance_coupling.hpp).
/// Measured in tests, worst difference over the largest value: a tip of the model itself from 58 to
/// 45 mm 0.1 %; a machine whose spindle is 40 % softer and whose grip 30 %, from 58 to 48 mm, 13 %,
/// where the uncorrected model is off by 117 %.
/// @param measured_stickout  m, at which it was measured
/// @returns the receptance at the tool's stickout, same frequencies, m/N
std::vector<std::complex<double>> at_own_stickout(const Machine& machine, const ToolChain& tool,
                                                  const ReceptanceTest& measured,
                                                  double measured_stickout);

/// Modes that stand for a tip measured along a direction, at the tool's own stickout; what lies
/// above the band as one more mode at twice its end.
/// @param measured_stickout  none: that of the tool
/// @throws std::domain_error where no mode stands out of the noise
std::vector<MeasuredMode> tip_modes(const Machine& machine, const ToolChain& tool,
                                    const ReceptanceTest& measured,
                                    std::optional<double> measured_stickout);

}  // namespace standfast
