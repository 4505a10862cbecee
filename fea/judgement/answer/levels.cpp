#include "fea/judgement/answer/levels.hpp"

#include <algorithm>
#include <cmath>

#include "fea/judgement/uncertainty/sampling.hpp"

namespace standfast {

Level level_above(double value, double marginal, double avoid) {
    if (value >= avoid) return Level::avoid;
    return value >= marginal ? Level::marginal : Level::unflagged;
}

Finding judge_chatter(double depth, const std::optional<double>& limit, const Limits& limits) {
    if (!limit) return {Level::unflagged, Reason::chatter};
    return {level_above(depth / *limit, limits.chatter_depth_marginal, limits.chatter_depth_avoid),
            Reason::chatter};
}

Finding judge_chatter_odds(double unstable_share, const Limits& limits) {
    return {level_above(unstable_share, limits.chatter_probability_marginal,
                        limits.chatter_probability_avoid),
            Reason::chatter};
}

Level with_rubbing_unmeasured(Level level, Level fresh_edge) {
    return fresh_edge == Level::avoid ? std::max(level, Level::marginal) : level;
}

Finding judge_chatter_tried(double depth, const std::optional<double>& limit, double unstable_share,
                            const Limits& limits) {
    Finding finding = judge_chatter_odds(unstable_share, limits);
    if (!limit || depth < *limit * limits.chatter_depth_avoid) return finding;
    finding.level = std::max(finding.level, Level::marginal);
    return finding;
}

std::optional<double> allowed_error(const Pass& pass) {
    if (pass.tolerance) return *pass.tolerance / 2;
    return pass.leave;
}

Finding judge_error(double error, const Pass& pass, const Limits& limits) {
    if (const std::optional<double> allowed = allowed_error(pass)) {
        return {level_above(std::abs(error) / *allowed, limits.surface_error_marginal,
                            limits.surface_error_avoid),
                Reason::surface_error};
    }
    return {level_above(std::abs(error), limits.deflection_marginal, limits.deflection_avoid),
            Reason::deflection};
}

double share_outside(const WallTries& wall, const Pass& pass, const Limits& limits) {
    const std::optional<double> allowed = allowed_error(pass);
    return wall.share_beyond(allowed ? *allowed * limits.surface_error_avoid
                                     : limits.deflection_avoid);
}

Finding judge_wall_tries(const WallTries& wall, const Pass& pass, const Limits& limits,
                         double caution) {
    const auto count = static_cast<int>(wall.error.size());
    if (count == 0) return {Level::unflagged, Reason::deflection};
    const auto cautious = [&](double share) {
        return share + caution * counting_error(share, count);
    };
    const double outside = cautious(share_outside(wall, pass, limits));
    Finding finding{
        level_above(outside, limits.chatter_probability_marginal, limits.chatter_probability_avoid),
        Reason::surface_error};
    if (allowed_error(pass)) return finding;
    finding.reason = Reason::deflection;
    const double far = cautious(wall.share_beyond(limits.deflection_marginal));
    if (far >= limits.chatter_probability_avoid) {
        finding.level = std::max(finding.level, Level::marginal);
    }
    return finding;
}

Finding judge_resonance(double peak_to_peak, double slow_peak_to_peak, const Limits& limits) {
    if (peak_to_peak < limits.resonance_least) return {Level::unflagged, Reason::resonance};
    // Compared as products: a slow cut that does not move at all has no ratio.
    if (peak_to_peak >= limits.resonance_gain_avoid * slow_peak_to_peak) {
        return {Level::avoid, Reason::resonance};
    }
    if (peak_to_peak >= limits.resonance_gain_marginal * slow_peak_to_peak) {
        return {Level::marginal, Reason::resonance};
    }
    return {Level::unflagged, Reason::resonance};
}

Finding judge_holding_level(const HoldingResult& holding, const Limits& limits) {
    Finding finding{Level::unflagged, Reason::holding};
    const bool any = !holding.joint.empty();
    if (any && holding.mode == HoldingMode::frees_part) return {Level::avoid, Reason::holding};
    // The factor gets worse as it falls.
    if (any && holding.factor < limits.holding_avoid) {
        finding.level = Level::avoid;
    } else if (any && holding.factor < limits.holding_marginal) {
        finding.level = Level::marginal;
    }
    if (!holding.judged) finding.level = std::max(finding.level, Level::marginal);
    return finding;
}

Finding judge_reach_level(const ReachResult& reach) {
    if (!reach.judged) return {Level::unflagged, Reason::reach};
    if (reach.clear) {
        return {reach.rubs.empty() ? Level::unflagged : Level::marginal, Reason::reach};
    }
    return {reach.fault == ReachFault::too_near ? Level::marginal : Level::avoid, Reason::reach};
}

Finding judge_tool_stress_level(const ToolStressResult& stress, const Limits& limits) {
    if (!stress.judged) return {Level::unflagged, Reason::tool_stress};
    return {level_above(stress.stress / stress.allowed, limits.tool_stress_marginal,
                        limits.tool_stress_avoid),
            Reason::tool_stress};
}

Finding judge_whirl(double ratio, const Limits& limits) {
    return {level_above(ratio, limits.whirl_marginal, limits.whirl_avoid), Reason::whirl};
}

Finding judge_power_level(const SpindlePower& power, const Limits& limits) {
    if (!power.judged) return {Level::unflagged, Reason::power};
    return {level_above(power.ratio, limits.power_marginal, limits.power_avoid), Reason::power};
}

Finding judge_weight_level(const WeightResult& weight, const Limits& limits) {
    Finding finding{Level::unflagged, Reason::weight};
    if (weight.allowed) {
        finding.level =
            level_above(weight.mass / *weight.allowed, limits.weight_marginal, limits.weight_avoid);
    }
    if (weight.tilt_moment_allowed) {
        finding.level =
            std::max(finding.level, level_above(weight.tilt_moment / *weight.tilt_moment_allowed,
                                                limits.weight_marginal, limits.weight_avoid));
    }
    return finding;
}

void add_finding(Verdict& verdict, const Finding& finding) {
    if (finding.level == Level::unflagged) return;
    auto& reasons = verdict.reasons;
    if (std::find(reasons.begin(), reasons.end(), finding.reason) != reasons.end()) return;
    if (finding.level > verdict.level) {
        reasons.insert(reasons.begin(), finding.reason);
    } else {
        reasons.push_back(finding.reason);
    }
    verdict.level = std::max(verdict.level, finding.level);
}

Verdict verdict_of(const std::vector<Finding>& findings) {
    Verdict verdict;
    for (const Level level : {Level::avoid, Level::marginal}) {
        for (const Finding& finding : findings) {
            if (finding.level == level) add_finding(verdict, finding);
        }
    }
    return verdict;
}

}  // namespace standfast
