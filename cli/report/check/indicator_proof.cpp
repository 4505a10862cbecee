#include "cli/report/check/indicator_proof.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

constexpr double kPoundForce = 4.4482216152605;  // N
/// A hand's push: no more than this is asked for, whatever the cut does.
constexpr double kMostByHand = 200;  // N
/// A part may be pushed and a tool pulled this much even where the cut is lighter.
constexpr double kLeastOnPart = 50, kLeastOnTool = 10;  // N

std::array<double, 5> pushes(UnitSystem units) {
    if (units == UnitSystem::metric) {
        return {10, 20, 50, 100, 200};
    }
    return {2 * kPoundForce, 5 * kPoundForce, 10 * kPoundForce, 20 * kPoundForce, 45 * kPoundForce};
}

double allowed_push(const PassReport& pass, double least) {
    return std::clamp(pass.peak_force.head<2>().norm(), least, kMostByHand);
}

}  // namespace

std::optional<IndicatorProof> indicator_proof(double compliance, double most, UnitSystem units) {
    const bool metric = units == UnitSystem::metric;
    const double easily_read = metric ? 10e-6 : 12.7e-6;
    const double just_read = metric ? 1e-6 : 1.27e-6;
    std::optional<IndicatorProof> proof;
    for (const double force : pushes(units)) {
        if (force > most * 1.001 && proof) {
            break;
        }
        proof = IndicatorProof{.force = force, .reading = force * compliance};
        if (proof->reading >= easily_read) {
            break;
        }
    }
    return proof && proof->reading >= just_read ? proof : std::nullopt;
}

std::vector<std::string> proof_sentences(const PassReport& pass, UnitSystem units) {
    std::vector<std::string> sentences;
    const auto part =
        indicator_proof(pass.statics.work_compliance, allowed_push(pass, kLeastOnPart), units);
    const auto tool =
        indicator_proof(pass.statics.tool_compliance, allowed_push(pass, kLeastOnTool), units);
    if (part) {
        sentences.push_back(fmt::format(
            "Part: push {} square to the wall at the top of the cut, indicator standing on the "
            "spindle head: it should read {}.",
            force_text(part->force, units), error_text(part->reading, units)));
    }
    if (tool) {
        sentences.push_back(
            fmt::format("Tool, spindle locked: push the tip {} the same way, indicator standing on "
                        "the table: {}.",
                        force_text(tool->force, units), error_text(tool->reading, units)));
    }
    if (sentences.empty()) {
        return {"Too stiff to see with an indicator at a push that is safe by hand."};
    }
    sentences.emplace_back("Over twice that: a joint is looser than assumed.");
    return sentences;
}

}  // namespace standfast
