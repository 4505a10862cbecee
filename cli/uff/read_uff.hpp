#pragma once

#include <string>
#include <string_view>

#include "cli/uff/function_record.hpp"

namespace standfast {

/// Reads the records of dataset 58 and 58b (both byte orders) of a universal file; other datasets
/// are passed over by name. Memory stays within a few times the true size of the file whatever it
/// claims to hold.
/// @throws MeasurementError with file, line and byte: not there, empty, cut short, fewer values
///         than claimed, a value that is not a finite number, the other byte order, text where the
///         header promises binary, a step of 0, fewer than two values
UniversalFile read_uff(const std::string& path);

/// The same from bytes in memory; `name` is for messages.
UniversalFile parse_uff(std::string_view bytes, const std::string& name);

/// A measurement file whole, or a message why not: missing, a folder, above 1 GB.
/// @throws MeasurementError
std::string measurement_bytes(const std::string& path);

}  // namespace standfast
