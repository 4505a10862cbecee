// Compares the tool side that a job gets by default with measured tool points
// (validation/measured/tool_points.json) and prints bias and spread. Run from the project's top
// folder, or give the file. A row that set a default validates nothing; it is shown apart.
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <numbers>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include "cli/job/read_job.hpp"
#include "fea/solution/statics.hpp"
#include "fea/stack/cut_receptance.hpp"
#include "fea/stack/joint_stiffness.hpp"
#include "fea/stack/tool_model.hpp"
#include "fea/structure/assembly.hpp"
#include "materials/tables/load_catalogue.hpp"

namespace standfast {
namespace {

using Json = nlohmann::json;

constexpr std::size_t kTools = 5;  ///< independent ones that a validation needs

/// How a tool that is measured may have been held, as far as nobody says.
struct Held {
    std::string taper, grip;  ///< empty grip: the one that stands in
    double diameters_out = 0;
};

struct Ratio {
    std::string tool, role, quantity;
    double predicted = 0, measured = 0;
    double value() const { return predicted / measured; }
};

Job job_of(const Json& row, const Held& held) {
    const double diameter = row.at("diameter_mm").get<double>();
    const double out = row.at("stickout_mm").is_null() ? held.diameters_out * diameter
                                                       : row.at("stickout_mm").get<double>();
    const bool carbide = !row.at("material").is_string() ||
                         row.at("material").get<std::string>().find("carbide") != std::string::npos;
    const std::string grip = held.grip.empty() ? "" : "grip = \"" + held.grip + "\"\n";
    const std::string material = carbide ? "cemented carbide" : "steel";
    // A single inserted edge leaves the shank whole; flutes do not.
    const bool whole = row.at("teeth").get<int>() == 1;
    const std::string form =
        whole ? fmt::format(
                    "segments = [ {{ round = \"{0} mm\", length = \"{1} mm\", material = "
                    "\"{2}\" }} ]",
                    diameter, out, material)
              : fmt::format("material = \"{}\"", material);
    const std::string text = fmt::format(
        "[machine]\nkind = \"3-axis\"\ntaper = \"{}\"\nspeed = [\"500 rpm\", \"12000 rpm\"]\n"
        "[[tier]]\nname = \"part\"\nmaterial = \"6061\"\nblock = [\"80 mm\", \"60 mm\"]\n"
        "height = \"40 mm\"\n[[tool]]\n{}cutter = {{ diameter = \"{} mm\", teeth = {}, stickout = "
        "\"{} mm\", {} }}\n[[pass]]\nradial = \"1 mm\"\naxial = \"1 mm\"\nfeed = \"0.05 mm\"\n"
        "speed = \"6000 rpm\"\n",
        held.taper, grip, diameter, row.at("teeth").get<int>(), out, form);
    const ReadResult read = read_job_text(text, row.at("id").get<std::string>());
    if (!read.job) throw std::runtime_error(format_diagnostics(read.errors));
    return *read.job;
}

struct TipMode {
    double hertz = 0, stiffness = 0;  ///< N/m, modal, in the direction in which it moves
};

/// Modes that move the tip sideways, lowest first; of the two equal ones a plane each, one.
std::vector<TipMode> tip_modes(const Job& job) {
    std::vector<TipMode> modes;
    for (const ModalTerm& term : solve_tool_side(job.machine, job.tools[0]).modal.terms) {
        const double moves = term.shape.head<2>().squaredNorm();
        const double square = std::pow(term.frequency.radians_per_second, 2);
        if (square > 1e11 * moves) continue;  // stiffer than 1e5 N/um: it does not show
        if (!modes.empty() && std::abs(term.frequency.hertz() / modes.back().hertz - 1) < 1e-6)
            continue;
        modes.push_back({term.frequency.hertz(), square / moves});
    }
    std::sort(modes.begin(), modes.end(),
              [](const TipMode& a, const TipMode& b) { return a.hertz < b.hertz; });
    return modes;
}

TipMode compared_mode(const std::vector<TipMode>& modes, const std::string& which) {
    if (which == "first") return modes.front();
    if (which == "second") return modes.at(1);
    return *std::min_element(modes.begin(), modes.end(), [](const TipMode& a, const TipMode& b) {
        return a.stiffness < b.stiffness;
    });
}

/// Sideways stiffness of all that holds the cutter, at the holder face, N/m.
double stiffness_behind(const Job& job) {
    const StructureModel structure = tool_model(job.machine, job.tools[0]).structure;
    const auto cutter =
        std::find_if(structure.beams.begin(), structure.beams.end(), [&](const BeamRun& run) {
            return structure.members[static_cast<std::size_t>(run.member)].kind ==
                   MemberKind::cutter;
        });
    const MaterialPoint face{.node = cutter->start.node, .arm = Eigen::Vector3d::Zero()};
    return 1 / point_compliance(assemble(structure), face)(0, 0);
}

std::vector<Held> ways_held(const Json& row) {
    if (row.at("id") == "R1") {
        return {
            {"CAT40", "", 0}, {"CAT40", "shrink", 0}, {"HSK-A63", "", 0}, {"HSK-A63", "shrink", 0}};
    }
    if (row.at("id") == "FH30") return {{"CAT40", "collet", 0}};
    const std::string grip = row.at("diameter_mm").get<double>() > 20 ? "side-lock" : "collet";
    return {{"CAT40", grip, 3}, {"CAT40", grip, 4}};
}

void add_ratio(std::vector<Ratio>& ratios, const Json& row, const std::string& quantity,
               double predicted, const Json& measured) {
    if (measured.is_null()) return;
    ratios.push_back({row.at("id"), row.at("role"), quantity, predicted, measured.get<double>()});
}

/// The first way a tool may have been held counts, being what a job gets; the others show how much
/// hangs on it.
std::vector<Ratio> compare(const Json& row, const Held& held) {
    const Job job = job_of(row, held);
    std::vector<Ratio> ratios;
    if (row.at("compared") == "behind") {
        add_ratio(ratios, row, "stiffness", stiffness_behind(job), row.at("k_N_per_m"));
        return ratios;
    }
    const TipMode mode = compared_mode(tip_modes(job), row.at("compared"));
    add_ratio(ratios, row, "frequency", mode.hertz, row.at("frequency_hz"));
    add_ratio(ratios, row, "stiffness", mode.stiffness, row.at("k_N_per_m"));
    return ratios;
}

void print_ratios(const Json& row, const Held& held, const std::vector<Ratio>& ratios) {
    const std::string grip = held.grip.empty() ? "the usual grip" : held.grip;
    const std::string out =
        held.diameters_out > 0 ? fmt::format(", {} diameters out", held.diameters_out) : "";
    for (const Ratio& ratio : ratios) {
        const double unit = ratio.quantity == "frequency" ? 1 : 1e6;
        fmt::print("{:<6} {:<4} {:<10} {:>8.4g} {:>8.4g}  {:>5.2f}  {:<12} {}, {}{}\n", ratio.tool,
                   row.at("direction").get<std::string>(), ratio.quantity, ratio.predicted / unit,
                   ratio.measured / unit, ratio.value(), ratio.role, held.taper, grip, out);
    }
}

/// Of a list, by linear interpolation between its sorted members.
double quantile(std::vector<double> values, double share) {
    std::sort(values.begin(), values.end());
    const double place = share * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    const std::size_t above = std::min(below + 1, values.size() - 1);
    return std::lerp(values[below], values[above], place - static_cast<double>(below));
}

void print_summary(const std::vector<Ratio>& all, const std::string& role,
                   const std::string& quantity) {
    std::vector<double> ratios;
    std::set<std::string> tools;
    for (const Ratio& ratio : all) {
        if (ratio.role != role || ratio.quantity != quantity) continue;
        ratios.push_back(ratio.value());
        tools.insert(ratio.tool);
    }
    if (ratios.empty()) return;
    const std::string word =
        role != "check" ? "validates nothing"
        : tools.size() >= kTools
            ? "validated"
            : fmt::format("not validated: fewer than {} independent tools", kTools);
    fmt::print("{:<12} {:<10} bias {:.2f}, 10-90 % {:.2f} to {:.2f}, {} readings, tools: {}; {}\n",
               role, quantity, quantile(ratios, 0.5), quantile(ratios, 0.1), quantile(ratios, 0.9),
               ratios.size(), tools.size(), word);
}

/// Give of a shrink grip beside that of a shank bonded into its holder, which bounds it from below.
void print_bonded(const Json& document) {
    const JointKind* const kind = find_joint(built_in_catalogue(), "shrink", JointUse::grip);
    Joint grip;
    grip.kind = *kind;
    fmt::print(
        "\nshrink grip over a bonded shank, added give at 3, 4, 5, 6 diameters out (sets)\n");
    for (const Json& row : document.at("joints")) {
        if (!row.contains("shank_mm")) continue;
        const double shank = row.at("shank_mm").get<double>() * 1e-3;
        const ResolvedJoint springs = resolve_tool_joint(grip, shank);
        fmt::print("{:>4} mm ", row.at("shank_mm").get<double>());
        const Json& bonded = row.at("extra_compliance_at_L_over_D_2_5_3_4_5_6_nm_per_N");
        for (std::size_t i = 1; i < bonded.size(); ++i) {
            const double lever = shank * static_cast<double>(i + 2);
            const double give = 1 / springs.translation.x() + lever * lever / springs.rotation.y();
            fmt::print("  {:.1f} / {:.1f} nm/N", give * 1e9, bonded[i].get<double>());
        }
        fmt::print("\n");
    }
}

void report(const std::string& path) {
    std::ifstream file(path);
    if (!file) throw std::runtime_error("no file " + path + "; run from the project's top folder");
    const Json document = Json::parse(file);
    std::vector<Ratio> counted;
    fmt::print("tool   axis quantity  predicted measured ratio  role         held (Hz, N/um)\n");
    for (const Json& row : document.at("tool_points")) {
        if (row.at("role") == "none") continue;
        bool first = true;
        for (const Held& held : ways_held(row)) {
            const std::vector<Ratio> ratios = compare(row, held);
            print_ratios(row, held, ratios);
            if (first) counted.insert(counted.end(), ratios.begin(), ratios.end());
            first = false;
        }
    }
    fmt::print("\n");
    for (const char* role : {"check", "illustration", "sets"}) {
        for (const char* quantity : {"frequency", "stiffness"})
            print_summary(counted, role, quantity);
    }
    print_bonded(document);
}

}  // namespace
}  // namespace standfast

int main(int count, char** words) {
    try {
        standfast::report(count > 1 ? words[1] : "validation/measured/tool_points.json");
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return 0;
}
