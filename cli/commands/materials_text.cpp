#include "cli/commands/materials_text.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

#include "cli/commands/catalogue_units.hpp"
#include "cli/text/text_block.hpp"

namespace standfast {
namespace {

/// One entry: heading, lines of label, value and range, source.
class Entry {
public:
    Entry(std::string_view name, std::string_view what, const std::vector<std::string>& aliases)
        : text_(fmt::format("{} ({})\n", name, what)) {
        std::string list;
        for (const std::string& alias : aliases) list += (list.empty() ? "" : ", ") + alias;
        if (!list.empty()) text_ += wrapped("answers also to " + list, 2);
    }

    void line(std::string_view label, std::string_view value, std::string_view comment = "") {
        std::string row = "  " + padded(label, 26);
        row +=
            comment.empty() ? std::string(value) : padded(value, 18) + "  " + std::string(comment);
        text_ += row + "\n";
    }

    /// A value that scatters by a 10-90 % factor.
    void scattered(std::string_view label, double value, double spread, Quantity quantity,
                   std::string_view unit, int digits = 3) {
        const double size =
            unit.empty() ? 1 : parse_quantity(fmt::format("1 {}", unit), quantity).value;
        const std::string shown =
            unit.empty() ? figure(value, digits) : figure_in(value, quantity, unit, digits);
        const bool certain = value == 0 || spread <= 1;
        line(label, shown,
             certain ? ""
                     : fmt::format("8 in 10: {} to {}", figure(value / spread / size),
                                   figure(value * spread / size)));
    }

    void note(std::string_view text) { text_ += wrapped(text, 2); }

