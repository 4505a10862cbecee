#include "fea/solution/node_pattern.hpp"

#include <algorithm>
#include <set>

namespace standfast {
namespace {

using Graph = std::vector<std::set<int>>;

void connect(Graph& graph, const Eigen::SparseMatrix<double>& shape) {
    for (Eigen::Index column = 0; column < shape.outerSize(); ++column) {
        for (Eigen::SparseMatrix<double>::InnerIterator entry(shape, column); entry; ++entry) {
            const auto row_node = static_cast<int>(entry.row() / 6);
            const auto column_node = static_cast<int>(column / 6);
            if (row_node != column_node) {
                graph[static_cast<std::size_t>(column_node)].insert(row_node);
            }
        }
    }
}

Graph node_graph(const AssembledSystem& system) {
    Graph graph(system.nodes.size());
    for (const auto& parameter : system.stiffness) connect(graph, parameter.shape);
    for (const auto& parameter : system.mass) connect(graph, parameter.shape);
    return graph;
}

/// The node with fewest neighbours among those left; the wanted last one only when it is alone.
int next_node(const Graph& graph, const std::vector<int>& left, int last_node) {
    const auto cost = [&](int node) {
        return node == last_node ? graph.size() : graph[static_cast<std::size_t>(node)].size();
    };
    return *std::min_element(left.begin(), left.end(),
                             [&](int a, int b) { return cost(a) < cost(b); });
}

/// Takes a node out of the graph and joins its neighbours to each other.
std::vector<int> eliminate(Graph& graph, int node) {
    const auto here = static_cast<std::size_t>(node);
    std::vector<int> neighbours(graph[here].begin(), graph[here].end());
    for (const int a : neighbours) {
        std::set<int>& of_a = graph[static_cast<std::size_t>(a)];
        of_a.erase(node);
        for (const int b : neighbours) {
            if (a != b) of_a.insert(b);
        }
    }
    graph[here].clear();
    return neighbours;
}

}  // namespace

NodePattern::NodePattern(const AssembledSystem& system, int last_node)
    : rank_(system.nodes.size()), later_(system.nodes.size()), updates_(system.nodes.size()) {
    Graph graph = node_graph(system);
    std::vector<int> left(system.nodes.size());
    for (std::size_t i = 0; i < left.size(); ++i) left[i] = static_cast<int>(i);
    slot_count_ = static_cast<int>(left.size());
    while (!left.empty()) {
        const int node = next_node(graph, left, last_node);
        rank_[at(node)] = static_cast<int>(order_.size());
        order_.push_back(node);
        left.erase(std::find(left.begin(), left.end(), node));
        for (const int neighbour : eliminate(graph, node)) {
            later_[at(node)].push_back({.node = neighbour, .slot = slot_count_++});
        }
    }
    for (const int node : order_) {
        std::vector<Neighbour>& later = later_[at(node)];
        std::sort(later.begin(), later.end(), [&](const Neighbour& a, const Neighbour& b) {
            return comes_before(a.node, b.node);
        });
        for (std::size_t j = 0; j < later.size(); ++j) {
            for (std::size_t k = 0; k <= j; ++k) {
                updates_[at(node)].push_back({.left = later[j].slot, .right = later[k].slot});
            }
        }
    }
    for (const int node : order_) {
        std::size_t update = 0;
        const std::vector<Neighbour>& later = later_[at(node)];
        for (std::size_t j = 0; j < later.size(); ++j) {
            for (std::size_t k = 0; k <= j; ++k) {
                updates_[at(node)][update++].target = slot(later[j].node, later[k].node);
            }
        }
    }
}

int NodePattern::slot(int row_node, int column_node) const {
    if (row_node == column_node) return row_node;
    for (const Neighbour& neighbour : later(column_node)) {
        if (neighbour.node == row_node) return neighbour.slot;
    }
    return -1;
}

}  // namespace standfast
