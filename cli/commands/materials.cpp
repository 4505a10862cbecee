#include "cli/commands/materials.hpp"

#include <fmt/format.h>

#include <iostream>

#include "cli/commands/materials_text.hpp"
#include "cli/files/safe_file.hpp"
#include "cli/files/usage_error.hpp"
#include "cli/text/visible_text.hpp"
#include "materials/nearest_name.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

void add_users_rows(Catalogue& catalogue, const std::string& path) {
    if (!is_regular_file(path)) {
        throw UsageError(fmt::format("{}: there is no such file", path));
    }
    try {
        add_to_catalogue(catalogue, file_bytes(path), path);
    } catch (const CatalogueError& error) {
        throw UsageError(error.what());
    }
}

}  // namespace

int run_materials(const Options& options) {
    Catalogue catalogue = built_in_catalogue();
    if (options.materials_file) {
        add_users_rows(catalogue, *options.materials_file);
    }
    if (options.arguments.empty()) {
        std::cout << visible_lines(materials_list_text(catalogue, options.units));
        return 0;
    }
    const std::string& name = options.arguments.front();
    const std::string text = material_text(catalogue, name, options.units);
    if (text.empty()) {
        const auto nearest = nearest_name(name, catalogue_names(catalogue));
        throw UsageError(fmt::format(
            "nothing in the tables answers to \"{}\"{}; \"standfast materials\" lists them", name,
            nearest ? fmt::format("; did you mean \"{}\"?", *nearest) : ""));
    }
    std::cout << visible_lines(text);
    return 0;
}

}  // namespace standfast
