#pragma once

#include "fea/job/tool_chain.hpp"
#include "fea/job/trade.hpp"

namespace standfast {

/// The tool with another stickout (m). The uppermost segment of a cutter that is spelled out takes
/// up the change. The grip's length follows: with the overall length known, it is what the holder
/// takes of such a shank (ToolChain::grip_full), or all that is left inside where that is less.
/// @throws std::domain_error where nothing is left of the uppermost segment, or to grip
ToolChain with_stickout(ToolChain tool, double stickout);

/// The tool in another holder at the same stickout; the grip's length follows as above.
/// @throws std::domain_error where the holder does not take such a shank, or the stickout leaves
///         less in it than it must grip
ToolChain with_holder(ToolChain tool, const ShelfHolder& holder);

}  // namespace standfast
