#include "materials/tables/load_catalogue.hpp"

#include <algorithm>
#include <array>
#include <string>
#include <utility>
#include <vector>

#include "materials/embedded_tables.hpp"
#include "materials/lookup_key.hpp"
#include "materials/tables/read_rows.hpp"

namespace standfast {
namespace {

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

template <typename Row>
void read_row(RowReader& reader, Row (*read)(RowReader&), std::vector<Row>& rows) {
    const std::string name = reader.name();
    Row row = read(reader);
    name_of(row) = name;
    if constexpr (requires { row.aliases; }) row.aliases = reader.texts("aliases");
    row.source = reader.source();
    reader.refuse_unknown_keys();
    if (name.empty()) return;
    if (std::ranges::any_of(rows, [&](Row& other) { return same_row(row, other); })) {
        reader.refuse("is given twice in this file");
    }
    rows.push_back(std::move(row));
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

template <typename Row>
void append(std::vector<Row>& rows, std::vector<Row> added) {
    for (Row& row : added) replace_or_append(rows, std::move(row));
}

void throw_if_any(const std::vector<std::string>& errors) {
    if (errors.empty()) return;
    std::string all;
    for (const std::string& error : errors) all += (all.empty() ? "" : "\n") + error;
    throw CatalogueError(all);
}

Catalogue read_catalogue(std::string_view text, std::string_view file_name) {
    static constexpr std::array<RowKind, 6> kinds{{{"material", "name"},
                                                   {"cutting", "name"},
                                                   {"joint", "name"},
                                                   {"machine", "name"},
                                                   {"spindle", "taper"},
                                                   {"holder", "grip"}}};
    Catalogue catalogue;
    std::vector<std::string> errors;
    for (auto& [kind, reader] : find_rows(text, file_name, kinds, errors)) {
        if (kind == 0) read_row(reader, read_material, catalogue.materials);
        if (kind == 1) read_row(reader, read_cutting, catalogue.cutting);
        if (kind == 2) read_row(reader, read_joint, catalogue.joints);
        if (kind == 3) read_row(reader, read_machine, catalogue.machines);
        if (kind == 4) read_row(reader, read_spindle, catalogue.spindles);
        if (kind == 5) read_row(reader, read_holder, catalogue.holders);
    }
    throw_if_any(errors);
    return catalogue;
}

}  // namespace

void add_to_catalogue(Catalogue& catalogue, std::string_view text, std::string_view file_name) {
    Catalogue added = read_catalogue(text, file_name);
    append(catalogue.materials, std::move(added.materials));
    append(catalogue.cutting, std::move(added.cutting));
    append(catalogue.joints, std::move(added.joints));
    append(catalogue.machines, std::move(added.machines));
    append(catalogue.spindles, std::move(added.spindles));
    append(catalogue.holders, std::move(added.holders));
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
