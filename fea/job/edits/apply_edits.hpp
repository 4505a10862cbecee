#pragma once

#include <vector>

#include "fea/job/edits/edit.hpp"

namespace standfast {

/// The job with a change made, and with everything that follows from it: what stands at a changed
/// tier's side (beside_tier.hpp), the shank in the grip (tool_edits.hpp), the feed of a pass that
/// leans (PassTilt: it keeps its direction in the stack as far as the tool's new axis lets it).
///
/// A job's measurements and what its overlay was measured on stay as they are.
/// @throws std::domain_error naming a tier, tool or pass that is not in the job, or that more than
///         one in it is called; where a size is not physical, the height of a rigid body is to
///         change, something at a tier's side would come below its foot, a shelf's riser is to
///         replace a tier that a pass cuts, a joint is no dovetail, a stickout leaves no shank to
///         grip, a holder does not take such a shank, or a pass would feed along its tool
Job edited(Job job, const Edit& edit);
Job edited(Job job, const std::vector<Edit>& edits);

/// Place of a tier, tool or pass by its name.
/// @throws std::domain_error where none or more than one is called so
std::size_t tier_named(const Job& job, const std::string& name);
std::size_t tool_named(const Job& job, const std::string& name);
std::size_t pass_named(const Job& job, const std::string& name);

}  // namespace standfast
