// libFuzzer target: any bytes as a measurement file. Build with clang and -DSTANDFAST_FUZZ=ON, then
//   read_uff_fuzz tests/cli/uff/samples
// A crash, a hang, memory far above the input's size or a number that is not finite is a fault.
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "cli/uff/measurement_error.hpp"
#include "cli/uff/read_receptance.hpp"
#include "cli/uff/read_uff.hpp"

// NOLINTNEXTLINE(readability-identifier-naming): the name that libFuzzer looks for
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view bytes(reinterpret_cast<const char*>(data), size);
    try {
        for (const standfast::FunctionRecord& record :
             standfast::parse_uff(bytes, "fuzz.uff").records) {
            for (const std::complex<double>& value : record.y) {
                if (!std::isfinite(value.real()) || !std::isfinite(value.imag())) {
                    std::abort();
                }
            }
        }
    } catch (const standfast::MeasurementError&) {
    }
    try {
        standfast::parse_receptance_csv(bytes, "fuzz.csv", "");
    } catch (const standfast::MeasurementError&) {
    }
    return 0;
}
