#pragma once

#include "fea/studies/sound/recording.hpp"

namespace standfast {

/// Share of samples that stand in runs of two and more at the recording's largest magnitude: what
/// a recorder does that is driven too hard.
double clipped_share(const Recording& recording);

}  // namespace standfast
