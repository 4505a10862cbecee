#pragma once

#include <string>
#include <string_view>

#include "cli/nc/nc_program.hpp"

namespace standfast {

/// What stands before every line that a program cannot fill.
inline constexpr std::string_view kFillIn = "# FILL IN: ";

/// A job with the tools and cuts of a program as tools and passes, on the stand of a starter (the
/// stand is invented). What the program does not say stands as a comment that begins with kFillIn
/// and holds the key with an example; with these marks taken away the job reads without an error.
/// What was not taken of the program is listed at the end.
/// @param program_name  as the user wrote it
/// @param stand         of starter_stand()
/// @throws std::domain_error where the program holds no cut
std::string program_job(const NcProgram& program, std::string_view program_name,
                        std::string_view stand);

}  // namespace standfast
