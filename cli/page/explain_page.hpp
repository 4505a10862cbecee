#pragma once

#include "cli/page/page.hpp"
#include "cli/report/explain/explained.hpp"
#include "materials/units.hpp"

namespace standfast {

/// The page of explain: what was found, the spectrum with its lines named, whose vibration it is,
/// cures.
ReportPage explain_page(const Explained& explained, UnitSystem units);

/// The spectrum of a recording, thinned to what a screen shows, lines at their full height.
Chart spectrum_chart(const SoundFinding& finding);

}  // namespace standfast
