#include "fea/judgement/holding/joint_hold.hpp"

#include <Eigen/Geometry>
#include <algorithm>
#include <cmath>

namespace standfast {
namespace {

/// Keeps the worse of two margins.
void keep_worse(HoldMargin& worst, double margin, HoldingMode mode) {
    if (margin < worst.margin) worst = {margin, mode};
}

/// Loss of a face that is pressed with `seating` less the axial pull, as rigid bodies: the
/// resultant of the pressure must stay on the face.
struct FaceLoss {
    double seating = 0;  ///< N, before the load
    double half_x = 0, half_y = 0;
    bool round = false;
};

void keep_face_loss(HoldMargin& worst, const FaceLoss& face, const Wrench& w) {
    const double pull = w.force.z() / face.seating;
    const double turn_x = w.moment.x() / (face.seating * face.half_y);
    const double turn_y = w.moment.y() / (face.seating * face.half_x);
    const double turn = face.round ? std::hypot(turn_x, turn_y) : std::max(turn_x, turn_y);
    keep_worse(worst, 1 - pull - turn, pull > turn ? HoldingMode::lift_off : HoldingMode::tip);
}

HoldMargin margin_of(const PreloadedFace& face, const Wrench& w) {
    HoldMargin worst;
    const double lever = face.round ? mean_lever_of_disc(2 * face.half_x)
                                    : mean_lever(2 * face.half_x, 2 * face.half_y);
    const double drive = w.force.head<2>().norm() + w.moment.z() / lever;
    keep_worse(worst, 1 - w.force.z() / face.preload - drive / (face.friction * face.preload),
               HoldingMode::slip);
    keep_face_loss(worst, {face.preload, face.half_x, face.half_y, face.round}, w);
    return worst;
}

HoldMargin margin_of(const ClampedDovetail& tail, const Wrench& w) {
    HoldMargin worst;
    const double seating = 2 * tail.clamp * seating_ratio(tail.flank, tail.friction);
    const double seat = std::max(seating - w.force.z(), 0.0);
    const double along = tail.friction * (2 * tail.clamp + seat);
    const double turning = tail.clamp * tail.length / 3 + tail.friction * tail.clamp * tail.width +
                           tail.friction * seat * mean_lever(tail.length, tail.width);
    keep_worse(worst, 1 - std::abs(w.force.x()) / along - w.moment.z() / turning,
               HoldingMode::slip);
    keep_face_loss(worst, {seating, tail.length / 2, tail.width / 2, false}, w);

    const double yield = tail.clamp * pull_out_ratio(tail.flank, tail.friction);
    if (std::isfinite(yield)) {
        const double relieved = std::abs(w.force.y()) / (2 * tail.clamp);
        const double pull =
            w.force.z() / 2 + std::max(w.moment.x() / tail.width, w.moment.y() / tail.length);
        keep_worse(worst, 1 - relieved - pull / yield, HoldingMode::pull_out);
    }
    return worst;
}

/// Share of the jaws' friction that turning in their plane takes.
double turning_share(const ClampedJaws& jaws, const Wrench& w, double lift) {
    const double middle = w.moment.y() + jaws.grip / 2 * std::abs(w.force.x());
    const double share = middle / turning_capacity(jaws);
    if (!jaws.seated) return share;
    const double corner = w.moment.y() + jaws.grip * std::abs(w.force.x()) + jaws.length / 2 * lift;
    // A seat never makes a hold worse: where it does not help, the part leaves it.
    return std::min(share, corner / turning_capacity_on_seat(jaws));
}

HoldMargin margin_of(const ClampedJaws& jaws, const Wrench& w) {
    HoldMargin worst;
    // Moment about the middle of the faces, half a grip below their upper edge.
    const double about_x = w.moment.x() + jaws.grip / 2 * std::abs(w.force.y());
    const double lift = std::max(w.force.z(), 0.0);
    const double slip =
        std::hypot(w.force.x(), lift) / slip_capacity(jaws) + turning_share(jaws, w, lift);
    keep_worse(worst, 1 - slip,
               lift > std::abs(w.force.x()) ? HoldingMode::pull_out : HoldingMode::slip);
    const double relieved = std::abs(w.force.y()) / (2 * jaws.force);
    const double twist_capacity = jaws.force * (jaws.length / 3 + jaws.friction * jaws.width);
    keep_worse(worst, 1 - relieved - w.moment.z() / twist_capacity, HoldingMode::slip);
    keep_worse(worst, 1 - relieved - about_x / tilt_capacity(jaws), HoldingMode::tip);
    return worst;
}

HoldMargin joint_margin(const Hold* hold, const FootSection* foot, const Wrench& w) {
    HoldMargin worst{1, HoldingMode::slip};
    if (hold != nullptr) worst = hold_margin(*hold, w);
    if (foot != nullptr) {
        const HoldMargin neck = neck_margin(*foot, w);
        if (neck.margin < worst.margin) worst = neck;
    }
    return worst;
}

}  // namespace

Wrench wrench_of(const Eigen::Vector3d& force, const Eigen::Vector3d& place) {
    const Eigen::Vector3d f = force.cwiseAbs(), r = place.cwiseAbs();
    return {force,
            {r.y() * f.z() + r.z() * f.y(), r.z() * f.x() + r.x() * f.z(),
             r.x() * f.y() + r.y() * f.x()}};
}

Wrench instant_wrench(const Eigen::Vector3d& force, const Eigen::Vector3d& place) {
    return {force, place.cross(force).cwiseAbs()};
}

HoldMargin hold_margin(const Hold& hold, const Wrench& wrench) {
    return std::visit([&](const auto& kind) { return margin_of(kind, wrench); }, hold);
}

HoldMargin neck_margin(const FootSection& foot, const Wrench& wrench) {
    const double normal = std::abs(wrench.force.z()) / foot.area +
                          wrench.moment.x() / foot.modulus_x + wrench.moment.y() / foot.modulus_y;
    const double shear = wrench.force.head<2>().norm() / foot.area;
    const double mises = std::sqrt(normal * normal + 3 * shear * shear);
    return {1 - mises / foot.strength, HoldingMode::neck_stress};
}

LoadFactor load_factor(const Hold* hold, const FootSection* foot, const Wrench& own,
                       const Wrench& cut, double up_to) {
    const auto margin_at = [&](double factor) {
        return joint_margin(hold, foot,
                            {own.force + factor * cut.force, own.moment + factor * cut.moment});
    };
    HoldMargin beyond = margin_at(up_to);
    if (beyond.margin >= 0) return {up_to, beyond.mode};
    double low = 0, high = up_to;
    if (const HoldMargin at_rest = margin_at(0); at_rest.margin < 0) return {0, at_rest.mode};
    while (high - low > 1e-9 * high) {
        const double middle = (low + high) / 2;
        const HoldMargin margin = margin_at(middle);
        (margin.margin >= 0 ? low : high) = middle;
        if (margin.margin < 0) beyond = margin;
    }
    return {low, beyond.mode};
}

}  // namespace standfast
