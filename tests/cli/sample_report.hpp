#pragma once

#include "fea/job/job.hpp"
#include "fea/judgement/answer/report.hpp"

namespace standfast::tests {

// A job and its report put together by hand, so that what is printed can be tested without
// computing. The figures are invented and need not agree with each other.

inline Job sample_job() {
    Job job;
    job.title = "Sensor bracket (invented)";
    job.machine.slowest = SpindleSpeed::from_rpm(500);
    job.machine.fastest = SpindleSpeed::from_rpm(12000);
    ToolChain tool;
    tool.name = "long finisher";
    tool.cutter.diameter = 10e-3;
    tool.cutter.teeth = 4;
    tool.cutter.stickout = 58e-3;
    job.tools.push_back(tool);
    Pass pass;
    pass.name = "finish the tall wall";
    pass.radial = 0.3e-3;
    pass.axial = 20e-3;
    pass.feed_per_tooth = 0.06e-3;
    pass.speed = SpindleSpeed::from_rpm(9000);
    pass.tolerance = 0.02e-3;
    pass.cutting.name = "aluminium 6061-T6";
    job.passes.push_back(pass);
    return job;
}

inline SpeedBand band(double from, double to, std::optional<double> limit, Reason reason) {
    return {.from = SpindleSpeed::from_rpm(from),
            .to = SpindleSpeed::from_rpm(to),
            .limit = limit,
            .reason = reason};
}

inline void add_speed_curves(PassReport& pass) {
    pass.stability.searched_to = 60e-3;
    pass.surface.height = {0, 10e-3, 20e-3};
    const double rpm[] = {8000, 9000, 10000};
    const std::optional<double> limit[] = {24e-3, 7.4e-3, std::nullopt};
    for (int i = 0; i < 3; ++i) {
        const SpindleSpeed speed = SpindleSpeed::from_rpm(rpm[i]);
        const bool stable = i != 1;
        pass.stability.speeds.push_back(
            {.speed = speed,
             .limit = limit[i],
             .kind = limit[i] ? std::optional(ChatterKind::quasi_periodic) : std::nullopt,
             .chatter_hertz = limit[i] ? std::optional(1480.0) : std::nullopt,
             .islands = {}});
        pass.surface.speed.push_back(speed);
        pass.surface.error.push_back(stable ? std::optional(0.004e-3) : std::nullopt);
        pass.surface.profile.push_back(stable ? std::vector<double>{0.001e-3, 0.002e-3, 0.004e-3}
                                              : std::vector<double>{});
        pass.surface.peak_to_peak.push_back(stable ? std::optional(0.003e-3) : std::nullopt);
        pass.surface.fed_back.push_back(stable ? std::optional(-0.011e-3) : std::nullopt);
        pass.surface.waviness.push_back(stable ? std::optional(0.2e-6) : std::nullopt);
        pass.speeds.push_back(
            {.speed = speed,
             .level = stable ? Level::unflagged : Level::avoid,
             .reasons = stable ? std::vector<Reason>{} : std::vector{Reason::chatter},
             .offered = stable});
    }
}

inline void add_advice(PassReport& pass) {
    pass.advice.push_back({.kind = AdviceKind::shorter_stickout,
                           .set = {Stickout{"long finisher", 45e-3}},
                           .parts = {},
                           .removal_ratio = std::nullopt,
                           .limit_ratio = 1.93,
                           .error_ratio = 0.61,
                           .level = Level::marginal,
                           .reach_unchecked = true});
    pass.advice.push_back({.kind = AdviceKind::other_speed,
                           .set = {PassSpeed{"finish the tall wall", SpindleSpeed::from_rpm(8040)}},
                           .parts = {},
                           .removal_ratio = std::nullopt,
                           .limit_ratio = 3.2,
                           .error_ratio = std::nullopt,
                           .level = Level::unflagged,
                           .reach_unchecked = false});
    pass.advice.push_back({.kind = AdviceKind::fewer_teeth,
                           .set = {ToothCount{"long finisher", 3}},
                           .parts = {},
                           .removal_ratio = std::nullopt,
                           .limit_ratio = 1.3,
                           .error_ratio = 1.0,
                           .level = Level::avoid,
                           .reach_unchecked = false});
}

inline void add_holding(PassReport& pass) {
    pass.holding = {.judged = true,
                    .factor = 4.1,
                    .joint = "part joint",
                    .mode = HoldingMode::slip,
                    .joints = {{.joint = "part joint",
                                .judged = true,
                                .factor = 4.1,
                                .mode = HoldingMode::slip,
                                .why_not = ""}},
                    .why_not = ""};
    pass.tool_stress = {.judged = true,
                        .stress = 310e6,
                        .allowed = 1100e6,
                        .at_height = 58e-3,
                        .where = "holder face",
                        .why_not = ""};
}

/// A pass that chatters at the programmed speed.
inline PassReport sample_pass() {
    PassReport pass;
    pass.name = "finish the tall wall";
    pass.tool = "long finisher";
    pass.verdict = {.level = Level::avoid, .reasons = {Reason::chatter}};
    pass.gauge_length = 153e-3;
    pass.stickout = 58e-3;
    pass.programmed_speed = pass.judged_speed = SpindleSpeed::from_rpm(9000);
    pass.judged_depth = 20e-3;
    pass.tooth_passing_hertz = 600;
    pass.mean_force = {-12, 30, -8};
    pass.peak_force = {-60, 140, -40};
    pass.engagement = {.entry = 2.79, .exit = 3.14159, .milling = Milling::down};
    pass.tool_modes = {{.frequency_hertz = 1466,
                        .damping_ratio = 0.012,
                        .strain_share = {{"cutter", 0.71}, {"grip", 0.29}}}};
    pass.work_modes = {{.frequency_hertz = 212,
                        .damping_ratio = 0.02,
                        .strain_share = {{"riser joint", 0.6}, {"table", 0.4}}}};
    pass.statics.error = -0.0124e-3;
    pass.statics.tool = {0, 0.009e-3, 0};
    pass.statics.work = {0, -0.0034e-3, 0};
    pass.statics.tool_compliance = 3e-7;
    pass.statics.work_compliance = 6e-8;
    pass.statics.give = {{.member = "cutter", .tool_side = true, .share = 0.52},
                         {.member = "part joint", .tool_side = false, .share = 0.21},
                         {.member = "grip", .tool_side = true, .share = 0.17},
                         {.member = "riser", .tool_side = false, .share = 0.10}};
    pass.at_programmed = {.speed = pass.judged_speed,
                          .limit = 7.4e-3,
                          .kind = ChatterKind::quasi_periodic,
                          .chatter_hertz = 1483.0,
                          .islands = {}};
    pass.low_speed_vibration = 0.002e-3;
    pass.quiet_bands = {band(7841, 8207, 23.6e-3, Reason::chatter)};
    pass.stay_off = {band(8300, 9412, std::nullopt, Reason::chatter)};
    pass.best = {.speed = SpindleSpeed::from_rpm(8040),
                 .depth = 16.4e-3,
                 .level = Level::unflagged,
                 .limit = 23.6e-3};
    pass.weight = {.mass = 8.4,
                   .allowed = std::nullopt,
                   .tilt_moment = 0,
                   .tilt_moment_allowed = std::nullopt};
    add_speed_curves(pass);
    add_advice(pass);
    add_holding(pass);
    return pass;
}

inline JobReport sample_report() {
    JobReport report;
    report.title = "Sensor bracket (invented)";
    report.assumed = {{.path = "tool \"long finisher\".grip.length",
                       .value = 0.03,
                       .quantity = Quantity::length,
                       .text = "three shank diameters",
                       .source = ""},
                      {.path = "tier \"riser\".joint.kind",
                       .value = std::nullopt,
                       .quantity = Quantity::number,
                       .text = "bolted",
                       .source = "common practice"}};
    report.not_judged = {"corners and entries", "toolpath collisions", "moving rotary axes"};
    report.mass = 8.4;
    report.centre_of_mass = {0, 0, 0.11};
    report.passes = {sample_pass()};
    return report;
}

/// The same pass with nothing against it but that nobody judged the hold.
inline PassReport unheld_pass() {
    PassReport pass = sample_pass();
    pass.verdict = {.level = Level::unflagged, .reasons = {}};
    pass.at_programmed.limit = 31e-3;
    pass.error_at_programmed = -0.004e-3;
    pass.vibration_at_programmed = 0.003e-3;
    pass.holding = {};
    pass.holding.why_not = "no clamp force given";
    return pass;
}

}  // namespace standfast::tests
