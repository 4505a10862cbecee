#include "fea/judgement/reach/reach_scene.hpp"

#include <algorithm>
#include <limits>
#include <stdexcept>

#include "fea/judgement/solids/work_solids.hpp"
#include "fea/stack/stack_model.hpp"

namespace standfast {
namespace {

BoxedSolid boxed(ConvexSolid solid) {
    Eigen::AlignedBox3d box;
    for (const Eigen::Vector3d& corner : corners_around(solid)) box.extend(corner);
    return {std::move(solid), box};
}

ConvexSolid placed(const ToolSolid& step, const CutPlace& place) {
    const Eigen::Vector3d foot = place.tip + step.from * place.axes.col(2);
    return swept({step.name, step.shape, {.origin = foot, .axes = place.axes}}, place.along);
}

std::vector<BoxedSolid> piece_at(const std::vector<ConvexSolid>& piece, const CutPlace& place) {
    std::vector<BoxedSolid> left;
    for (const ConvexSolid& solid : piece) {
        for (const HalfSpace& kept : place.kept) {
            if (auto part = clipped(solid, kept)) left.push_back(boxed(std::move(*part)));
        }
    }
    return left;
}

struct Pair {
    double bound = 0;  ///< m, no margin can be smaller
    std::size_t tool = 0;
    const ConvexSolid* work = nullptr;
    bool along_wall = false;  ///< neck or shank beside the piece
};

std::vector<Pair> pairs_at(const ReachScene& scene, const ReachScene::Place& place,
                           const std::vector<ToolSolid>& tool, const std::vector<BoxedSolid>& steps,
                           double clearance) {
    std::vector<Pair> pairs;
    const auto add = [&](std::size_t i, const BoxedSolid& work, bool along_wall) {
        const double least = steps[i].box.exteriorDistance(work.box) - clearance;
        pairs.push_back({least, i, &work.solid, along_wall});
    };
    for (std::size_t i = 0; i < steps.size(); ++i) {
        for (const BoxedSolid& work : scene.around) add(i, work, false);
        if (tool[i].part == ToolPart::flutes) continue;
        for (const BoxedSolid& work : place.piece) add(i, work, tool[i].part == ToolPart::body);
    }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Pair& a, const Pair& b) { return a.bound < b.bound; });
    return pairs;
}

}  // namespace

ReachScene reach_scene(const Job& job, const Pass& pass) {
    if (pass.tier >= job.stack.tiers.size() || pass.tool >= job.tools.size()) {
        throw std::domain_error("reach of pass \"" + pass.name +
                                "\": its tool or tier does not exist");
    }
    const Stack stack = pass.state ? in_state(job.stack, pass.tier, *pass.state) : Stack(job.stack);
    WorkSolids work = work_solids(job.machine, stack, pass.tier);
    ReachScene scene;
    scene.left_out = std::move(work.left_out);
    for (ConvexSolid& solid : work.around) scene.around.push_back(boxed(std::move(solid)));
    for (CutPlace& place : cut_places(job, pass)) {
        std::vector<BoxedSolid> piece = piece_at(work.piece, place);
        scene.places.push_back({std::move(place), std::move(piece)});
    }
    return scene;
}

Gap nearest_gap(const ReachScene& scene, const std::vector<ToolSolid>& tool,
                const SolidDistance& distance, double clearance, Search ends) {
    Gap nearest{.distance = std::numeric_limits<double>::max(), .clearance = clearance};
    for (const ReachScene::Place& place : scene.places) {
        std::vector<BoxedSolid> steps;
        for (const ToolSolid& step : tool) steps.push_back(boxed(placed(step, place.place)));
        for (const Pair& pair : pairs_at(scene, place, tool, steps, clearance)) {
            if (pair.bound >= nearest.margin()) break;
            const ToolSolid& step = tool[pair.tool];
            const double gap = distance.between(steps[pair.tool].solid, *pair.work);
            if (pair.along_wall && gap > 0) {
                if (gap < place.place.back + kRelief) nearest.rubs = step.name;
                continue;
            }
            if (gap - clearance >= nearest.margin()) continue;
            nearest.distance = gap;
            nearest.tool = step.name;
            nearest.work = pair.work->name;
            if (ends == Search::at_first_fault && !nearest.clear()) return nearest;
        }
    }
    return nearest;
}

}  // namespace standfast
