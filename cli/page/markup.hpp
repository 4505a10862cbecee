#pragma once

#include <string>
#include <string_view>

namespace standfast {

// The report page: one HTML file made from the same plain data as screen and JSON. Titles and names
// are data; they get into the page through these two functions only.

/// Text as it stands between tags or in a quoted attribute: no character of it can end either;
/// controls and what cannot be seen are shown (visible_text).
std::string html(std::string_view text);

/// JSON as it may stand inside a script element: what could end the element, begin a comment or
/// another script in it, or end a line of a script, is written by its code point.
std::string json_in_script(std::string_view json);

}  // namespace standfast
