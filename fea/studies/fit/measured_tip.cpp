#include "fea/studies/fit/measured_tip.hpp"

#include <Eigen/Geometry>
#include <Eigen/SparseLU>
#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "fea/quantities/require.hpp"
#include "fea/stack/tool_model.hpp"
#include "fea/structure/assembly.hpp"
#include "fea/studies/fit/modal_fit.hpp"

namespace standfast {
namespace {

using Complex = std::complex<double>;

/// The chain without its cutter, and the node at the holder's face.
StructureModel without_cutter(StructureModel structure, int& face) {
    const auto is_cutter = [&](const BeamRun& run) {
        return structure.members[static_cast<std::size_t>(run.member)].kind == MemberKind::cutter;
    };
    const auto first = std::find_if(structure.beams.begin(), structure.beams.end(), is_cutter);
    if (first == structure.beams.end() || first->start.node == kGround) {
        throw std::domain_error("tool: nothing between spindle and cutter gives");
    }
    face = first->start.node;
    structure.beams.erase(std::remove_if(structure.beams.begin(), structure.beams.end(), is_cutter),
                          structure.beams.end());
    // The chain is made from the spindle down: what comes after the face is cutter.
    structure.nodes.resize(static_cast<std::size_t>(face) + 1);
    return structure;
}

Eigen::SparseMatrix<Complex> lossy_stiffness(const AssembledSystem& system) {
    Eigen::SparseMatrix<Complex> sum(system.size, system.size);
    for (const StiffnessParameter& parameter : system.stiffness) {
        sum +=
            parameter.shape.cast<Complex>() * (parameter.value * Complex(1, parameter.loss_factor));
    }
    return sum;
}

/// Two loads at the face: force along the direction, moment that turns the slope up.
Eigen::MatrixXcd face_loads(const AssembledSystem& system, int face,
                            const Eigen::Vector3d& direction) {
    const Eigen::Vector3d turning = Eigen::Vector3d::UnitZ().cross(direction);
    Eigen::MatrixXcd loads = Eigen::MatrixXcd::Zero(system.size, 2);
    loads.block(6 * face, 0, 3, 1) = direction.cast<Complex>();
    loads.block(6 * face + 3, 1, 3, 1) = turning.cast<Complex>();
    return loads;
}

MeasuredMode mode_along(const Eigen::Vector3d& direction, double omega, double damping,
                        double mass) {
    return {.direction = direction,
            .frequency = AngularFrequency{omega},
            .damping_ratio = damping,
            .mass = mass};
}

}  // namespace

std::vector<EndReceptance> modelled_base(const Machine& machine, const ToolChain& tool,
                                         const Eigen::Vector3d& direction,
                                         const std::vector<AngularFrequency>& frequency) {
    int face = 0;
    const AssembledSystem system =
        assemble(without_cutter(tool_model(machine, tool).structure, face));
    const Eigen::SparseMatrix<Complex> stiffness = lossy_stiffness(system);
    const Eigen::SparseMatrix<Complex> mass = mass_matrix(system).cast<Complex>();
    const Eigen::MatrixXcd loads = face_loads(system, face, direction);
    Eigen::SparseLU<Eigen::SparseMatrix<Complex>> factor;
    std::vector<EndReceptance> base;
    for (const AngularFrequency at : frequency) {
        const double omega = at.radians_per_second;
        const Eigen::SparseMatrix<Complex> dynamic = stiffness - omega * omega * mass;
        if (base.empty()) factor.analyzePattern(dynamic);
        factor.factorize(dynamic);
        const Eigen::MatrixXcd motion = factor.solve(loads);
        base.emplace_back(loads.transpose() * motion);
    }
    return base;
}

std::vector<Complex> at_own_stickout(const Machine& machine, const ToolChain& tool,
                                     const ReceptanceTest& measured, double measured_stickout) {
    require_positive(measured_stickout, "tool \"" + tool.name + "\"", "measured stickout, m,");
    ToolChain then = tool;
    then.cutter.stickout = measured_stickout;
    const std::vector<CutterRun> was = cutter_runs(then.cutter), is = cutter_runs(tool.cutter);
    const std::vector<EndReceptance> base =
        modelled_base(machine, tool, measured.direction, measured.frequency);
    std::vector<Complex> carried;
    for (std::size_t i = 0; i < base.size(); ++i) {
        const EndReceptance real = base_from_tip(free_segment(was, measured.frequency[i]), base[i],
                                                 measured.receptance[i]);
        carried.push_back(couple(free_segment(is, measured.frequency[i]), real)(0, 0));
    }
    return carried;
}

std::vector<MeasuredMode> tip_modes(const Machine& machine, const ToolChain& tool,
                                    const ReceptanceTest& measured,
                                    std::optional<double> measured_stickout) {
    const bool same =
        !measured_stickout || std::abs(*measured_stickout - stickout_of(tool.cutter)) < 1e-6;
    const ModalFit fit = fit_modes(
        measured.frequency,
        same ? measured.receptance : at_own_stickout(machine, tool, measured, *measured_stickout));
    if (fit.terms.empty()) {
        throw std::domain_error("tool \"" + tool.name + "\": no mode stands out of the noise in " +
                                measured.file);
    }
    const Eigen::Vector3d direction = measured.direction.normalized();
    std::vector<MeasuredMode> modes;
    for (const FittedMode& mode : fit.terms) {
        modes.push_back(mode_along(direction, mode.frequency.radians_per_second, mode.damping_ratio,
                                   1 / mode.residue));
    }
    if (fit.compliance > 0) {
        const double omega = 2 * measured.frequency.back().radians_per_second;
        modes.push_back(mode_along(direction, omega, fit.terms.back().damping_ratio,
                                   1 / (fit.compliance * omega * omega)));
    }
    return modes;
}

}  // namespace standfast
