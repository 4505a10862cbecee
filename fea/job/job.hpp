#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/job/limits.hpp"
#include "fea/job/machine.hpp"
#include "fea/job/measured.hpp"
#include "fea/job/pass.hpp"
#include "fea/job/tier.hpp"
#include "fea/job/tool_chain.hpp"
#include "fea/job/trade.hpp"
#include "fea/job/uncertainty.hpp"
#include "materials/units.hpp"

namespace standfast {

/// Something the job did not say and the program supplied.
struct Assumption {
    std::string path;             ///< "tier \"riser\".joint.kind"
    std::optional<double> value;  ///< SI, with quantity; none: see text
    Quantity quantity = Quantity::number;
    std::string text;    ///< value in words where it is not a number, and the reason
    std::string source;  ///< of a catalogue row; else empty
};

/// A whole job as plain data.
struct Job {
    std::string title;
    Machine machine;
    Stack stack;
    std::vector<ToolChain> tools;
    std::vector<Pass> passes;
    std::vector<ShelfRiser> shelf;
    std::vector<ShelfHolder> holders;  ///< on the shelf
    std::optional<Trade> trade;
    Limits limits;
    Uncertainty uncertainty;
    std::vector<Measured> measured;
    std::optional<FittedTogether> fitted;  ///< of the overlays laid over it
    /// How what the overlay was measured on differs from this job; clauses, "riser 210 mm high
    /// there, 150 mm here". Empty: nothing known to differ
    std::vector<std::string> measured_elsewhere;
    std::vector<Assumption> assumed;
};

}  // namespace standfast
