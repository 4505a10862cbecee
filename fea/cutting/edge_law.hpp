#pragma once

#include <Eigen/Core>

#include "fea/cutting/angle_polynomial.hpp"
#include "fea/cutting/cutter_geometry.hpp"
#include "fea/cutting/cutting_law.hpp"
#include "fea/cutting/edge_slices.hpp"

namespace standfast {

/// Chip in the plane normal to the tool axis: feed sin(angle) + offset, m.
struct RadialChip {
    double feed = 0;
    double offset = 0;  ///< from runout
};

/// Force on the tool per edge height (N/m, tool axes) of a slice that takes this chip, as a
/// polynomial of its angle:
///
///     F = -t Ft - r Fr - a Fa,   h = (feed sin + offset) sin k,  each F_c = (K_c h + K_ce) db/dz
///     t = ( cos, -sin, 0)   r = (sin sin k, cos sin k, -cos k)   a = (sin cos k, cos cos k, sin k)
///
/// For a square corner: Fx = -Ft cos - Fr sin, Fy = Ft sin - Fr cos, Fz = -Fa; a helix of the
/// other hand turns the sign of Fa.
/// Source: Y. Altintas and P. Lee, CIRP Annals 45/1 (1996) 59-64 (from memory).
AnglePolynomial<Eigen::Vector3d> force_per_height(const CutterGeometry& cutter,
                                                  const CuttingLaw& law, const EdgeSlice& slice,
                                                  const RadialChip& chip);

/// Its derivative by the displacement of the tool (N/m^2): the chip grows by r . d.
AnglePolynomial<Eigen::Matrix3d> force_derivative_per_height(const CutterGeometry& cutter,
                                                             const CuttingLaw& law,
                                                             const EdgeSlice& slice);

}  // namespace standfast
