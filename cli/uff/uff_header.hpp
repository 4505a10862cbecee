#pragma once

#include <cstddef>

#include "cli/uff/byte_cursor.hpp"
#include "cli/uff/function_record.hpp"

namespace standfast {

/// How the values of a binary record lie.
struct BinaryLayout {
    bool little_endian = true;
    std::size_t bytes = 0;  ///< as claimed; 0: not said
};

/// Byte order, number format and size from the line that opens a 58b.
/// @throws MeasurementError for a byte order or number format that is not read
BinaryLayout read_binary_layout(const ByteCursor& cursor, std::string_view line);

/// The eleven lines before the values, into a record without values, and how many are claimed.
/// @throws MeasurementError naming the line and the field
std::size_t read_record_header(ByteCursor& cursor, FunctionRecord& record);

}  // namespace standfast
