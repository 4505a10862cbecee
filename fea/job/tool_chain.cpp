#include "fea/job/tool_chain.hpp"

#include <numeric>

namespace standfast {

double stickout_of(const Cutter& cutter) {
    if (cutter.stickout > 0 || cutter.segments.empty()) return cutter.stickout;
    return std::accumulate(
        cutter.segments.begin(), cutter.segments.end(), 0.0,
        [](double sum, const CutterSegment& segment) { return sum + segment.length; });
}

double gauge_length(const ToolChain& tool) {
    return std::accumulate(tool.holder.begin(), tool.holder.end(), stickout_of(tool.cutter),
                           [](double sum, const HolderStep& step) { return sum + step.length; });
}

}  // namespace standfast
