#pragma once

#include <cstddef>

#include "cli/uff/byte_cursor.hpp"
#include "cli/uff/function_record.hpp"
#include "cli/uff/uff_header.hpp"

namespace standfast {

/// Numbers of a record's values as they lie in the file: how many there are for each point.
struct ValueShape {
    bool complex = false, double_precision = false, with_abscissa = false;
    std::size_t numbers() const { return (complex ? 2U : 1U) + (with_abscissa ? 1U : 0U); }
};
ValueShape value_shape(const FunctionRecord& record);

/// Reads the values that follow a header, as text, into the record.
/// @throws MeasurementError at the value that is missing, no number, or not finite
void read_text_values(ByteCursor& cursor, FunctionRecord& record, std::size_t count);

/// Reads them as binary. Where a double-precision record has its own abscissa, that is in single
/// precision, unless the claimed size says that it is in double.
void read_binary_values(ByteCursor& cursor, FunctionRecord& record, std::size_t count,
                        const BinaryLayout& layout);

/// Puts numbers in file order into x and y, x of an even record from start and step.
void place_values(FunctionRecord& record, const std::vector<double>& numbers);

}  // namespace standfast
