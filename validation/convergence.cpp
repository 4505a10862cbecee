// How fast the beam converges, and what the numbers of elements that a job gets cost in percent.
// Prints tables; the figures that the headers quote come from here.
#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <string>
#include <vector>

#include "fea/solution/modes.hpp"
#include "fea/solution/receptance.hpp"
#include "fea/structure/assembly.hpp"
#include "fea/structure/element_counts.hpp"
#include "tests/support/exact_chain.hpp"

namespace {

using namespace standfast;

StructureModel cantilever(const BeamRun& like, double length) {
    StructureModel model;
    model.nodes = {{0, 0, length}};
    model.members = {{.name = "beam", .kind = MemberKind::tier}};
    model.beams = {like};
    model.beams[0].end.node = 0;
    return model;
}

Material steel(double youngs_modulus, double poissons_ratio) {
    Material material;
    material.youngs_modulus = youngs_modulus;
    material.poissons_ratio = poissons_ratio;
    material.density = 7850;
    return material;
}

/// Frequencies (Hz) of bending in the x-z plane.
std::vector<double> bending(const StructureModel& model, int count) {
    std::vector<double> result;
    for (const Mode& mode : modes(assemble(model), count)) {
        double in_plane = 0;
        for (Eigen::Index i = 0; i < mode.shape.size(); i += 6) {
            in_plane += std::pow(mode.shape[i], 2) + std::pow(0.03 * mode.shape[i + 4], 2);
        }
        double all = 0;
        for (Eigen::Index i = 0; i < mode.shape.size(); ++i) {
            all += std::pow((i % 6 < 3 ? 1 : 0.03) * mode.shape[i], 2);
        }
        if (in_plane > 0.9 * all) result.push_back(mode.frequency.hertz());
    }
    return result;
}

struct Exact {
    double slenderness;
    std::array<double, 3> hertz;
};

// T. C. Huang, J. Appl. Mech. 28 (1961) 579-584: frequency equation of the Timoshenko cantilever,
// solved with an exact transfer matrix. Square 50 mm, E 210 GPa, nu 0.3, 7850 kg/m3.
constexpr std::array<Exact, 4> kHuang{{{3, {1715.84738, 7840.067464, 17177.75831}},
                                       {5, {648.4992436, 3498.875367, 8339.266052}},
                                       {10, {165.8076489, 994.352214, 2617.29853}},
                                       {20, {41.69400189, 258.2920996, 710.3655941}}}};

void uniform_cantilevers() {
    fmt::print("Uniform cantilever, error of the first three bending frequencies, %\n");
    fmt::print("{:>6} {:>9} {:>22} {:>22} {:>22}\n", "L/h", "elements", "mode 1 (order)",
               "mode 2 (order)", "mode 3 (order)");
    for (const Exact& exact : kHuang) {
        std::array<double, 3> before{};
        for (const int elements : {4, 8, 16, 32}) {
            BeamRun run;
            run.section = rectangle(0.05, 0.0501, 0.3);  // planes a little apart: no pairs to part
            run.section.area = 0.05 * 0.05;
            run.section.second_moment_z = std::pow(0.05, 4) / 12;
            run.material = steel(210e9, 0.3);
            run.least_elements = elements;
            const auto hertz = bending(cantilever(run, 0.05 * exact.slenderness), 16);
            std::string line = fmt::format("{:>6} {:>9}", exact.slenderness, elements);
            for (std::size_t i = 0; i < 3; ++i) {
                const double error = 100 * (hertz.at(i) / exact.hertz.at(i) - 1);
                const double order = std::log2(before.at(i) / error);
                line += before.at(i) == 0 ? fmt::format("{:>15.4f}       ", error)
                                          : fmt::format("{:>15.4f} ({:.2f})", error, order);
                before.at(i) = error;
            }
            fmt::print("{}\n", line);
        }
    }
}

/// Solid round, its other plane stiffer so that modes do not come in pairs.
BeamRun round(double diameter) {
    BeamRun run;
    run.section = solid_round(diameter, 0.22);
    run.section.second_moment_y *= 1.13;
    run.material = steel(600e9, 0.22);
    return run;
}

std::string errors(const StructureModel& model, const std::vector<double>& exact, double& worst) {
    const std::vector<double> hertz = bending(model, 16);
    std::string line;
    for (std::size_t i = 0; i < 3; ++i) {
        const double error = 100 * (hertz.at(i) / exact.at(i) - 1);
        worst = std::max(worst, std::abs(error));
        line += fmt::format("{:>9.4f}", error);
    }
    return line;
}

void middle_nodes() {
    fmt::print("\nSolid round, clamped-free, error of the first three bending frequencies, %\n");
    fmt::print("{:>4} {:>9} {:>27} {:>27}\n", "L/D", "elements", "without middle nodes",
               "with middle nodes");
    for (const double slenderness : {1.0, 2.0, 3.0, 5.0, 10.0}) {
        StructureModel model = cantilever(round(0.012), 0.012 * slenderness);
        const auto exact = test::ExactChain(model).frequencies(3, 10);
        for (const int elements : {3, 4, 6, 12, 24}) {
            model.beams[0].least_elements = elements;
            double worst = 0;
            const std::string plain = errors(model, exact, worst);
            model.beams[0].mid_nodes = true;
            fmt::print("{:>4} {:>9} {} {}\n", slenderness, elements, plain,
                       errors(model, exact, worst));
            model.beams[0].mid_nodes = false;
        }
    }
}

/// Up to four cylinders and cones, from the ground on: as cutters, holders and columns have them.
StructureModel random_member(std::mt19937& random) {
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    StructureModel model;
    model.members = {{.name = "member", .kind = MemberKind::tier}};
    const int runs = static_cast<int>(between(1, 4.999));
    const double slenderness = std::exp(between(0, std::log(10.0)));
    double diameter = 0.05;
    double z = 0;
    for (int i = 0; i < runs; ++i) {
        const double inner = between(0, 1) < 0.5 ? 0 : 0.6;
        const double next = between(0, 1) < 0.5 ? diameter : diameter * between(0.5, 1);
        BeamRun run = round(diameter);
        run.taper = [=](double s) {
            const double outer = std::lerp(diameter, next, s);
            Section section = round_tube(outer, inner * outer, 0.22);
            section.second_moment_y *= 1.13;
            return section;
        };
        z += 0.05 * slenderness * between(0.2, 1) / runs;
        model.nodes.emplace_back(0, 0, z);
        run.start.node = i - 1;
        run.end.node = i;
        model.beams.push_back(run);
        diameter = next * between(0.6, 1);
    }
    return model;
}

void chosen_elements() {
    constexpr int kMembers = 200;
    std::mt19937 random(1);
    double worst = 0;
    std::size_t nodes = 0;
    for (int i = 0; i < kMembers; ++i) {
        StructureModel model = random_member(random);
        choose_elements(model);
        const double from = 0.3 * bending(model, 1).at(0);
        errors(model, test::ExactChain(model).frequencies(3, from, 1.02), worst);
        nodes += assemble(model).nodes.size();
    }
    fmt::print(
        "\n{} random stepped, tapered and hollow members with the elements that are chosen for "
        "them: worst error of the first three bending frequencies {:.3f} %, {:.1f} nodes on "
        "average\n",
        kMembers, worst, static_cast<double>(nodes) / kMembers);
}

struct Taper {
    double ratio;
    std::array<double, 2> wedge, both;  ///< omega L^2 sqrt(rho A / (E I)) of the root
};

// Families of H. H. Mabie and C. B. Rogers (1964, 1972), by shooting the differential equation.
constexpr std::array<Taper, 4> kTapers{
    {{0.2, {4.292494539, 15.74270017}, {6.196391007, 18.38546739}},
     {0.3, {4.081712378, 16.62524993}, {5.5092608, 18.64116192}},
     {0.5, {3.823784847, 18.3172609}, {4.625150252, 19.54761318}},
     {0.8, {3.608274873, 20.62101759}, {3.855116795, 21.05674543}}}};

std::vector<double> taper_lambdas(double width_ratio, double depth_ratio, std::size_t& elements) {
    BeamRun run;
    run.taper = [=](double s) {
        Section section =
            rectangle(0.04 * (1 + s * (depth_ratio - 1)), 0.2 * (1 + s * (width_ratio - 1)), 0.29);
        section.shear_coefficient_y = section.shear_coefficient_z = 1e9;
        return section;
    };
    run.material = steel(205e9, 0.29);
    run.least_elements = 1;
    run.rotary_inertia = false;
    const StructureModel model = cantilever(run, 1);
    elements = assemble(model).nodes.size();
    const Section root = run.taper(0);
    std::vector<double> lambdas = bending(model, 12);
    for (double& value : lambdas) {
        value *=
            2 * std::numbers::pi * std::sqrt(7850 * root.area / (205e9 * root.second_moment_z));
    }
    return lambdas;
}

void tapers() {
    fmt::print("\nTapers with the elements that assembly chooses, error of modes 1 and 2, %\n");
    fmt::print("{:>9} {:>9} {:>9} {:>9} {:>9} {:>9} {:>9}\n", "tip/root", "elements", "wedge 1",
               "wedge 2", "elements", "both 1", "both 2");
    for (const Taper& taper : kTapers) {
        std::size_t wedge_elements = 0;
        std::size_t both_elements = 0;
        const auto wedge = taper_lambdas(1, taper.ratio, wedge_elements);
        const auto both = taper_lambdas(taper.ratio, taper.ratio, both_elements);
        fmt::print("{:>9} {:>9} {:>9.4f} {:>9.4f} {:>9} {:>9.4f} {:>9.4f}\n", taper.ratio,
                   wedge_elements, 100 * (wedge.at(0) / taper.wedge[0] - 1),
                   100 * (wedge.at(1) / taper.wedge[1] - 1), both_elements,
                   100 * (both.at(0) / taper.both[0] - 1), 100 * (both.at(1) / taper.both[1] - 1));
    }
}

/// Table, riser and part on a joint; figures invented, losses as a shop's joints have them.
StructureModel stack(double loss) {
    StructureModel model;
    model.nodes = {{0, 0, 0}, {0, 0, 0.15}, {0, 0, 0.15}, {0, 0, 0.25}};
    model.members = {{.name = "table", .kind = MemberKind::table},
                     {.name = "riser", .kind = MemberKind::tier},
                     {.name = "part joint", .kind = MemberKind::tier_joint},
                     {.name = "part", .kind = MemberKind::tier}};
    const auto add_run = [&](int member, int start, const Section& section) {
        BeamRun run;
        run.member = member;
        run.start.node = start;
        run.end.node = start + 1;
        run.section = section;
        run.material = steel(169e9, 0.275);
        run.material.loss_factor = 0.05 * loss;
        model.beams.push_back(run);
    };
    add_run(1, 0, round_tube(0.11, 0.07, 0.275));
    add_run(3, 2, rectangle(0.07, 0.05, 0.33));
    const auto add_joint = [&](int member, int below, int above, double tilting) {
        JointElement joint;
        joint.member = member;
        joint.below.node = below;
        joint.above.node = above;
        joint.translation = {1.5e8, 1.7e8, 4e8};
        joint.rotation = {tilting, 0.8 * tilting, tilting};
        joint.loss_factor = loss;
        model.joints.push_back(joint);
    };
    add_joint(0, kGround, 0, 6e6);
    add_joint(2, 1, 2, 3e5);
    return model;
}

void direct_against_modal() {
    fmt::print(
        "\nSize of modal against direct receptance at the part's top, worst difference, %\n");
    fmt::print("{:>12} {:>14} {:>12} {:>12}\n", "joints' loss", "damping ratio", "near peaks",
               "elsewhere");
    for (const double loss : {0.005, 0.01, 0.02, 0.04, 0.08}) {
        const AssembledSystem system = assemble(stack(loss));
        const std::vector<Mode> kept = modes(system, 14);
        const ModalReceptance modal = modal_receptance(system, kept, {.node = 3});
        const DirectReceptance direct(system, {.node = 3});
        const double top = kept.back().frequency.hertz() / 2;
        const auto difference = [&](double hertz) {
            const auto frequency = AngularFrequency::from_hertz(hertz);
            return std::abs(receptance_at(modal, frequency).norm() / direct.at(frequency).norm() -
                            1);
        };
        double near_peaks = 0;
        double elsewhere = 0;
        for (const Mode& mode : kept) {
            if (mode.frequency.hertz() > top) continue;
            for (int step = -6; step <= 6; ++step) {
                near_peaks = std::max(
                    near_peaks,
                    difference(mode.frequency.hertz() * (1 + 0.5 * step * mode.damping_ratio)));
            }
        }
        for (int step = 0; step < 1000; ++step) {
            elsewhere = std::max(elsewhere, difference(top * step / 1000));
        }
        fmt::print("{:>12} {:>14.4f} {:>12.2f} {:>12.2f}\n", loss, kept[0].damping_ratio,
                   100 * near_peaks, 100 * elsewhere);
    }
}

}  // namespace

int main() {
    uniform_cantilevers();
    middle_nodes();
    chosen_elements();
    tapers();
    direct_against_modal();
}
