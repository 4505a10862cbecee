#pragma once

#include <optional>
#include <string>
#include <vector>

#include "fea/judgement/answer/report.hpp"
#include "materials/units.hpp"

namespace standfast {

/// A push by hand and what a dial indicator should then read.
struct IndicatorProof {
    double force = 0;    ///< N
    double reading = 0;  ///< m
};

/// The smallest round push (1-2-5 steps of N, or of lbf) that moves an indicator by 0.010 mm
/// (0.0005 in), and by no more than the cut itself pushes: `most`, N. Where even that reads less
/// than 0.001 mm (0.00005 in), or the side is rigid: none.
/// @param compliance  m/N, square to the wall
std::optional<IndicatorProof> indicator_proof(double compliance, double most, UnitSystem units);

/// How to prove part side and tool side with an indicator, one sentence each; then what a wrong
/// reading means.
std::vector<std::string> proof_sentences(const PassReport& pass, UnitSystem units);

}  // namespace standfast
