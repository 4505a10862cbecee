#include "materials/load_catalogue.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>
#include <vector>

#include "materials/embedded_tables.hpp"
#include "materials/lookup_key.hpp"
#include "materials/nearest_name.hpp"
#include "materials/tables/read_rows.hpp"

namespace standfast {
namespace {

struct Load {
    std::string_view file_name;
    std::vector<std::string> errors;
};

/// How the rows of one table are named and read.
template <typename Row>
struct Table {
    std::string_view kind;      ///< heading in the file
    std::string_view name_key;  ///< key that names a row
    Row (*read)(RowReader&);
};

template <typename Row>
std::string& name_of(Row& row) {
    return row.name;
}
std::string& name_of(SpindleKind& row) { return row.taper; }
std::string& name_of(HolderKind& row) { return row.grip; }

template <typename Row>
bool same_row(Row& a, Row& b) {
    return lookup_key(name_of(a)) == lookup_key(name_of(b));
}
bool same_row(JointKind& a, JointKind& b) {
    return a.use == b.use && lookup_key(a.name) == lookup_key(b.name);
}

// The later row answers to the names of the one it replaces, unless it brings its own.
template <typename Row>
void replace_or_append(std::vector<Row>& rows, Row row) {
    const auto found = std::ranges::find_if(rows, [&](Row& other) { return same_row(row, other); });
    if (found != rows.end()) {
        if constexpr (requires { row.aliases; }) {
            if (row.aliases.empty()) row.aliases = found->aliases;
        }
        rows.erase(found);
    }
    rows.push_back(std::move(row));
}

// `heading` is the name in [material."name"]; rows of [[material]] name themselves.
template <typename Row>
void read_row(Load& load, const Table<Row>& table, const toml::table& node,
              const std::string& heading, std::vector<Row>& rows) {
    const std::string given = node[table.name_key].value_or(std::string());
    const std::string shown = heading.empty() ? given : heading;
    RowReader reader(node, std::string(table.kind) + " \"" + shown + "\"", load.file_name,
                     load.errors);
    const std::string name = heading.empty() ? reader.required_text(table.name_key) : heading;
    Row row = table.read(reader);
    name_of(row) = name;
    if constexpr (requires { row.aliases; }) row.aliases = reader.texts("aliases");
    row.source = reader.source();
    reader.refuse_unknown_keys();
    if (lookup_key(name).empty()) return;
    if (std::ranges::any_of(rows, [&](Row& other) { return same_row(row, other); })) {
        reader.refuse("is given twice in this file");
    }
    rows.push_back(std::move(row));
}

void refuse_shape(Load& load, const toml::node& node, std::string_view kind) {
    load.errors.push_back(error_place(load.file_name, node.source().begin) + "\"" +
                          std::string(kind) + "\" must be written as [[" + std::string(kind) +
                          "]] or [" + std::string(kind) + ".\"name\"]");
}

template <typename Row>
std::vector<Row> read_table(Load& load, const toml::table& document, const Table<Row>& table) {
    std::vector<Row> rows;
    const toml::node* const node = document.get(table.kind);
    if (node == nullptr) return rows;
    const auto read = [&](const toml::node& entry, const std::string& heading) {
        if (const toml::table* const row = entry.as_table()) {
            read_row(load, table, *row, heading, rows);
        } else {
            refuse_shape(load, entry, table.kind);
        }
    };
    if (const toml::array* const list = node->as_array()) {
        for (const toml::node& entry : *list) read(entry, "");
    } else if (const toml::table* const named = node->as_table()) {
        for (const auto& [key, entry] : *named) read(entry, std::string(key.str()));
    } else {
        refuse_shape(load, *node, table.kind);
    }
    return rows;
}

void refuse_unknown_tables(Load& load, const toml::table& document) {
    const std::vector<std::string> known{"material", "cutting", "joint",
                                         "machine",  "spindle", "holder"};
    for (const auto& [key, node] : document) {
        if (std::ranges::find(known, key.str()) != known.end()) continue;
        const auto nearest = nearest_name(key.str(), known);
        load.errors.push_back(error_place(load.file_name, key.source().begin) + "unknown table \"" +
                              std::string(key.str()) + "\"" +
                              (nearest ? "; did you mean \"" + *nearest + "\"?" : ""));
    }
}

toml::table parse(std::string_view text, std::string_view file_name) {
    try {
        return toml::parse(text, file_name);
    } catch (const toml::parse_error& fault) {
        throw CatalogueError(error_place(file_name, fault.source().begin) +
                             std::string(fault.description()));
    }
}

void throw_if_any(const std::vector<std::string>& errors) {
    if (errors.empty()) return;
    std::string all;
    for (const std::string& error : errors) all += (all.empty() ? "" : "\n") + error;
    throw CatalogueError(all);
}

template <typename Row>
void append(std::vector<Row>& rows, std::vector<Row> added) {
    for (Row& row : added) replace_or_append(rows, std::move(row));
}

}  // namespace

void add_to_catalogue(Catalogue& catalogue, std::string_view text, std::string_view file_name) {
    const toml::table document = parse(text, file_name);
    Load load{.file_name = file_name, .errors = {}};
    refuse_unknown_tables(load, document);
    const auto read = [&](auto table) { return read_table(load, document, table); };
    auto materials = read(Table<Material>{"material", "name", read_material});
    auto cutting = read(Table<CuttingData>{"cutting", "name", read_cutting});
    auto joints = read(Table<JointKind>{"joint", "name", read_joint});
    auto machines = read(Table<MachineKind>{"machine", "name", read_machine});
    auto spindles = read(Table<SpindleKind>{"spindle", "taper", read_spindle});
    auto holders = read(Table<HolderKind>{"holder", "grip", read_holder});
    throw_if_any(load.errors);
    append(catalogue.materials, std::move(materials));
    append(catalogue.cutting, std::move(cutting));
    append(catalogue.joints, std::move(joints));
    append(catalogue.machines, std::move(machines));
    append(catalogue.spindles, std::move(spindles));
    append(catalogue.holders, std::move(holders));
}

const Catalogue& built_in_catalogue() {
    static const Catalogue catalogue = [] {
        Catalogue tables;
        for (const EmbeddedTable& table : embedded_tables()) {
            add_to_catalogue(tables, table.text, table.name);
        }
        return tables;
    }();
    return catalogue;
}

}  // namespace standfast
