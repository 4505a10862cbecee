#include "fea/chatter/equation/square_corner.hpp"

namespace standfast {
namespace {

constexpr double kSmall = 0.3;
constexpr double kRounding = 1e-9;

}  // namespace

CutterGeometry with_small_corner_square(CutterGeometry cutter, double depth) {
    if (cutter.corner_radius < kSmall * depth * (1 - kRounding)) cutter.corner_radius = 0;
    return cutter;
}

double depth_for_corner(const CutterGeometry& cutter) { return cutter.diameter / 3; }

}  // namespace standfast
