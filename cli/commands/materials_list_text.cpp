#include <fmt/format.h>

#include <cmath>

#include "cli/commands/catalogue_units.hpp"
#include "cli/commands/materials_text.hpp"
#include "cli/text/text_block.hpp"

namespace standfast {
namespace {

constexpr std::size_t name_width = 24;
constexpr std::size_t long_name_width = 48;
constexpr std::size_t figure_width = 14;
constexpr std::size_t line_width = 100;

std::string heading(std::string_view title, const std::vector<std::string>& figures,
                    std::string_view last, std::size_t width = name_width) {
    std::string line = padded(title, width + 2);
    for (const std::string& figure_name : figures) line += padded(figure_name, figure_width);
    return line + std::string(last) + "\n";
}

std::string row(std::string_view name, const std::vector<std::string>& figures,
                std::string_view last, std::size_t width = name_width) {
    std::string line = "  " + padded(shortened(name, width - 1), width);
    for (const std::string& value : figures) line += padded(value, figure_width);
    line += last;
    line = shortened(line, line_width);
    line.erase(line.find_last_not_of(' ') + 1);
    return line + "\n";
}

// As many names as fit into the rest of a line.
std::string joined(const std::vector<std::string>& names) {
    constexpr std::size_t room = line_width - name_width - 2 - 2 * figure_width;
    std::string list;
    for (const std::string& name : names) {
        const std::string_view separator = list.empty() ? "" : ", ";
        const std::size_t ending = &name == &names.back() ? 0 : 5;
        if (columns(list) + separator.size() + columns(name) + ending > room) {
            return list + ", ...";
        }
        list += separator;
        list += name;
    }
    return list;
}

std::string materials_block(const Catalogue& catalogue, const CatalogueUnits& units) {
    std::string text = heading("Materials", {"modulus", "density"}, "answers also to");
    for (const Material& material : catalogue.materials) {
        text += row(material.name,
                    {figure_in(material.youngs_modulus, Quantity::pressure, units.modulus),
                     figure_in(material.density, Quantity::density, units.density)},
                    joined(material.aliases));
    }
    return text;
}

double tangential_at_thin_chip(const CuttingData& data) {
    constexpr double chip = 0.05e-3;  // m
    if (data.mechanistic) {
        return data.mechanistic->tangential + data.mechanistic->tangential_edge / chip;
    }
    return data.kienzle->kc11 * std::pow(chip / 1e-3, -data.kienzle->exponent);
}

std::string speed_window(const CuttingData& data, const CatalogueUnits& units) {
    if (!data.cutting_speed) return "";
    const double size =
        parse_quantity(fmt::format("1 {}", units.surface_speed), Quantity::surface_speed).value;
    return fmt::format("{} to {} {}", figure(data.cutting_speed->at(0) / size, 2),
                       figure(data.cutting_speed->at(1) / size, 2), units.surface_speed);
}

std::string cutting_block(const Catalogue& catalogue, const CatalogueUnits& units) {
    std::string text = heading("Cutting forces, chip of 0.05 mm (2 thou)", {"tangential", "law"},
                               "cutting speed", long_name_width);
    for (const CuttingData& data : catalogue.cutting) {
        text +=
            row(data.name,
                {figure_in(tangential_at_thin_chip(data), Quantity::pressure, units.specific_force),
                 data.mechanistic ? "edge" : "Kienzle"},
                speed_window(data, units), long_name_width);
    }
    return text;
}

std::string joints_block(const Catalogue& catalogue, JointUse use, std::string_view title,
                         const CatalogueUnits& units) {
    std::string text = heading(title, {"sideways", "tilting"}, "answers also to");
    for (const JointKind& kind : catalogue.joints) {
        if (kind.use != use) continue;
        const bool per_area = kind.scaling == JointScaling::per_area;
        const std::string sideways =
            per_area ? figure_in(kind.lateral * 0.01, Quantity::stiffness, units.stiffness)
                     : figure_in(kind.lateral, Quantity::stiffness, units.stiffness);
        constexpr double second_moment = 0.1 * 0.1 * 0.1 * 0.1 / 12;  // m^4
        const double tilting = per_area ? kind.vertical * second_moment : kind.tilting;
        // "ft lb/mrad" would fill its column: the note below the tables names the unit.
        const double size = parse_quantity(fmt::format("1 {}", units.angular_stiffness),
                                           Quantity::angular_stiffness)
                                .value;
        text += row(kind.name, {sideways, tilting > 0 ? figure(tilting / size) : "-"},
                    joined(kind.aliases));
    }
    return text;
}

std::string machines_block(const Catalogue& catalogue, const CatalogueUnits& units) {
    std::string text = heading("Machines, table side", {"sideways", "tilt"}, "answers also to");
    for (const MachineKind& kind : catalogue.machines) {
        text += row(kind.name,
                    {figure_in(kind.lateral, Quantity::stiffness, units.stiffness),
                     kind.tilt_max ? figure_in(*kind.tilt_max, Quantity::angle, "deg") : "-"},
                    joined(kind.aliases));
    }
    return text;
}

std::string joints_note(const CatalogueUnits& units) {
    return wrapped(
        fmt::format(
            "Joints under a tier as on 100 x 100 mm; grips at a 16 mm shank; tilting in {}. "
            "Middle values: real joints are often half or twice as stiff. Spindles "
            "go with the tapers, typical holders with the grips.",
            units.angular_stiffness),
        0);
}

}  // namespace

std::string materials_list_text(const Catalogue& catalogue, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    std::string text = materials_block(catalogue, units) + "\n" + cutting_block(catalogue, units);
    text += "\n" + joints_block(catalogue, JointUse::stack, "Joints under a tier", units);
    text += "\n" + joints_block(catalogue, JointUse::taper, "Tapers (in the spindle)", units);
    text += "\n" + joints_block(catalogue, JointUse::grip, "Grips (of the cutter)", units);
    text += joints_note(units);
    text += "\n" + machines_block(catalogue, units);
    text += "\n" + wrapped(
                       "All figures of one, with spread and source: standfast materials NAME "
                       "(as in: standfast materials 6061).",
                       0);
    return text;
}

}  // namespace standfast