    std::string finished(const Source& source) {
        static constexpr std::array<std::string_view, 6> kinds{
            "read in the document named",
            "from memory of the publication named, not read again",
            "common practice",
            "computed from the figures named",
            "fitted to the observations named",
            "your own table or job"};
        text_ +=
            fmt::format("  source ({}):\n", kinds.at(static_cast<std::size_t>(source.provenance)));
        return text_ + wrapped(source.text, 4);
    }

private:
    std::string text_;
};

void add_mechanistic(Entry& entry, const CuttingData& data, const CatalogueUnits& units) {
    const MechanisticForces& set = *data.mechanistic;
    const auto per_chip = [&](const char* label, double value) {
        entry.scattered(label, value, data.spread, Quantity::pressure, units.specific_force, 4);
    };
    const auto per_edge = [&](const char* label, double value) {
        entry.scattered(label, value, data.spread, Quantity::force_per_length, units.edge_force);
    };
    entry.note("Forces per chip area, and per length of edge (rubbing):");
    per_chip("tangential", set.tangential);
    per_chip("radial", set.radial);
    per_chip("axial", set.axial);
    per_edge("tangential, edge", set.tangential_edge);
    per_edge("radial, edge", set.radial_edge);
    per_edge("axial, edge", set.axial_edge);
    if (set.edge_from_neighbours) entry.note("Edge forces: medians of its neighbours.");
}

void add_kienzle(Entry& entry, const CuttingData& data, const CatalogueUnits& units) {
    const KienzleForces& law = *data.kienzle;
    const auto per_chip = [&](const char* label, double value) {
        entry.scattered(label, value, data.spread, Quantity::pressure, units.specific_force, 4);
    };
    entry.note("Kienzle's law, kc = kc11 (chip / 1 mm)^-mc:");
    per_chip("kc11", law.kc11);
    per_chip("kc at 0.05 mm (2 thou)", law.kc11 * std::pow(0.05, -law.exponent));
    entry.line("mc", figure(law.exponent));
    entry.line("radial / tangential", figure(law.radial_ratio));
    entry.line("axial / tangential", figure(law.axial_ratio));
}

std::string cutting_entry(const CuttingData& data, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    Entry entry(data.name, "cutting forces", data.aliases);
    if (data.mechanistic) add_mechanistic(entry, data, units);
    if (data.kienzle) add_kienzle(entry, data, units);
    if (data.process_damping) {
        entry.line("rubbing of the flank",
                   figure_in(*data.process_damping, Quantity::force_per_length, units.edge_force),
                   data.process_damping_of_group ? "of its group; a fresh edge a tenth" : "");
    }
    if (data.cutting_speed) {
        const auto& [low, high] = *data.cutting_speed;
        const double size =
            parse_quantity(fmt::format("1 {}", units.surface_speed), Quantity::surface_speed).value;
        entry.line("cutting speed", fmt::format("{} to {} {}", figure(low / size, 2),
                                                figure(high / size, 2), units.surface_speed));
    }
    return entry.finished(data.source);
}

std::string material_entry(const Material& material, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    Entry entry(material.name, "material", material.aliases);
    entry.scattered("Young's modulus", material.youngs_modulus, material.modulus_spread,
                    Quantity::pressure, units.modulus, 4);
    entry.line("Poisson's ratio", figure(material.poissons_ratio));
    entry.line("density", figure_in(material.density, Quantity::density, units.density, 4));
    entry.scattered("loss factor (damping)", material.loss_factor, material.loss_spread,
                    Quantity::number, "", 2);
    if (material.strength) {
        entry.line("strength", figure_in(*material.strength, Quantity::pressure, units.strength),
                   "yield; breaking in bending for hard metals");
    }
    if (material.cutting.empty()) entry.note("No cutting forces: it is not milled.");
    return entry.finished(material.source);
}

std::string_view use_words(JointUse use) {
    if (use == JointUse::taper) return "taper, holder in spindle";
    return use == JointUse::grip ? "grip, cutter in holder" : "joint under a tier";
}

/// What serves instead of the footprint where it is known how hard the joint is pressed.
void add_contact(Entry& entry, const JointKind& kind, const CatalogueUnits& units) {
    if (!(kind.contact_normal > 0)) return;
    const auto contact = [&](const char* label, double value) {
        entry.scattered(label, value, kind.spread, Quantity::stiffness_per_area,
                        units.stiffness_per_area);
    };
    contact("contact, sideways", kind.contact_tangential);
    contact("contact, closing", kind.contact_normal);
    entry.note("Contact: of the zone really clamped, steel on steel, pressed hard.");
}

void add_joint_stiffness(Entry& entry, const JointKind& kind, const CatalogueUnits& units) {
    const bool per_area = kind.scaling == JointScaling::per_area;
    const Quantity quantity = per_area ? Quantity::stiffness_per_area : Quantity::stiffness;
    const std::string_view unit = per_area ? units.stiffness_per_area : units.stiffness;
    const double spread = per_area ? kind.unknown_spread : kind.spread;
    entry.scattered("sideways", kind.lateral, spread, quantity, unit);
    entry.scattered("along its axis", kind.vertical, spread, quantity, unit);
    if (per_area) {
        entry.note("Per area of the footprint; tilting and twisting follow from its shape.");
        add_contact(entry, kind, units);
        return;
    }
    const auto angular = [&](const char* label, double value) {
        entry.scattered(label, value, kind.spread, Quantity::angular_stiffness,
                        units.angular_stiffness);
    };
    angular("tilting", kind.tilting);
    angular("twisting", kind.twisting);
    if (kind.scaling == JointScaling::per_shank) {
        entry.note("At a 16 mm shank; sideways grows with the shank, tilting with its cube.");
    }
}

void add_taper_size(Entry& entry, const JointKind& kind, const CatalogueUnits& units) {
    const auto size = [&](const char* label, const std::optional<double>& value, Quantity quantity,
                          std::string_view unit) {
        if (value) entry.line(label, figure_in(*value, quantity, unit, 4));
    };
    size("flange diameter", kind.flange_diameter, Quantity::length, units.length);
    size("gauge diameter", kind.gauge_diameter, Quantity::length, units.length);
    size("draw force", kind.draw_force, Quantity::force, units.force);
    if (kind.speed_limit) {
        entry.line("usual speed limit",
                   figure_in(*kind.speed_limit, Quantity::rotational_speed, "rpm"),
                   "the maker's rating counts");
    }
}

std::string joint_entry(const JointKind& kind, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    Entry entry(kind.name, use_words(kind.use), kind.aliases);
    add_joint_stiffness(entry, kind, units);
    entry.scattered("loss factor (damping)", kind.loss_factor, kind.loss_spread, Quantity::number,
                    "", 2);
    entry.line("friction", kind.friction > 0 ? figure(kind.friction) : "none counted",
               "for holding");
    entry.line("never counted above", fmt::format("{} times these", figure(kind.upper_factor)));
    if (kind.use == JointUse::stack && kind.assumed_clamp > 0) {
        entry.line("clamp assumed", figure_in(kind.assumed_clamp, Quantity::force, units.force),
                   "for stiffness only, where a job names none");
    }
    add_taper_size(entry, kind, units);
    if (kind.holds) {
        entry.line(
            kind.on_pilot ? "pilots" : "shanks",
            fmt::format("{} to {}", figure_in((*kind.holds)[0], Quantity::length, units.length),
                        figure_in((*kind.holds)[1], Quantity::length, units.length)));
    }
    return entry.finished(kind.source);
}

std::string machine_entry(const MachineKind& kind, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    Entry entry(kind.name, "machine, table side", kind.aliases);
    entry.scattered("sideways", kind.lateral, kind.spread, Quantity::stiffness, units.stiffness);
    entry.scattered("upright", kind.vertical, kind.spread, Quantity::stiffness, units.stiffness);
    entry.scattered("tilting", kind.tilting, kind.spread, Quantity::angular_stiffness,
                    units.angular_stiffness);
    entry.scattered("twisting", kind.twisting, kind.spread, Quantity::angular_stiffness,
                    units.angular_stiffness);
    entry.scattered("loss factor (damping)", kind.loss_factor, kind.loss_spread, Quantity::number,
                    "", 2);
    entry.line("tilt", kind.tilt_max ? "up to " + figure_in(*kind.tilt_max, Quantity::angle, "deg")
                                     : "none");
    entry.line("table diameter", figure_in(kind.table_diameter, Quantity::length, units.length));
    if (kind.table_mass > 0) {
        entry.scattered("mass that moves", kind.table_mass, kind.mass_spread, Quantity::mass,
                        units.mass);
    } else {
        entry.line("mass that moves", "not counted unless the job says");
    }
    return entry.finished(kind.source);
}

std::string spindle_entry(const SpindleKind& kind, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    Entry entry(kind.taper, "spindle at the gauge line, without the taper's give", {});
    entry.scattered("sideways", kind.lateral, kind.spread, Quantity::stiffness, units.stiffness);
    entry.scattered("along its axis", kind.axial, kind.spread, Quantity::stiffness,
                    units.stiffness);
    entry.scattered("tilting", kind.tilting, kind.spread, Quantity::angular_stiffness,
                    units.angular_stiffness);
    entry.scattered("twisting", kind.twisting, kind.spread, Quantity::angular_stiffness,
                    units.angular_stiffness);
    entry.scattered("loss factor (damping)", kind.loss_factor, kind.loss_spread, Quantity::number,
                    "", 2);
    entry.line("nose", fmt::format("{} round, {} long",
                                   figure_in(kind.nose_diameter, Quantity::length, units.length),
                                   figure_in(kind.nose_length, Quantity::length, units.length)));
    entry.scattered("mass that moves", kind.mass, kind.mass_spread, Quantity::mass, units.mass);
    entry.scattered("inertia of it, across", kind.inertia, kind.mass_spread, Quantity::inertia,
                    units.inertia);
    if (kind.power > 0) entry.line("power", figure_in(kind.power, Quantity::power, units.power));
    if (kind.torque > 0) {
        entry.line("torque", figure_in(kind.torque, Quantity::torque, units.torque));
    }
    return entry.finished(kind.source);
}

std::string holder_entry(const HolderKind& kind, UnitSystem system) {
    const CatalogueUnits units = catalogue_units(system);
    const auto length = [&](double value) {
        return figure_in(value, Quantity::length, units.length);
    };
    Entry entry(kind.grip, "typical holder, steel, from the gauge line down", {});
    for (const HolderKind::Step& step : kind.steps) {
        const std::string to =
            step.diameter_to == step.diameter ? "" : " to " + length(step.diameter_to);
        entry.line(length(step.length) + " long", length(step.diameter) + to + " round");
    }
    return entry.finished(kind.source);
}

}  // namespace

std::string material_text(const Catalogue& catalogue, std::string_view name, UnitSystem system) {
    std::vector<std::string> entries;
    const Material* const material = find_material(catalogue, name);
    if (material != nullptr) entries.push_back(material_entry(*material, system));
    const CuttingData* const cutting = find_cutting(catalogue, name);
    if (cutting != nullptr) entries.push_back(cutting_entry(*cutting, system));
    for (const JointUse use : {JointUse::stack, JointUse::taper, JointUse::grip}) {
        const JointKind* const joint = find_joint(catalogue, name, use);
        if (joint == nullptr) continue;
        entries.push_back(joint_entry(*joint, system));
        const SpindleKind* const spindle = find_spindle(catalogue, joint->name);
        if (use == JointUse::taper && spindle != nullptr) {
            entries.push_back(spindle_entry(*spindle, system));
        }
        const HolderKind* const holder = find_holder(catalogue, joint->name);
        if (use == JointUse::grip && holder != nullptr) {
            entries.push_back(holder_entry(*holder, system));
        }
    }
    const MachineKind* const machine = find_machine(catalogue, name);
    if (machine != nullptr) entries.push_back(machine_entry(*machine, system));
    std::string text;
    for (const std::string& entry : entries) text += (text.empty() ? "" : "\n") + entry;
    return text;
}

std::vector<std::string> catalogue_names(const Catalogue& catalogue) {
    std::vector<std::string> names = material_names(catalogue);
    const auto add = [&](const std::vector<std::string>& more) {
        names.insert(names.end(), more.begin(), more.end());
    };
    add(cutting_names(catalogue));
    for (const JointUse use : {JointUse::stack, JointUse::taper, JointUse::grip}) {
        add(joint_names(catalogue, use));
    }
    add(machine_names(catalogue));
    return names;
}

}  // namespace standfast
