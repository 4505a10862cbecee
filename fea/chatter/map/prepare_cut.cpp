// What period maps of one cut have in common.
#include <algorithm>
#include <cmath>
#include <numbers>

#include "fea/chatter/map/period_map.hpp"
#include "fea/quantities/require.hpp"

namespace standfast {
namespace {

constexpr double kLeastGain = 0.2;  // of a mode by itself, that is told from none
constexpr int kFewestSlices = 6;    // of an arc

// The same turn, begun where the first edge enters after free flight.
std::vector<CutPiece> first_cut_first(std::vector<CutPiece> pieces) {
    for (std::size_t k = 1; k < pieces.size(); ++k) {
        if (pieces[k].cutting && !pieces[k - 1].cutting) {
            std::rotate(pieces.begin(), pieces.begin() + static_cast<std::ptrdiff_t>(k),
                        pieces.end());
            break;
        }
    }
    return pieces;
}

// A cut of `depth` with the receptance along its edge, so that nothing depends on the depth
// further.
DelaySystem at_depth(const DelaySystem& system, double depth) {
    DelaySystem cut = system;
    cut.receptance = receptance_of_cut(system, depth);
    cut.lines.reset();
    // A short arc is a small part of the edge: its slices may be as much coarser.
    const double arc = std::min(1.0, system.cutter.corner_radius / depth);
    cut.arc_slices =
        std::max(kFewestSlices, static_cast<int>(std::ceil(system.arc_slices * std::sqrt(arc))));
    return cut;
}

PreparedCut without_forces(const DelaySystem& system, bool apart) {
    PreparedCut cut;
    cut.modes = modal_state(system.receptance);
    cut.sensing = sensing(system, cut.modes, apart);
    cut.radius = system.cutter.diameter / 2;
    return cut;
}

// The mean of rubbing, had with coefficient 1, that the modes take as damping.
void add_mean_rubbing(PreparedCut& cut, const DelaySystem& system, const EdgeMatrix& of_one) {
    if (!(system.law.process_damping > 0) || system.law.rubbing == Rubbing::momentary) return;
    cut.mean_rubbing = system.law.process_damping * of_one;
    cut.fade = system.law.fade;
}

PreparedCut prepared(const DelaySystem& system, EdgeSum<Eigen::Matrix3d> directional,
                     bool apart = false) {
    PreparedCut cut = without_forces(system, apart);
    directional.basis = system.receptance.basis;
    cut.rubbing = rubbing_sum(
        directional, system.law.rubbing == Rubbing::momentary ? system.law.process_damping : 0);
    if (system.law.process_damping > 0) {
        add_mean_rubbing(cut, system, harmonic(rubbing_sum(directional, 1), 0).real());
    }
    cut.directional = std::move(directional);
    return cut;
}

// Equal teeth: A by its course, which tries share.
PreparedCut by_course(const DelaySystem& system, double depth, CourseShelf* shelf) {
    CourseShelf own;
    const CourseShelf::Course found =
        (shelf != nullptr ? *shelf : own).at(system, system.receptance.basis, depth);
    PreparedCut cut = without_forces(system, false);
    cut.course = found.course;
    cut.course_scale = found.scale;
    cut.pieces = found.course->pieces;
    add_mean_rubbing(cut, system, found.course->mean_rubbing);
    if (system.law.process_damping > 0 && system.law.rubbing == Rubbing::momentary) {
        EdgeSum<Eigen::Matrix3d> directional = directional_sum(system, depth);
        directional.basis = system.receptance.basis;
        cut.rubbing = rubbing_sum(directional, system.law.process_damping);
    }
    const double gain = 2 * depth * found.scale * found.course->mean.norm();
    if (cut.mean_rubbing.size() > 0 && gain > 0) cut.sings = kLeastGain / gain;
    return cut;
}

// One tooth's cut and what is left of the turn until the next; none where teeth cut together.
std::optional<PreparedCut> in_turns(const DelaySystem& system, double depth) {
    DelaySystem alone = system;
    alone.cutter.tooth_angle = {0.0};
    PreparedCut cut = prepared(system, directional_sum(alone, depth));
    cut.mean_rubbing *= system.cutter.teeth();
    double engaged = 0;
    for (const CutPiece& piece : first_cut_first(cut_pieces(alone, depth))) {
        if (!piece.cutting) break;
        cut.pieces.push_back(piece);
        engaged += piece.length;
    }
    for (int tooth = 0; tooth < system.cutter.teeth(); ++tooth) {
        cut.pitch.push_back(tooth_pitch(system.cutter, (tooth + 1) % system.cutter.teeth()));
        if (cut.pitch.back() < engaged) return std::nullopt;
    }
    return cut;
}

// Every part with its own delay, over a revolution.
PreparedCut over_a_revolution(const DelaySystem& system, double depth,
                              std::vector<Regeneration> parts) {
    EdgeSum<Eigen::Matrix3d> all = directional_sum(system, depth);
    all.terms.clear();
    for (const Regeneration& part : parts) {
        all.terms.insert(all.terms.end(), part.directional.terms.begin(),
                         part.directional.terms.end());
    }
    PreparedCut cut = prepared(system, std::move(all), true);
    cut.pieces = revolution_pieces(system, depth, parts);
    for (Regeneration& part : parts) part.directional.basis = system.receptance.basis;
    cut.parts = std::move(parts);
    return cut;
}

}  // namespace

PreparedCut prepare_cut(const DelaySystem& whole, double depth, CourseShelf* shelf) {
    require_positive(depth, "prepare_cut", "axial depth");
    const DelaySystem system = at_depth(whole, depth);
    if (system.cutter.evenly_spaced()) return by_course(system, depth, shelf);
    if (auto cut = in_turns(system, depth)) return std::move(*cut);
    return over_a_revolution(system, depth, regenerations(system, depth));
}

PreparedCut prepare_motion(const ModalReceptance& receptance, const RigidCut& cut) {
    const DelaySystem system{receptance, cut.cutter, cut.engagement, cut.law};
    const bool alike = cut.cutter.evenly_spaced() && !cut.cutter.runs_out();
    PreparedCut motion = alike ? prepare_cut(system, cut.depth)
                               : over_a_revolution(system, cut.depth, chip_regenerations(cut));
    motion.given = rigid_force_sum(cut);
    motion.given->basis = receptance.basis;
    return motion;
}

}  // namespace standfast
