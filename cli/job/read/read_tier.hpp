#pragma once

#include "cli/job/read/table_reader.hpp"

namespace standfast {

/// [[tier]] in order, into Reading::job.stack.tiers.
void read_tiers(TableReader& root);

/// [[support]], after the tiers.
void read_supports(TableReader& root);

/// A material by name; a fault where the catalogue has none.
Material read_material(TableReader& table, std::string_view key, std::string_view fallback);
/// The same for a value that stands in a list under the key.
std::optional<Material> material_of(TableReader& table, std::string_view key, const Value& value);

/// The index of a named thing: the row in `names`, or none with the nearest name suggested.
std::optional<std::size_t> index_of(TableReader& table, std::string_view key,
                                    const std::vector<std::string>& names, std::string_view what);

/// The names of a list of tables, "tier 2" for one without; two of the same name are a fault.
std::vector<std::string> names_of(TableReader& root, std::string_view key,
                                  const std::vector<const Value*>& tables);

}  // namespace standfast
