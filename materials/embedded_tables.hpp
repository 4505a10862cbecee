#pragma once

#include <string_view>
#include <vector>

namespace standfast {

/// One TOML table of materials/data as it was at build time.
struct EmbeddedTable {
    std::string_view name;  ///< file name, as in "materials.toml"
    std::string_view text;
};

/// All tables of materials/data, compiled in (written by embed_tables.cmake).
const std::vector<EmbeddedTable>& embedded_tables();

}  // namespace standfast
