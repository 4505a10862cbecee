#include "fea/chatter/limits/describe_limit.hpp"

#include <cmath>
#include <numbers>

namespace standfast {

void describe_limit(const PeriodMap& map, const MapEigenpair& motion, SpeedLimit& limit) {
    const bool doubling = std::abs(std::arg(motion.value)) > std::numbers::pi - 1e-6;
    limit.kind = doubling ? ChatterKind::period_doubling : ChatterKind::quasi_periodic;
    limit.chatter_hertz = map.strongest_line(motion.value, motion.vector);
}

}  // namespace standfast
