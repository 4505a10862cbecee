#pragma once

#include <string>
#include <string_view>

namespace standfast {

/// A page as a file: before all else comes a line with the fingerprint of the rest, by which a page
/// that nobody changed is known.
/// @param rest  from <html> on
std::string page_file(const std::string& rest);

/// Throws where something else than an unchanged page of this program stands there.
/// @param option  "--report", for the message
/// @throws UsageError
void require_page_file_can_be_written(std::string_view option, const std::string& path, bool force);

}  // namespace standfast
