#include "materials/units.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "materials/exact_decimal.hpp"
#include "materials/nearest_name.hpp"
#include "materials/read_number.hpp"
#include "materials/unit_table.hpp"

namespace standfast {
namespace {

std::string quoted(std::string_view text) {
    constexpr std::size_t longest = 60;
    std::string shown(text.substr(0, longest));
    if (text.size() > longest) shown += "...";
    return "\"" + shown + "\"";
}

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

// "a length in mm, in, thou, um, cm, m, ft, or a feed in mm/min, ..."
std::string wanted(const std::vector<Quantity>& quantities) {
    std::string text;
    for (const Quantity quantity : quantities) {
        if (!text.empty()) text += ", or ";
        text += units_of(quantity).phrase;
        const std::string units = accepted_units(quantity);
        if (!units.empty()) text += " in " + units;
    }
    return text;
}

// "a stiffness or a force per length of edge": what the unit would be a unit of.
std::string kinds_of_unit(std::string_view unit) {
    std::string kinds;
    for (const Quantity quantity : all_quantities()) {
        if (quantity == Quantity::number || find_unit(quantity, unit) == nullptr) continue;
        if (!kinds.empty()) kinds += " or ";
        kinds += units_of(quantity).phrase;
    }
    return kinds;
}

// Kilograms and pounds on the shop floor often mean a pull.
std::string force_hint(std::string_view number, std::string_view unit,
                       const std::vector<Quantity>& quantities) {
    const bool force =
        std::find(quantities.begin(), quantities.end(), Quantity::force) != quantities.end();
    const Unit* const mass = find_unit(Quantity::mass, unit);
    if (!force || mass == nullptr) return {};
    if (mass->symbol != "kg" && mass->symbol != "lb") return {};
    return "; a force is written " +
           quoted(std::string(number) + " " + std::string(mass->symbol) + "f");
}

std::string unit_error(std::string_view text, std::string_view unit,
                       const std::vector<Quantity>& quantities) {
    const std::string_view number = trimmed(text.substr(0, text.size() - unit.size()));
    if (unit.empty()) return quoted(text) + " has no unit; expected " + wanted(quantities);
    const std::string kinds = kinds_of_unit(unit);
    if (!kinds.empty()) {
        return quoted(text) + " is " + kinds + force_hint(number, unit, quantities) +
               "; expected " + wanted(quantities);
    }
    std::vector<std::string> candidates;
    for (const Quantity quantity : quantities) {
        for (const Unit& candidate : units_of(quantity).units) {
            candidates.emplace_back(candidate.symbol);
        }
    }
    const auto nearest = nearest_name(unit, candidates);
    const std::string suggestion =
        nearest && !nearest->empty() ? "; did you mean " + quoted(*nearest) + "?" : "";
    return quoted(text) + " has an unknown unit " + quoted(unit) + suggestion + "; expected " +
           wanted(quantities);
}

}  // namespace

ParsedAlternative parse_quantity(std::string_view text, const std::vector<Quantity>& quantities) {
    ParsedAlternative result;
    result.quantity = quantities.empty() ? Quantity::number : quantities.front();
    const std::string_view given = trimmed(text);
    if (given.empty()) {
        result.error = "empty; expected " + wanted(quantities);
        return result;
    }
    const ReadNumber read = read_number(given);
    if (!read.error.empty()) {
        result.error = quoted(given) + " " + read.error + "; expected " + wanted(quantities);
        return result;
    }
    for (const Quantity quantity : quantities) {
        const Unit* const unit = find_unit(quantity, read.rest);
        if (unit == nullptr) continue;
        result.quantity = quantity;
        const auto value = in_si(read.number, unit->size);
        if (value) {
            result.value = *value;
        } else {
            result.error = quoted(given) + " is too large or too small to be " +
                           std::string(units_of(quantity).phrase);
        }
        return result;
    }
    result.error = unit_error(given, read.rest, quantities);
    return result;
}

ParsedQuantity parse_quantity(std::string_view text, Quantity quantity) {
    ParsedAlternative parsed = parse_quantity(text, std::vector<Quantity>{quantity});
    return {.value = parsed.value, .error = std::move(parsed.error)};
}

std::string accepted_units(Quantity quantity) {
    std::string list;
    for (const Unit& unit : units_of(quantity).units) {
        if (!list.empty()) list += ", ";
        list += unit.symbol;
    }
    return list;
}

std::string accepted_example(Quantity quantity) {
    const QuantityUnits& units = units_of(quantity);
    return std::string(units.phrase) + ", as in " + std::string(units.examples);
}

std::string exact_text(double value, Quantity quantity, UnitSystem system) {
    const double magnitude = std::abs(value);
    const bool in_range = magnitude >= smallest_magnitude && magnitude <= largest_magnitude;
    if (value != 0 && !in_range) {
        throw std::domain_error("exact_text: value is " + std::to_string(value) +
                                ", must be 0 or between 1e-100 and 1e+100 in SI units");
    }
    const QuantityUnits& units = units_of(quantity);
    const std::string_view symbol = system == UnitSystem::inch ? units.inch : units.metric;
    const std::string number =
        decimal_text(shortest_decimal(value, find_unit(quantity, symbol)->size));
    return symbol.empty() ? number : number + " " + std::string(symbol);
}

}  // namespace standfast
