#pragma once

#include <string>
#include <string_view>

namespace standfast {

/// Text that came from a file or the command line as it may be shown: what a terminal would obey,
/// what turns the reading direction and what cannot be seen stands as its code point, "\u{202E}"; a
/// byte that is no UTF-8 as "\x{FF}". Everything else, letters of any script included, stays.
///
/// Escaped: C0, DEL and C1 controls; soft hyphen; directional marks, embeddings, overrides and
/// isolates; zero-width and other invisible formatting; line and paragraph separators; variation
/// selectors; tags; blank Hangul fillers; annotation marks; byte order mark.
/// Source: Unicode Standard Annex 9, table 3 (directional formatting characters), and Unicode
///         Technical Standard 39 (default-ignorable code points are no part of names); both from
///         memory.
std::string visible_text(std::string_view text);

/// The same for text of several lines: line feeds stay.
std::string visible_lines(std::string_view text);

/// The same for a JSON document: what would be escaped stands as \uXXXX, so that its values stay
/// what they were. Beyond ASCII a document has nothing but strings.
std::string visible_json(std::string_view json);

}  // namespace standfast
