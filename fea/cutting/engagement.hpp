#pragma once

#include "fea/job/pass.hpp"

namespace standfast {

// Room "cutting": where the edges cut and with what force. Tooth angle phi from +y of the tool
// axes (x feed, y normal to feed), growing with rotation; force is that on the tool; displacement
// is tool minus part.

/// Angles between which a tooth cuts, rad; 0 <= entry < exit <= pi.
struct Engagement {
    double entry = 0, exit = 0;
    Milling milling = Milling::down;
};

/// Up: entry 0, exit acos(1 - 2 ae/D). Down: entry acos(2 ae/D - 1), exit pi. Slot: 0 to pi.
/// @throws std::domain_error unless 0 < radial <= diameter
/// Source: geometry; reference values in tests.
Engagement engagement(Milling milling, double radial, double diameter);

/// Mean chip over the engagement, m: fz (cos entry - cos exit)/(exit - entry).
double mean_chip(const Engagement& engagement, double feed_per_tooth);

}  // namespace standfast
