#include "fea/structure/element_counts.hpp"

#include <algorithm>
#include <cmath>

#include "fea/quantities/require.hpp"
#include "fea/structure/element_parts.hpp"
#include "fea/structure/line_matrices.hpp"

namespace standfast {
namespace {

/// Measured on random stepped, tapered and hollow members (validation/convergence.cpp): elements of
/// a member by its shear length over its length.
constexpr double kLeastOfMember = 3;
constexpr double kMostOfMember = 6.5;
constexpr double kSlenderPart = 1.75;
constexpr double kStubbyPart = 15;
/// Of the member's length: where the radius of gyration is more, shear governs, and waves do not
/// lengthen with it.
constexpr double kWaveGyration = 0.08;
/// Error in the third frequency of a member of n elements of two nodes: about 1 / n^2, and of one
/// short run its share of that.
constexpr double kPlainError = 1e-4;
constexpr double kRounding = 0.05;

struct Extent {
    double length = 0;  ///< m
    double waves = 0;   ///< integral of dx / sqrt(r), m^(1/2), r as far as it lengthens waves
    double shear = 0;  ///< m, greatest r sqrt(E / kappa G): stubby where the length is not far more
};

struct Plane {
    double gyration, shear;  ///< m
};

/// Of the plane that bends least.
Plane stiff_plane(const Section& section, double poissons_ratio) {
    require_positive(section.area, "beam run", "area");
    const double gyration =
        std::sqrt(std::max(section.second_moment_y, section.second_moment_z) / section.area);
    const double kappa = std::min(section.shear_coefficient_y, section.shear_coefficient_z);
    require_positive(kappa, "beam run", "shear coefficient");
    return {.gyration = gyration, .shear = gyration * std::sqrt(2 * (1 + poissons_ratio) / kappa)};
}

double length_of(const BeamRun& run, const std::vector<Eigen::Vector3d>& nodes) {
    return (place_of(run.end, nodes) - place_of(run.start, nodes)).norm();
}

Extent extent_of(const BeamRun& run, double length, double greatest_gyration) {
    Extent extent{.length = length};
    for (int i = 0; i < kLinePoints; ++i) {
        const Plane plane = stiff_plane(run.taper ? run.taper(line_points()[i]) : run.section,
                                        run.material.poissons_ratio);
        const double gyration = std::min(plane.gyration, greatest_gyration);
        extent.waves += length * line_weights()[i] / std::sqrt(gyration);
        extent.shear = std::max(extent.shear, plane.shear);
    }
    return extent;
}

struct MemberRun {
    BeamRun* run;
    Extent extent;
};

Extent whole(const std::vector<MemberRun>& runs) {
    Extent sum;
    for (const MemberRun& part : runs) {
        sum.length += part.extent.length;
        sum.waves += part.extent.waves;
        sum.shear = std::max(sum.shear, part.extent.shear);
    }
    return sum;
}

void share_out(std::vector<MemberRun>& runs) {
    const Extent member = whole(runs);
    const double wanted = std::clamp(kSlenderPart + kStubbyPart * member.shear / member.length,
                                     kLeastOfMember, kMostOfMember);
    std::sort(runs.begin(), runs.end(), [](const MemberRun& a, const MemberRun& b) {
        return a.extent.waves < b.extent.waves;
    });
    double plain_error = 0;
    for (const MemberRun& part : runs) {
        const double share = part.extent.waves / member.waves;
        plain_error += std::pow(share, 3);
        part.run->mid_nodes = plain_error > kPlainError;
        part.run->least_elements =
            std::max(1, static_cast<int>(std::ceil(wanted * share - kRounding)));
    }
}

}  // namespace

void choose_elements(StructureModel& model) {
    std::vector<double> lengths(model.members.size());
    for (const BeamRun& run : model.beams) {
        lengths.at(static_cast<std::size_t>(run.member)) += length_of(run, model.nodes);
    }
    std::vector<std::vector<MemberRun>> members(model.members.size());
    for (BeamRun& run : model.beams) {
        const auto member = static_cast<std::size_t>(run.member);
        const Extent extent =
            extent_of(run, length_of(run, model.nodes), kWaveGyration * lengths[member]);
        members[member].push_back({.run = &run, .extent = extent});
    }
    for (std::vector<MemberRun>& runs : members) share_out(runs);
}

}  // namespace standfast
