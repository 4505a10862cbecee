#pragma once

#include <vector>

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast {

/// The job with the edits made: what a `set` of an advice means, on plain data.
///
/// Paths (names quoted, sizes by their place in the job file's list):
///     pass."NAME".speed | axial | radial | feed
///     tool."NAME".cutter.stickout | teeth | segments[0].length | pitch[i]    tool."NAME".grip.loss
///     tier."NAME".height | round | tube[i] | block[i] | box[i]    also under .top
///     tier."NAME".joint.width | length | loss    tier."NAME".joint = "solid"
/// @throws std::domain_error naming a path that is not one of these or names nothing in the job
Job with_edits(Job job, const std::vector<Edit>& edits);

/// Paths to the values above.
std::string pass_path(const Pass& pass, const std::string& key);
std::string tool_path(const ToolChain& tool, const std::string& key);
std::string tier_path(const Tier& tier, const std::string& key);

/// Edits that scale the size of a tier's section, its top included (walls keep their thickness);
/// none for a section known by its figures alone.
std::vector<Edit> scaled_section(const Tier& tier, double factor);

}  // namespace standfast
