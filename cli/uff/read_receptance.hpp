#pragma once

#include <complex>
#include <string>
#include <string_view>
#include <vector>

#include "cli/uff/function_record.hpp"
#include "fea/quantities/quantities.hpp"

namespace standfast {

/// Displacement per force as measured: m/N, exp(+i w t), ascending frequencies above 0.
struct MeasuredReceptance {
    std::vector<AngularFrequency> frequency;
    std::vector<std::complex<double>> receptance;
    std::vector<double> coherence;  ///< gamma^2, one for each frequency; empty: not in the file
    /// Of a universal file, as RecordPlace: where it was felt and struck along; 0: not said
    int response_direction = 0, reference_direction = 0;
};

/// Reads a receptance from a universal file (dataset 58 of function type 4: displacement, velocity
/// or acceleration over force) or from CSV.
/// @param which  of several: the record's number in a universal file ("2"), the column's name
///               before _re and _im in CSV ("tool_xx"); empty: there is only one
/// @throws MeasurementError with file and line
MeasuredReceptance read_receptance(const std::string& path, const std::string& which);

/// A record of a universal file in m/N. A unit that the labels name wins over the file's own units,
/// those over SI.
/// @throws MeasurementError for a time record, something that is not over a force, or a unit that
///         is not known
MeasuredReceptance receptance_of_record(const FunctionRecord& record, const UniversalFile& file,
                                        const std::string& name);

/// CSV: a line of names, then numbers, separated by commas, semicolons or tabs; "#" begins a
/// comment. Columns: a frequency in Hz, and NAME_re with NAME_im (or real and imag, or magnitude
/// and phase); NAME_coherence, or coherence, beside them. A unit may stand behind a name:
/// "re (um/N)", "magnitude (dB re 1 m/N)", "phase (rad)", "frequency (rad/s)"; m/N, degrees and Hz
/// unless said. Three
/// columns of numbers without names are frequency, real and imaginary part.
MeasuredReceptance parse_receptance_csv(std::string_view bytes, const std::string& name,
                                        const std::string& which);

/// A unit of motion over force as a factor to SI and how often it was differentiated.
struct MotionUnit {
    double factor = 1;
    int derivatives = 0;  ///< 0: displacement, 1: velocity, 2: acceleration
    bool known = false;
};
/// "um/N", "m/s^2/N", "g/lbf", "mm" (then per newton).
MotionUnit motion_unit(std::string_view text);

}  // namespace standfast
