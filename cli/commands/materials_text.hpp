#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "materials/catalogue.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The whole catalogue, one line a row, for the screen (at most 100 columns).
std::string materials_list_text(const Catalogue& catalogue, UnitSystem system);

/// Everything the catalogue holds under a name or alias: material (with its cutting forces),
/// cutting forces, joint, taper (with its spindle), grip (with its typical holder), machine. Each
/// figure with unit and spread, each row with source and how far it was seen. Empty if nothing
/// answers to the name.
std::string material_text(const Catalogue& catalogue, std::string_view name, UnitSystem system);

/// Every name and alias that material_text answers to, for "did you mean".
std::vector<std::string> catalogue_names(const Catalogue& catalogue);

}  // namespace standfast
