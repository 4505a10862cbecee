#pragma once

#include <array>
#include <numbers>

#include "fea/stack/joint_stiffness.hpp"
#include "tests/fea/stack/sample_stack.hpp"

namespace standfast::solid {

// Joints as solid models: 3-D finite elements (10-node tetrahedra, gmsh 4.8.4 meshes; dovetails
// checked against CalculiX 2.20 to 1e-5) less Timoshenko beams of the same bodies, at the joint's
// plane. Computed for this project, 2026-11. "Bonded": one piece over the zone. "Frozen": a layer
// that gives by the contact law of ground faces at 2.5 MPa, 1.523 and 0.5825 N/um/mm2; "poor": by
// that of faces scraped to 5-12 spots, 0.565 and 0.216. "Rooted": the law carried on with the root
// of the pressure, 35-58 MPa in cones, far beyond its data.

enum class Layer { bonded, frozen, poor };

/// N/um/mm2, normal and tangential.
inline ContactStiffness layer_figures(Layer layer) {
    if (layer == Layer::frozen) return {.normal = 1.523e12, .tangential = 0.5825e12};
    if (layer == Layer::poor) return {.normal = 0.565e12, .tangential = 0.216e12};
    return {.normal = 1e18, .tangential = 1e18};
}

struct Foot {
    const char* name;
    SectionShape shape;
    bool aluminium;
    double circle;  ///< m, of its four M12
    Layer layer;
    double lateral, vertical, tilting, twisting;  ///< N/um, N/um, MN m/rad, MN m/rad
    double area;                                  ///< mm2 of cones
};

/// A foot on a steel plate, pressed together under four M12 alone.
inline const std::array<Foot, 9> kFeet{{
    {"steel 100", RoundShape{0.1}, false, 0.076, Layer::bonded, 31700, 52910, 33.82, 42.12, 3379},
    {"steel 100", RoundShape{0.1}, false, 0.076, Layer::frozen, 1824, 4582, 3.191, 2.574, 3378},
    {"steel 100", RoundShape{0.1}, false, 0.076, Layer::poor, 708.6, 1823, 1.277, 0.998, 3384},
    {"aluminium 100", RoundShape{0.1}, true, 0.076, Layer::bonded, 21130, 36750, 24.19, 30.47,
     3379},
    {"aluminium 100", RoundShape{0.1}, true, 0.076, Layer::frozen, 1730, 4282, 2.988, 2.497, 3378},
    {"tube 110/70", TubeShape{0.11, 0.07}, false, 0.09, Layer::bonded, 21220, 36310, 34.48, 48.36,
     2409},
    {"tube 110/70", TubeShape{0.11, 0.07}, false, 0.09, Layer::frozen, 1209, 3251, 3.367, 2.739,
     2428},
    {"steel 80x80", BlockShape{0.08, 0.08}, false, 0.062, Layer::bonded, 39710, 76590, 39.22, 41.91,
     4003},
    {"steel 80x80", BlockShape{0.08, 0.08}, false, 0.062, Layer::frozen, 2164, 5530, 3.157, 2.477,
     4007},
}};

struct Tail {
    double length, neck, depth;  ///< m
    bool aluminium, seated;
    /// N/um along x, y, z, MN m/rad about x; jaws on screws, 18 kN: poor, frozen, rooted
    std::array<double, 4> poor, frozen, rooted;
};

/// Flank 60 deg, on a steel clamp, part of steel or aluminium.
inline const std::array<Tail, 4> kTails{{
    {0.060,
     0.032,
     0.004,
     false,
     false,
     {64.3, 126.4, 89.5, 0.0262},
     {188.1, 331.6, 230.7, 0.072},
     {795.6, 1174, 812.2, 0.2555}},
    {0.060,
     0.032,
     0.004,
     false,
     true,
     {466.2, 513.7, 1141, 0.1402},
     {1375, 1455, 3249, 0.3781},
     {2701, 2952, 5369, 0.6675}},
    {0.060,
     0.032,
     0.004,
     true,
     false,
     {62.97, 124.1, 85.65, 0.02515},
     {177.2, 314.7, 209.4, 0.06461},
     {637.3, 960.2, 629.5, 0.1842}},
    {0.060,
     0.032,
     0.004,
     true,
     true,
     {446.5, 492.7, 1084, 0.1293},
     {1221, 1308, 2858, 0.3127},
     {2137, 2403, 4372, 0.4838}},
}};

struct Vice {
    double length, width, grip;  ///< m
    bool seated;
    std::array<double, 3> frozen;  ///< N/um along x, y, z
    std::array<double, 3> rooted;  ///< 0: not computed
};

/// Parts of 6061 between steel jaws, 25 kN.
inline const std::array<Vice, 4> kVices{{
    {0.1, 0.075, 0.008, false, {622.9, 866.0, 667.6}, {1215, 1222, 1416}},
    {0.1, 0.075, 0.008, true, {995.0, 965.6, 1656}, {1793, 1401, 3008}},
    {0.1, 0.075, 0.016, false, {1090, 1391, 1155}, {0, 0, 0}},
    {0.075, 0.05, 0.008, true, {735.1, 730.7, 1473}, {0, 0, 0}},
}};

inline JointFace face(const SectionShape& shape, bool aluminium) {
    return {.shape = shape,
            .material = aluminium ? sample::aluminium_6061() : sample::steel_4140()};
}

}  // namespace standfast::solid
