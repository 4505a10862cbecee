#include "cli/report/common/given_words.hpp"

#include <fmt/format.h>

#include <cmath>
#include <numbers>
#include <variant>

#include "cli/report/common/number.hpp"

namespace standfast {
namespace {

constexpr double kInch = 0.0254;

bool is_round(double value, double step) {
    return std::abs(value / step - std::round(value / step)) < 1e-6;
}

/// "3/8 in", "2 1/4 in".
std::string inch_fraction(double metres) {
    const auto parts = static_cast<long>(std::lround(metres / kInch * 64));
    long whole = parts / 64, over = parts % 64, under = 64;
    while (over != 0 && over % 2 == 0) {
        over /= 2;
        under /= 2;
    }
    if (over == 0) return fmt::format("{} in", whole);
    return whole == 0 ? fmt::format("{}/{} in", over, under)
                      : fmt::format("{} {}/{} in", whole, over, under);
}

}  // namespace

std::string degrees_text(double radians) {
    return trimmed(radians * 180 / std::numbers::pi, 2) + " deg";
}

std::string given_length(double metres, UnitSystem units) {
    const std::string text = length_text(metres, units);
    const bool metric_round = is_round(metres, 0.01e-3);
    const bool inch_round = is_round(metres, kInch / 64);
    if (units == UnitSystem::metric && !metric_round && inch_round) {
        return fmt::format("{} ({})", text, inch_fraction(metres));
    }
    if (units == UnitSystem::inch && !is_round(metres, kInch / 1000) && !inch_round &&
        metric_round) {
        return fmt::format("{} ({})", text, length_text(metres, UnitSystem::metric));
    }
    // 12.7 mm is round enough to be read, and still half an inch.
    if (units == UnitSystem::metric && inch_round && !is_round(metres, 0.1e-3)) {
        return fmt::format("{} ({})", text, inch_fraction(metres));
    }
    return text;
}

std::string shape_words(const SectionShape& shape, UnitSystem units) {
    const auto length = [&](double metres) { return given_length(metres, units); };
    struct Words {
        const decltype(length)& of;
        std::string operator()(const RoundShape& s) const {
            return fmt::format("round {}", of(s.diameter));
        }
        std::string operator()(const TubeShape& s) const {
            return fmt::format("tube {} outside, {} inside", of(s.outer), of(s.inner));
        }
        std::string operator()(const BlockShape& s) const {
            return fmt::format("block {} x {}", of(s.x), of(s.y));
        }
        std::string operator()(const BoxShape& s) const {
            return fmt::format("box {} x {}, wall {}", of(s.x), of(s.y), of(s.wall));
        }
        std::string operator()(const GeneralShape& s) const {
            return fmt::format("a section by its figures, drawn {} x {}", of(width_x(s)),
                               of(width_y(s)));
        }
    };
    return std::visit(Words{length}, shape);
}

std::string joint_words(const Joint& joint, UnitSystem units) {
    if (joint.solid) return "one piece with what is below";
    std::string text = joint.kind.name.empty() ? "stiffness as given" : joint.kind.name;
    const auto length = [&](double metres) { return given_length(metres, units); };
    if (joint.dovetail) {
        const Dovetail& tail = *joint.dovetail;
        text += fmt::format(", {} long, neck {}, flanks {}, tail {} high", length(tail.length),
                            length(tail.width), degrees_text(tail.flank), length(tail.depth));
        text += tail.clamp ? ", clamped by " + force_text(*tail.clamp, units)
                           : ", clamp force not given";
    }
    if (joint.jaws) {
        const Jaws& jaws = *joint.jaws;
        text += fmt::format(", jaws {} long, {} gripped, {} apart", length(jaws.length),
                            length(jaws.grip), length(jaws.width));
        text += jaws.clamp ? ", clamped by " + force_text(*jaws.clamp, units)
                           : ", clamp force not given";
    }
    if (joint.screws) {
        text += fmt::format(", {} screws {}", joint.screws->count, length(joint.screws->diameter));
        if (joint.screws->torque) text += " at " + moment_text(*joint.screws->torque, units);
        if (joint.screws->circle) text += " on a circle of " + length(*joint.screws->circle);
    }
    if (joint.preload) text += ", preload " + force_text(*joint.preload, units);
    return text;
}

}  // namespace standfast
