#include "fea/judgement/cut/own_spreads.hpp"

#include <algorithm>
#include <array>
#include <string_view>

namespace standfast {
namespace {

constexpr double kRunoutSpread = 1.5;

/// What stands behind ": " in a group's name.
std::string name_in(const Spread& spread) {
    const std::size_t colon = spread.group.find(": ");
    return colon == std::string::npos ? spread.group : spread.group.substr(colon + 2);
}

bool begins(const Spread& spread, std::string_view prefix) {
    return std::string_view(spread.group).starts_with(prefix);
}

void take(Spread& spread, const SpreadFactors& own, const std::string& name) {
    if (const auto factor = own.of(name)) spread.factor = *factor;
}

/// A taper or grip shares its group with stack joints of the same name, "given" say; where either
/// has a spread of its own they part.
void take_apart(Spread& spread, const SpreadFactors& own, const SpreadFactors& joints,
                const char* sort) {
    const std::string name = name_in(spread);
    const auto factor = own.of(name);
    if (!factor && !joints.of(name)) return;
    spread.group = std::string(sort) + ": " + name;
    if (factor) spread.factor = *factor;
}

void take_stiffness(Spread& spread, MemberKind kind, const Uncertainty& own) {
    if (begins(spread, "modulus: ")) {
        take(spread, own.modulus, name_in(spread));
    } else if (kind == MemberKind::table) {
        take(spread, own.table_stiffness, {});
    } else if (kind == MemberKind::spindle) {
        take(spread, own.spindle_stiffness, {});
    } else if (kind == MemberKind::taper) {
        take_apart(spread, own.taper_stiffness, own.joint_stiffness, "taper stiffness");
    } else if (kind == MemberKind::grip) {
        take_apart(spread, own.grip_stiffness, own.joint_stiffness, "grip stiffness");
    } else {
        take(spread, own.joint_stiffness, name_in(spread));
    }
}

void take_loss(Spread& spread, MemberKind kind, const Uncertainty& own) {
    if (begins(spread, "loss factor: ")) {
        take(spread, own.loss, name_in(spread));
    } else if (kind == MemberKind::table) {
        take(spread, own.joint_loss, "table");
    } else if (kind == MemberKind::spindle) {
        take(spread, own.joint_loss, "spindle");
    } else {
        take(spread, own.joint_loss, name_in(spread));
    }
}

}  // namespace

void use_own_spreads(AssembledSystem& system, const Uncertainty& uncertainty) {
    for (StiffnessParameter& parameter : system.stiffness) {
        const MemberKind kind = system.members[static_cast<std::size_t>(parameter.member)].kind;
        if (!parameter.stiffness_spread.group.empty()) {
            take_stiffness(parameter.stiffness_spread, kind, uncertainty);
        }
        if (!parameter.loss_spread.group.empty()) {
            take_loss(parameter.loss_spread, kind, uncertainty);
        }
        if (!parameter.split_spread.group.empty()) {
            take(parameter.split_spread,
                 kind == MemberKind::table ? uncertainty.table_split : uncertainty.spindle_split,
                 {});
        }
    }
    for (MassParameter& parameter : system.mass) {
        const MemberKind kind = system.members[static_cast<std::size_t>(parameter.member)].kind;
        if (kind == MemberKind::table) take(parameter.spread, uncertainty.table_mass, {});
        if (kind == MemberKind::spindle) take(parameter.spread, uncertainty.spindle_mass, {});
    }
}

bool says_of_parameters(const Uncertainty& own) {
    const std::array all{&own.joint_stiffness,   &own.joint_loss,    &own.table_stiffness,
                         &own.spindle_stiffness, &own.table_mass,    &own.spindle_mass,
                         &own.table_split,       &own.spindle_split, &own.taper_stiffness,
                         &own.grip_stiffness,    &own.modulus,       &own.loss};
    return std::any_of(all.begin(), all.end(), [](const SpreadFactors* factors) {
        return factors->all || !factors->by_name.empty();
    });
}

double runout_spread(const Uncertainty& uncertainty, const std::string& tool) {
    return uncertainty.runout.of(tool).value_or(kRunoutSpread);
}

}  // namespace standfast
