#include "cli/commands/asked_speeds.hpp"

#include <algorithm>

namespace standfast {
namespace {

template <typename Column>
void keep_rows(std::vector<Column>& column, const std::vector<bool>& keep) {
    std::vector<Column> kept;
    for (std::size_t i = 0; i < column.size() && i < keep.size(); ++i) {
        if (keep[i]) {
            kept.push_back(std::move(column[i]));
        }
    }
    column = std::move(kept);
}

void keep_asked(SurfaceErrorMap& surface, const auto& is_asked) {
    std::vector<bool> keep;
    for (const SpindleSpeed speed : surface.speed) {
        keep.push_back(is_asked(speed));
    }
    keep_rows(surface.speed, keep);
    keep_rows(surface.error, keep);
    keep_rows(surface.profile, keep);
    keep_rows(surface.peak_to_peak, keep);
    keep_rows(surface.fed_back, keep);
    keep_rows(surface.waviness, keep);
}

}  // namespace

void keep_asked_speeds(JobReport& report, const std::vector<SpindleSpeed>& asked) {
    if (asked.empty()) {
        return;
    }
    const auto is_asked = [&](SpindleSpeed speed) {
        return std::find(asked.begin(), asked.end(), speed) != asked.end();
    };
    for (PassReport& pass : report.passes) {
        std::erase_if(pass.stability.speeds,
                      [&](const SpeedLimit& limit) { return !is_asked(limit.speed); });
        std::erase_if(pass.speeds, [&](const SpeedLevel& level) { return !is_asked(level.speed); });
        keep_asked(pass.surface, is_asked);
    }
}

}  // namespace standfast
