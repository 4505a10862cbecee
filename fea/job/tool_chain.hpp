#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/joint.hpp"
#include "fea/job/measured_mode.hpp"
#include "fea/quantities/quantities.hpp"
#include "materials/material.hpp"

namespace standfast {

/// One step of a holder, from the gauge line down.
struct HolderStep {
    double diameter = 0, diameter_to = 0;  ///< m, at its spindle end and its tip end
    double length = 0;                     ///< m
    Material material;
    double extra_mass = 0;     ///< kg, a nut at its tip end
    double extra_inertia = 0;  ///< kg m^2, transverse, about the nut's centre
};

/// A cylinder of a cutter that is spelled out, from the holder face to the tip.
struct CutterSegment {
    double diameter = 0, length = 0;  ///< m
    Material material;
};

/// A milling cutter.
struct Cutter {
    double diameter = 0;  ///< m
    int teeth = 0;
    double helix = 0;                           ///< rad
    double corner_radius = 0;                   ///< m; diameter / 2: ball nose
    double flute_length = 0;                    ///< m
    double shank_diameter = 0;                  ///< m
    double stickout = 0;                        ///< m, holder face to tip
    std::optional<double> overall;              ///< m
    double neck_diameter = 0, neck_length = 0;  ///< m; 0: no neck
    Material material;
    double runout = 0;          ///< m, indicator reading at the edges
    std::vector<double> pitch;  ///< rad, tooth to tooth, sums to 2 pi; empty: equal
    bool right_hand = true;
    std::vector<CutterSegment> segments;  ///< not empty: the cutter as given, no flute reduction
    /// Equivalent diameter of the fluted part as a fraction of the diameter (Kops & Vo 1990: 0.80).
    double flute_factor = 0.80;
};

/// Spindle taper to cutter tip.
struct ToolChain {
    std::string name;
    bool rigid = false;
    std::vector<MeasuredMode> modes;  ///< not empty: used instead of the chain; spindle axes
    std::vector<HolderStep> holder;
    bool holder_assumed = false;  ///< a typical holder stands in: reach is not judged
    Joint taper, grip;
    double grip_length = 0;  ///< m of shank inside the holder
    /// m, that the holder takes of such a shank where there is enough of it; none: grip_length is
    /// what the job gives
    std::optional<double> grip_full;
    std::optional<double> grip_least;  ///< m, least length that must be gripped
    Cutter cutter;
    std::optional<SpindleSpeed> speed_max;
};

/// Holder face to tip, m: as given, or the sum of the segments where no stickout is given.
double stickout_of(const Cutter& cutter);
/// Spindle gauge line to tip, m: holder steps and stickout.
double gauge_length(const ToolChain& tool);

}  // namespace standfast
