#pragma once

#include <stdexcept>
#include <string_view>

#include "materials/catalogue.hpp"

namespace standfast {

/// A row of a table that cannot be used; what() names table, line, column, key and reason.
class CatalogueError : public std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// The tables of materials/data, compiled in. Parsed once, on first use.
const Catalogue& built_in_catalogue();

/// Adds the rows of one TOML text ([[material]], [[cutting]], [[joint]], [[machine]],
/// [[spindle]], [[holder]]; same keys as materials/data) to a catalogue. A row whose name is
/// already there replaces it.
/// @param text       TOML; numbers carry units ("205 GPa", "1650 N/mm2")
/// @param file_name  for messages
/// @throws CatalogueError naming every row and key that cannot be used
void add_to_catalogue(Catalogue& catalogue, std::string_view text, std::string_view file_name);

}  // namespace standfast
