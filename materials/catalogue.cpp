#include "materials/catalogue.hpp"

#include <algorithm>
#include <array>
#include <cctype>

#include "materials/lookup_key.hpp"

namespace standfast {
namespace {

template <typename Row>
bool answers_to(const Row& row, const std::string& key) {
    const auto same = [&](const std::string& name) { return lookup_key(name) == key; };
    return same(row.name) || std::any_of(row.aliases.begin(), row.aliases.end(), same);
}

bool answers_to(const SpindleKind& row, const std::string& key) {
    return lookup_key(row.taper) == key;
}

bool answers_to(const HolderKind& row, const std::string& key) {
    return lookup_key(row.grip) == key;
}

// Later rows win, so that a user's table can take over a name or alias of ours.
template <typename Row>
const Row* find_row(const std::vector<Row>& rows, std::string_view name) {
    const std::string key = lookup_key(name);
    if (key.empty()) return nullptr;
    const auto found = std::find_if(rows.rbegin(), rows.rend(),
                                    [&](const Row& row) { return answers_to(row, key); });
    return found == rows.rend() ? nullptr : &*found;
}

template <typename Row>
void append_names(std::vector<std::string>& names, const Row& row) {
    names.push_back(row.name);
    names.insert(names.end(), row.aliases.begin(), row.aliases.end());
}

template <typename Row>
std::vector<std::string> names_of(const std::vector<Row>& rows) {
    std::vector<std::string> names;
    for (const Row& row : rows) append_names(names, row);
    return names;
}

}  // namespace

std::string lookup_key(std::string_view name) {
    static constexpr std::array<std::array<std::string_view, 2>, 4> spellings{
        {{"aluminum", "aluminium"}, {"gray", "grey"}, {"vise", "vice"}, {"center", "centre"}}};
    std::string key;
    for (const char c : name) {
        if (std::string_view(" \t-,_.").find(c) != std::string_view::npos) continue;
        key += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    }
    for (const auto& [american, british] : spellings) {
        const std::size_t place = key.find(american);
        if (place != std::string::npos) key.replace(place, american.size(), british);
    }
    return key;
}

const Material* find_material(const Catalogue& catalogue, std::string_view name) {
    return find_row(catalogue.materials, name);
}

const CuttingData* find_cutting(const Catalogue& catalogue, std::string_view name) {
    if (const CuttingData* const row = find_row(catalogue.cutting, name)) return row;
    const Material* const material = find_material(catalogue, name);
    if (material == nullptr) return nullptr;
    return find_row(catalogue.cutting, material->cutting);
}

const JointKind* find_joint(const Catalogue& catalogue, std::string_view name, JointUse use) {
    const std::string key = lookup_key(name);
    if (key.empty()) return nullptr;
    const auto& rows = catalogue.joints;
    const auto found = std::find_if(rows.rbegin(), rows.rend(), [&](const JointKind& row) {
        return row.use == use && answers_to(row, key);
    });
    return found == rows.rend() ? nullptr : &*found;
}

const MachineKind* find_machine(const Catalogue& catalogue, std::string_view name) {
    return find_row(catalogue.machines, name);
}

const SpindleKind* find_spindle(const Catalogue& catalogue, std::string_view taper) {
    if (const SpindleKind* const row = find_row(catalogue.spindles, taper)) return row;
    const JointKind* const joint = find_joint(catalogue, taper, JointUse::taper);
    return joint == nullptr ? nullptr : find_row(catalogue.spindles, joint->name);
}

const HolderKind* find_holder(const Catalogue& catalogue, std::string_view grip) {
    if (const HolderKind* const row = find_row(catalogue.holders, grip)) return row;
    const JointKind* const joint = find_joint(catalogue, grip, JointUse::grip);
    return joint == nullptr ? nullptr : find_row(catalogue.holders, joint->name);
}

std::vector<std::string> material_names(const Catalogue& catalogue) {
    return names_of(catalogue.materials);
}

std::vector<std::string> cutting_names(const Catalogue& catalogue) {
    std::vector<std::string> names = names_of(catalogue.cutting);
    for (const Material& material : catalogue.materials) {
        if (!material.cutting.empty()) append_names(names, material);
    }
    return names;
}

std::vector<std::string> joint_names(const Catalogue& catalogue, JointUse use) {
    std::vector<std::string> names;
    for (const JointKind& row : catalogue.joints) {
        if (row.use == use) append_names(names, row);
    }
    return names;
}

std::vector<std::string> machine_names(const Catalogue& catalogue) {
    return names_of(catalogue.machines);
}

}  // namespace standfast
