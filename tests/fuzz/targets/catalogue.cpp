#include <cmath>

#include "materials/tables/load_catalogue.hpp"
#include "tests/fuzz/targets/targets.hpp"

namespace standfast::fuzz {

void try_catalogue(std::string_view bytes) {
    Catalogue catalogue;
    try {
        add_to_catalogue(catalogue, bytes, "shop.toml");
    } catch (const CatalogueError&) {
        return;
    }
    for (const Material& row : catalogue.materials) {
        if (!std::isfinite(row.youngs_modulus) || !std::isfinite(row.density)) {
            broken("a material that is not finite");
        }
    }
}

}  // namespace standfast::fuzz
