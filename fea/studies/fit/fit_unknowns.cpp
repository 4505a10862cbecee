#include "fea/studies/fit/fit_unknowns.hpp"

#include <algorithm>
#include <optional>

#include "fea/judgement/uncertainty/sampling.hpp"

namespace standfast {
namespace {

constexpr double kSameKind = 0.7;
constexpr std::string_view kJointEnding = " joint";

struct Owner {
    std::string name;
    FitTarget target = FitTarget::table;
    std::size_t index = 0;
};

template <class List>
std::size_t index_by_name(const List& list, std::string_view name) {
    const auto found =
        std::find_if(list.begin(), list.end(), [&](const auto& item) { return item.name == name; });
    return static_cast<std::size_t>(found - list.begin());
}

/// Whose springs a member's are; none for a beam.
std::optional<Owner> owner_of(const Member& member, const Job& job,
                              std::optional<std::size_t> tool) {
    const std::string of_tool = tool ? job.tools[*tool].name + " " + member.name : "";
    switch (member.kind) {
        case MemberKind::table:
            return Owner{"table", FitTarget::table, 0};
        case MemberKind::spindle:
            return Owner{"spindle", FitTarget::spindle, 0};
        case MemberKind::tier_joint: {
            const std::string_view tier =
                std::string_view(member.name).substr(0, member.name.size() - kJointEnding.size());
            return Owner{member.name, FitTarget::tier_joint, index_by_name(job.stack.tiers, tier)};
        }
        case MemberKind::support:
            return Owner{member.name, FitTarget::support,
                         index_by_name(job.stack.supports, member.name)};
        case MemberKind::taper:
            return Owner{of_tool, FitTarget::taper, tool.value_or(0)};
        case MemberKind::grip:
            return Owner{of_tool, FitTarget::grip, tool.value_or(0)};
        default:
            return std::nullopt;
    }
}

int unknown_of(FitUnknowns& unknowns, const Owner& owner, FitQuantity quantity, const Spread& prior,
               double before) {
    if (prior.group.empty() || !(prior.factor > 1) || !(before > 0)) return -1;
    for (std::size_t i = 0; i < unknowns.list.size(); ++i) {
        if (unknowns.list[i].name == owner.name && unknowns.list[i].quantity == quantity) {
            return static_cast<int>(i);
        }
    }
    unknowns.list.push_back({.name = owner.name,
                             .quantity = quantity,
                             .target = owner.target,
                             .index = owner.index,
                             .prior = prior,
                             .before = before});
    return static_cast<int>(unknowns.list.size()) - 1;
}

/// Correlation by an overlay; none where it does not know both.
std::optional<double> fitted_correlation(const Job& job, const std::string& a,
                                         const std::string& b) {
    if (!job.fitted) return std::nullopt;
    const std::vector<std::string>& groups = job.fitted->groups;
    const auto first = std::find(groups.begin(), groups.end(), a);
    const auto second = std::find(groups.begin(), groups.end(), b);
    if (first == groups.end() || second == groups.end()) return std::nullopt;
    return job.fitted->correlation(first - groups.begin(), second - groups.begin());
}

}  // namespace

int nuisance_of(FitUnknowns& unknowns, const Spread& spread) {
    if (spread.group.empty() || !(spread.factor > 1)) return -1;
    for (std::size_t i = 0; i < unknowns.nuisances.size(); ++i) {
        if (unknowns.nuisances[i].spread.group == spread.group) return static_cast<int>(i);
    }
    unknowns.nuisances.push_back({spread});
    return static_cast<int>(unknowns.nuisances.size()) - 1;
}

FitMoves add_unknowns(FitUnknowns& unknowns, const AssembledSystem& system, const Job& job,
                      std::optional<std::size_t> tool) {
    FitMoves moves;
    for (const StiffnessParameter& parameter : system.stiffness) {
        const Member& member = system.members[static_cast<std::size_t>(parameter.member)];
        const std::optional<Owner> owner = owner_of(member, job, tool);
        moves.stiffness.push_back(owner ? unknown_of(unknowns, *owner, FitQuantity::stiffness,
                                                     parameter.stiffness_spread, parameter.value)
                                        : -1);
        moves.loss.push_back(owner ? unknown_of(unknowns, *owner, FitQuantity::loss,
                                                parameter.loss_spread, parameter.loss_factor)
                                   : -1);
        moves.stiffness_nuisance.push_back(
            owner ? -1 : nuisance_of(unknowns, parameter.stiffness_spread));
        moves.loss_nuisance.push_back(owner || !(parameter.loss_factor > 0)
                                          ? -1
                                          : nuisance_of(unknowns, parameter.loss_spread));
    }
    return moves;
}

Eigen::MatrixXd prior_covariance(const FitUnknowns& unknowns, const Job& job) {
    const auto size = static_cast<Eigen::Index>(unknowns.list.size());
    Eigen::MatrixXd covariance(size, size);
    for (Eigen::Index i = 0; i < size; ++i) {
        for (Eigen::Index j = 0; j < size; ++j) {
            const FitUnknown& a = unknowns.list[static_cast<std::size_t>(i)];
            const FitUnknown& b = unknowns.list[static_cast<std::size_t>(j)];
            const double same_kind = a.prior.group == b.prior.group ? kSameKind : 0;
            const double correlation =
                i == j ? 1
                       : fitted_correlation(job, a.prior.group, b.prior.group).value_or(same_kind);
            covariance(i, j) =
                correlation * log_deviation(a.prior.factor) * log_deviation(b.prior.factor);
        }
    }
    return covariance;
}

std::string fitted_group(const FitUnknown& unknown) {
    const bool stiffness = unknown.quantity == FitQuantity::stiffness;
    if (unknown.target == FitTarget::table || unknown.target == FitTarget::spindle) {
        return unknown.name + (stiffness ? " stiffness" : " loss");
    }
    return (stiffness ? "joint stiffness: " : "joint loss: ") + unknown.name;
}

}  // namespace standfast
