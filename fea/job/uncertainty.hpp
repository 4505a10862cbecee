#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>

namespace standfast {

/// A 10-90 % factor for everything of a sort, and others for some of it by name.
struct SpreadFactors {
    std::optional<double> all;
    std::map<std::string, double> by_name;  ///< "dovetail", "BT40", "aluminium 6061-T6"

    /// The factor for a name: its own, else that of all; none where the job says neither.
    std::optional<double> of(const std::string& name) const {
        const auto found = by_name.find(name);
        return found == by_name.end() ? all : std::optional<double>(found->second);
    }
};

/// What a job says of its own about how well things are known: 10-90 % factors (90 % quantile over
/// median, >= 1; 1: certain) in place of those that come with catalogue, data and given numbers.
/// Names are those of the rows; "given" stands for joints given by numbers.
struct Uncertainty {
    SpreadFactors joint_stiffness, joint_loss;  ///< between tiers, and supports
    SpreadFactors table_stiffness, spindle_stiffness;
    SpreadFactors table_mass, spindle_mass;
    SpreadFactors table_split, spindle_split;  ///< of the frequencies along x and y, one over other
    SpreadFactors taper_stiffness, grip_stiffness;
    SpreadFactors modulus, loss;  ///< of materials
    SpreadFactors cutting_force;
    SpreadFactors measured_stiffness, measured_damping;  ///< of measured modes: "tool", "stack"
    SpreadFactors runout;                                ///< by tool
    /// m, in all, that a tool's stickout is set within; none: it is exactly as given.
    std::optional<double> stickout;
    std::optional<int> draws;
    std::optional<std::uint64_t> seed;
};

}  // namespace standfast
