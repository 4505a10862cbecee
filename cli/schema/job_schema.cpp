#include "cli/schema/job_schema.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/job/keys/job_keys.hpp"
#include "materials/catalogue.hpp"
#include "materials/tables/load_catalogue.hpp"
#include "materials/unit_table.hpp"

namespace standfast {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMostTables = 200;

/// A sign, a digit or point, no decimal comma, and somewhere behind it a letter or sign of a unit.
constexpr const char* kNumberWithUnit =
    "^[ \\t]*(?:[-+]|\u2212)?[0-9.][^,]*(?:[A-Za-z%\"']|\u00B0|\u00B5|\u03BC|\u2032|\u2033)[^,]*$";

Json reference(std::string_view name) { return {{"$ref", fmt::format("#/$defs/{}", name)}}; }

std::string symbol_of(Quantity quantity) {
    // "a length, as in ..." -> "length"
    const std::string example = accepted_example(quantity);
    std::string name = example.substr(0, example.find(','));
    name.erase(0, name.find(' ') + 1);
    for (char& c : name) c = c == ' ' ? '-' : c;
    return "quantity." + name;
}

Json quantity_schema(Quantity quantity) {
    return {{"description",
             fmt::format("{} ({})", accepted_example(quantity), accepted_units(quantity))},
            {"type", "string"},
            {"pattern", kNumberWithUnit}};
}

std::vector<std::string> rows_of(Form::Names names, const Catalogue& catalogue) {
    std::vector<std::string> list;
    const auto add = [&](const auto& rows) {
        for (const auto& row : rows) list.push_back(row.name);
    };
    const auto add_joints = [&](JointUse use) {
        for (const JointKind& row : catalogue.joints) {
            if (row.use == use) list.push_back(row.name);
        }
    };
    switch (names) {
        case Form::Names::job:
            break;
        case Form::Names::materials:
            add(catalogue.materials);
            break;
        case Form::Names::cutting:
            add(catalogue.cutting);
            break;
        case Form::Names::machines:
            add(catalogue.machines);
            break;
        case Form::Names::joints:
            list.emplace_back("solid");
            add_joints(JointUse::stack);
            break;
        case Form::Names::tapers:
            add_joints(JointUse::taper);
            break;
        case Form::Names::grips:
            add_joints(JointUse::grip);
            break;
    }
    return list;
}

Json number_schema(const Form& form, const char* type) {
    Json schema{{"type", type}};
    const auto plain = [](double value) {
        const bool whole = value == std::floor(value) && std::abs(value) < 1e15;
        return whole ? Json(static_cast<long long>(value)) : Json(value);
    };
    if (form.low) schema[form.above_low ? "exclusiveMinimum" : "minimum"] = plain(*form.low);
    if (form.high) schema["maximum"] = plain(*form.high);
    return schema;
}

/// What is written for one form; catalogue rows become examples, which editors offer.
class Writer {
public:
    Json schema_of(const Form& form) const {
        switch (form.kind) {
            case Form::Kind::text:
                return {{"type", "string"}, {"minLength", 1}};
            case Form::Kind::word:
                return {{"enum", form.words}};
            case Form::Kind::name:
                return name_schema(form);
            case Form::Kind::truth:
                return {{"type", "boolean"}};
            case Form::Kind::whole:
                return number_schema(form, "integer");
            case Form::Kind::number:
                return number_schema(form, "number");
            case Form::Kind::quantity:
                return any_of_quantities(form);
            case Form::Kind::list:
                return list_schema(form);
            case Form::Kind::table:
                return reference(form.table);
            case Form::Kind::tables:
                return {
                    {"type", "array"}, {"items", reference(form.table)}, {"maxItems", kMostTables}};
            case Form::Kind::named:
                return {{"type", "object"}, {"additionalProperties", schema_of(form.forms[0])}};
            case Form::Kind::either:
                break;
        }
        Json schema;
        for (const Form& one : form.forms) schema["anyOf"].push_back(schema_of(one));
        return schema;
    }

    Json table_schema(const TableKeys& table) const {
        Json schema{{"description", table.meaning}, {"type", "object"}};
        Json required = Json::array();
        schema["properties"] = Json::object();
        for (const Key& key : table.keys) {
            Json one;
            if (!key.meaning.empty()) one["description"] = key.meaning;
            one.update(schema_of(key.form));
            schema["properties"][std::string(key.name)] = std::move(one);
            if (key.required) required.push_back(key.name);
        }
        schema["additionalProperties"] = false;
        if (!required.empty()) schema["required"] = required;
        for (const auto& group : table.one_of) {
            schema["anyOf"].push_back({{"required", group}});
        }
        return schema;
    }

private:
    Json name_schema(const Form& form) const {
        Json schema{{"type", "string"}, {"minLength", 1}};
        const std::vector<std::string> rows = rows_of(form.names, catalogue_);
        if (!rows.empty()) schema["examples"] = rows;
        return schema;
    }

    static Json any_of_quantities(const Form& form) {
        if (form.quantities.size() == 1) return reference(symbol_of(form.quantities[0]));
        Json schema;
        for (const Quantity quantity : form.quantities) {
            schema["anyOf"].push_back(reference(symbol_of(quantity)));
        }
        return schema;
    }

    Json list_schema(const Form& form) const {
        Json schema{{"type", "array"}, {"items", schema_of(form.forms[0])}};
        if (form.least > 0) schema["minItems"] = form.least;
        schema["maxItems"] = form.most;
        return schema;
    }

    Catalogue catalogue_ = built_in_catalogue();
};

/// Tables that differ by their `kind`.
Json one_of_kinds(std::string_view name) {
    Json schema;
    for (const TableKeys& table : job_tables()) {
        if (table.name.starts_with(std::string(name) + ".")) {
            schema["oneOf"].push_back(reference(table.name));
        }
    }
    return schema;
}

}  // namespace

std::string job_schema() {
    const Writer writer;
    Json schema{{"$schema", "https://json-schema.org/draft/2020-12/schema"},
                {"title", "Job file of standfast"}};
    schema.update(writer.table_schema(job_table("")));
    Json& definitions = schema["$defs"];
    for (const TableKeys& table : job_tables()) {
        if (!table.name.empty()) {
            definitions[std::string(table.name)] = writer.table_schema(table);
        }
    }
    definitions["measured"] = one_of_kinds("measured");
    for (const Quantity quantity : all_quantities()) {
        if (quantity != Quantity::number) {
            definitions[symbol_of(quantity)] = quantity_schema(quantity);
        }
    }
    return schema.dump(2) + "\n";
}

}  // namespace standfast
