#include "fea/cutting/edge_law.hpp"

namespace standfast {
namespace {

/// v = constant + along_cos cos(angle) + along_sin sin(angle).
struct TurningVector {
    Eigen::Vector3d constant = Eigen::Vector3d::Zero();
    Eigen::Vector3d along_cos = Eigen::Vector3d::Zero();
    Eigen::Vector3d along_sin = Eigen::Vector3d::Zero();
};

/// Direction and size of the force on the tool for unit chip width and coefficients t, r, a.
TurningVector force_direction(const EdgeSlice& slice, bool pulled_to_tip, double tangential,
                              double radial, double axial) {
    const double k_sine = slice.lead_sine, k_cosine = slice.lead_cosine;
    const double pull = pulled_to_tip ? axial : -axial;
    const double inward = radial * k_sine + pull * k_cosine;
    return {.constant = {0, 0, radial * k_cosine - pull * k_sine},
            .along_cos = {-tangential, -inward, 0},
            .along_sin = {-inward, tangential, 0}};
}

}  // namespace

AnglePolynomial<Eigen::Vector3d> force_per_height(const CutterGeometry& cutter,
                                                  const CuttingLaw& law, const EdgeSlice& slice,
                                                  const RadialChip& chip) {
    const TurningVector cut =
        force_direction(slice, cutter.pulled_to_tip, law.tangential, law.radial, law.axial);
    const TurningVector edge = force_direction(slice, cutter.pulled_to_tip, law.tangential_edge,
                                               law.radial_edge, law.axial_edge);
    const double width = slice.width_per_height;
    const double feed = chip.feed * slice.lead_sine * width;
    const double offset = chip.offset * slice.lead_sine * width;
    return {.constant = cut.constant * offset + cut.along_sin * (feed / 2) + edge.constant * width,
            .cos1 = cut.along_cos * offset + edge.along_cos * width,
            .sin1 = cut.along_sin * offset + cut.constant * feed + edge.along_sin * width,
            .cos2 = cut.along_sin * (-feed / 2),
            .sin2 = cut.along_cos * (feed / 2)};
}

AnglePolynomial<Eigen::Matrix3d> force_derivative_per_height(const CutterGeometry& cutter,
                                                             const CuttingLaw& law,
                                                             const EdgeSlice& slice) {
    const TurningVector force =
        force_direction(slice, cutter.pulled_to_tip, law.tangential, law.radial, law.axial);
    const double k_sine = slice.lead_sine, k_cosine = slice.lead_cosine;
    const TurningVector normal{
        .constant = {0, 0, -k_cosine}, .along_cos = {0, k_sine, 0}, .along_sin = {k_sine, 0, 0}};
    const double width = slice.width_per_height;
    const Eigen::Matrix3d cosines = force.along_cos * normal.along_cos.transpose() * width;
    const Eigen::Matrix3d sines = force.along_sin * normal.along_sin.transpose() * width;
    return {
        .constant = force.constant * normal.constant.transpose() * width + (cosines + sines) / 2,
        .cos1 = (force.constant * normal.along_cos.transpose() +
                 force.along_cos * normal.constant.transpose()) *
                width,
        .sin1 = (force.constant * normal.along_sin.transpose() +
                 force.along_sin * normal.constant.transpose()) *
                width,
        .cos2 = (cosines - sines) / 2,
        .sin2 = (force.along_cos * normal.along_sin.transpose() +
                 force.along_sin * normal.along_cos.transpose()) *
                (width / 2)};
}

}  // namespace standfast
