#include <cmath>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_receptance.hpp"
#include "cli/uff/read_uff.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void try_universal_file(std::string_view bytes) {
    try {
        for (const FunctionRecord& record : parse_uff(bytes, "fuzz.uff").records) {
            for (const std::complex<double>& value : record.y) {
                if (!std::isfinite(value.real()) || !std::isfinite(value.imag())) {
                    broken("a value that is not finite");
                }
            }
        }
    } catch (const MeasurementError&) {
    }
}

void try_receptance_table(std::string_view bytes) {
    try {
        const MeasuredReceptance read = parse_receptance_csv(bytes, "fuzz.csv", "");
        if (read.frequency.size() != read.receptance.size()) broken("lengths differ");
        for (const AngularFrequency frequency : read.frequency) {
            if (!std::isfinite(frequency.radians_per_second)) broken("a frequency");
        }
    } catch (const MeasurementError&) {
    }
}

}  // namespace standfast::fuzz
