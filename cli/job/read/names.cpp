// Names that tie a job together: tiers, tools, materials.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cli/job/read/read_tier.hpp"
#include "materials/nearest_name.hpp"

namespace standfast {

std::vector<std::string> names_of(TableReader& root, std::string_view key,
                                  const std::vector<const Value*>& tables) {
    std::vector<std::string> names;
    std::map<std::string, Position> seen;
    for (const Value* const table : tables) {
        const Entry* const entry = find_entry(*table, "name");
        const bool named = entry != nullptr && entry->value.kind == ValueKind::text;
        const std::string name =
            named ? entry->value.text : fmt::format("{} {}", key, names.size() + 1);
        const Position where = named ? entry->value.where : table->where;
        const auto [first, is_first] = seen.emplace(name, where);
        if (!is_first) {
            fail(root.reading(), {.where = where,
                                  .message = fmt::format(R"({} {}: the name "{}" is taken)", key,
                                                         names.size() + 1, name.substr(0, 60)),
                                  .accepted = "a name of its own for each",
                                  .notes = {{first->second, "the other one of that name"}}});
        }
        names.push_back(name);
    }
    return names;
}

std::optional<std::size_t> index_of(TableReader& table, std::string_view key,
                                    const std::vector<std::string>& names, std::string_view what) {
    const Value* const value = table.find(key);
    if (value == nullptr) {
        return std::nullopt;
    }
    const auto found =
        value->kind == ValueKind::text ? std::ranges::find(names, value->text) : names.end();
    if (found != names.end()) {
        return static_cast<std::size_t>(found - names.begin());
    }
    const auto near =
        value->kind == ValueKind::text ? nearest_name(value->text, names) : std::nullopt;
    const std::string listed =
        names.empty() ? fmt::format("no {} is described in this job", what)
                      : fmt::format(R"(the name of a {}: "{}")", what, fmt::join(names, R"(", ")"));
    if (value->kind == ValueKind::text) {
        table.fail(value->where,
                   fmt::format("{}: there is no {} {}", table.call(key), what, in_words(*value)),
                   listed, near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
    } else {
        table.reject(key, *value, listed);
    }
    return std::nullopt;
}

Material read_material(TableReader& table, std::string_view key, std::string_view fallback) {
    const Catalogue& catalogue = table.reading().catalogue;
    const Value* const value = table.find(key);
    if (value == nullptr) {
        const Material* const row = find_material(catalogue, fallback);
        return row == nullptr ? Material{} : *row;
    }
    return material_of(table, key, *value).value_or(Material{});
}

std::optional<Material> material_of(TableReader& table, std::string_view key, const Value& value) {
    const Catalogue& catalogue = table.reading().catalogue;
    const std::string accepted =
        R"(a material's name, as in "steel 4140" or "6061"; "standfast materials" lists them)";
    if (value.kind != ValueKind::text) {
        table.reject(key, value, accepted);
        return std::nullopt;
    }
    if (const Material* const row = find_material(catalogue, value.text)) {
        return *row;
    }
    const auto near = nearest_name(value.text, material_names(catalogue));
    table.fail(value.where,
               fmt::format("{}: no material is called {}", table.call(key), in_words(value)),
               accepted, near ? fmt::format(R"(did you mean "{}"?)", *near) : std::string());
    return std::nullopt;
}

}  // namespace standfast
