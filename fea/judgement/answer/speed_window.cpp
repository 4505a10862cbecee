#include "fea/judgement/answer/speed_window.hpp"

#include <algorithm>

namespace standfast {
namespace {

// Rounding in units must not put a programmed speed outside its own limit.
constexpr double kSlack = 1 + 1e-9;

SpeedWindow cutting_window(const Cutter& cutter, const std::array<double, 2>& surface_speed) {
    const double radius = cutter.diameter / 2;
    return {{surface_speed[0] / radius}, {surface_speed[1] / radius}};
}

void narrow(SpeedWindow& window, const SpeedWindow& by) {
    window.from = std::max(window.from, by.from);
    window.to = std::min(window.to, by.to);
}

}  // namespace

bool SpeedWindow::contains(SpindleSpeed speed) const {
    return speed.radians_per_second * kSlack >= from.radians_per_second &&
           speed.radians_per_second <= to.radians_per_second * kSlack;
}

SpindleSpeed fastest_allowed(const Machine& machine, const ToolChain& tool) {
    SpindleSpeed fastest = machine.fastest;
    if (tool.speed_max) fastest = std::min(fastest, *tool.speed_max);
    if (tool.taper.kind.speed_limit) {
        fastest = std::min(fastest, SpindleSpeed{*tool.taper.kind.speed_limit});
    }
    return fastest;
}

SpeedWindow offered_window(const Job& job, const Pass& pass) {
    const ToolChain& tool = job.tools[pass.tool];
    SpeedWindow window{job.machine.slowest, fastest_allowed(job.machine, tool)};
    if (pass.speeds) narrow(window, {(*pass.speeds)[0], (*pass.speeds)[1]});
    if (pass.cutting.cutting_speed) {
        narrow(window, cutting_window(tool.cutter, *pass.cutting.cutting_speed));
    } else if (pass.speed) {
        const double programmed = pass.speed->radians_per_second;
        narrow(window, {{programmed * (1 - job.limits.speed_window)},
                        {programmed * (1 + job.limits.speed_window)}});
    }
    return window;
}

std::vector<Finding> judge_speed(const Job& job, const Pass& pass, SpindleSpeed speed) {
    const ToolChain& tool = job.tools[pass.tool];
    std::vector<Finding> findings;
    const SpeedWindow possible{job.machine.slowest, fastest_allowed(job.machine, tool)};
    if (!possible.contains(speed)) {
        findings.push_back(
            {Level::avoid, speed > possible.to ? Reason::overspeed : Reason::cutting_speed});
    }
    if (pass.cutting.cutting_speed &&
        !cutting_window(tool.cutter, *pass.cutting.cutting_speed).contains(speed)) {
        findings.push_back({Level::marginal, Reason::cutting_speed});
    }
    return findings;
}

double cutting_speed_of(const Cutter& cutter, SpindleSpeed speed) {
    return speed.radians_per_second * cutter.diameter / 2;
}

}  // namespace standfast
