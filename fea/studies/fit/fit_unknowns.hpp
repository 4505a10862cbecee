#pragma once

#include <Eigen/Core>
#include <cstddef>
#include <string>
#include <vector>

#include "fea/job/job.hpp"
#include "fea/structure/assembly.hpp"

namespace standfast {

// Study "fit": measurements at the machine -> factors on the stiffness and damping of joints. The
// unknowns are logarithms of factors on named parameters of the assembled systems.

enum class FitQuantity { stiffness, loss };

/// What of the job a factor belongs to.
enum class FitTarget { table, spindle, tier_joint, support, taper, grip };

/// One factor to be found: all six springs of a joint, or its loss factor.
struct FitUnknown {
    std::string name;  ///< "riser joint", "table", "long finisher grip"
    FitQuantity quantity = FitQuantity::stiffness;
    FitTarget target = FitTarget::table;
    std::size_t index = 0;  ///< tier, support or tool of the job
    Spread prior;           ///< what the uncertainty model says of it
    double before = 0;      ///< N/m, lateral along x (else its first spring); or loss factor
};

/// Something that is not known exactly and is not adjusted: moduli, damping of materials, cutting
/// force. It makes the measurements say less.
struct FitNuisance {
    Spread spread;
};

/// Which unknown, or which nuisance, moves each stiffness parameter of a system; -1: none.
struct FitMoves {
    std::vector<int> stiffness, loss;                    ///< index into the unknowns
    std::vector<int> stiffness_nuisance, loss_nuisance;  ///< index into the nuisances
};

struct FitUnknowns {
    std::vector<FitUnknown> list;
    std::vector<FitNuisance> nuisances;
};

/// Adds the joints of a system to the unknowns, each once by name, and its materials to the
/// nuisances. What the uncertainty model holds for certain (factor 1) stays as it is.
/// @param tool  whose system it is; none: a stack's
FitMoves add_unknowns(FitUnknowns& unknowns, const AssembledSystem& system, const Job& job,
                      std::optional<std::size_t> tool);

/// Index of a nuisance by its group, added where it is new; -1 for one without spread.
int nuisance_of(FitUnknowns& unknowns, const Spread& spread);

/// Prior covariance of the logarithms: the spreads of the uncertainty model. Joints of one kind
/// share most of what is not known about them: correlation 0.7 (a judgement, no source), unless an
/// overlay laid over the job says how they hang together.
Eigen::MatrixXd prior_covariance(const FitUnknowns& unknowns, const Job& job);

/// Spread group under which an adjusted unknown is drawn: "joint stiffness: riser joint".
std::string fitted_group(const FitUnknown& unknown);

}  // namespace standfast
