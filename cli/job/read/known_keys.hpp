#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace standfast {

/// The keys of one kind of table, for a hint only: the readers decide what is known.
struct KnownTable {
    std::string_view header;  ///< "[[tier]]"; empty: the top of the file
    std::vector<std::string_view> keys;
};

const std::vector<KnownTable>& known_tables();

/// TOML puts a line into the last [table] above it. Where a key that is unknown here would be
/// right in another table, or at the top of the file: one sentence that says so; else empty.
/// @param header  the table it was found in, as known_tables() spells it
std::string landed_hint(std::string_view key, std::string_view header);

}  // namespace standfast
