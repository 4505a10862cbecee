#pragma once

#include <string>
#include <vector>

#include "cli/uff/function_record.hpp"

namespace standfast {

enum class UffForm { text, little_endian, big_endian };

/// A universal file of these records. As the form has it: the start and step of an even record and
/// single-precision text keep six digits, double-precision text twelve; binary keeps single or
/// double precision whole; an abscissa of its own is in single precision.
std::string uff_bytes(const std::vector<FunctionRecord>& records, UffForm form);

}  // namespace standfast
