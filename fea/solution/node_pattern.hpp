#pragma once

#include <Eigen/Core>
#include <Eigen/SparseCore>
#include <vector>

#include "fea/structure/assembly.hpp"

namespace standfast {

/// Which 6 x 6 blocks of a symmetric factorisation over nodes are not zero, and the order in which
/// the nodes are eliminated: fewest neighbours first, so that a tree of members, however branched,
/// goes from its leaves inward and fills in nothing.
class NodePattern {
public:
    /// @param last_node  kept for the end of the order; kGround: no node is
    explicit NodePattern(const AssembledSystem& system, int last_node = kGround);

    struct Neighbour {
        int node = 0;  ///< eliminated later
        int slot = 0;  ///< of the block with rows of that node and columns of this
    };
    /// target block -= (left block) D^-1 (right block)^T, when a node is eliminated.
    struct Update {
        int left = 0, right = 0, target = 0;
    };

    int node_count() const { return static_cast<int>(later_.size()); }
    int slot_count() const { return slot_count_; }  ///< diagonal blocks first: slot i is node i's
    const std::vector<int>& order() const { return order_; }
    const std::vector<Neighbour>& later(int node) const { return later_[at(node)]; }
    const std::vector<Update>& updates(int node) const { return updates_[at(node)]; }
    bool comes_before(int a, int b) const { return rank_[at(a)] < rank_[at(b)]; }
    /// Slot of the block with rows of `row_node`, which is the later one.
    int slot(int row_node, int column_node) const;

private:
    static std::size_t at(int node) { return static_cast<std::size_t>(node); }

    int slot_count_ = 0;
    std::vector<int> order_, rank_;
    std::vector<std::vector<Neighbour>> later_;
    std::vector<std::vector<Update>> updates_;
};

}  // namespace standfast
