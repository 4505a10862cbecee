#include <Eigen/Core>
#include <array>

#include "fea/structure/assembly.hpp"
#include "fea/structure/check_model.hpp"
#include "fea/structure/element_parts.hpp"

namespace standfast {
namespace {

void add(MassProperties& sum, double mass, const Eigen::Vector3d& place) {
    sum.mass += mass;
    sum.centre += mass * place;
}

/// Simpson's rule: exact for area and first moment where the dimensions go linearly.
void add_run(MassProperties& sum, const BeamRun& run, const std::vector<Eigen::Vector3d>& nodes) {
    const Eigen::Vector3d start = place_of(run.start, nodes);
    const Eigen::Vector3d along = place_of(run.end, nodes) - start;
    constexpr std::array<double, 3> weights{1.0 / 6, 4.0 / 6, 1.0 / 6};
    for (std::size_t i = 0; i < weights.size(); ++i) {
        const double s = static_cast<double>(i) / 2;
        const double area = run.taper ? run.taper(s).area : run.section.area;
        add(sum, weights.at(i) * area * along.norm() * run.material.density, start + s * along);
    }
}

}  // namespace

MassProperties mass_properties(const StructureModel& model) {
    require_sound(model);
    MassProperties sum;
    for (const BeamRun& run : model.beams) add_run(sum, run, model.nodes);
    for (const Lump& lump : model.lumps) add(sum, lump.mass, place_of(lump.at, model.nodes));
    if (sum.mass > 0) sum.centre /= sum.mass;
    return sum;
}

}  // namespace standfast
