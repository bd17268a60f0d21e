#include "flarenut/solver/elimination.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>

namespace flarenut::solver {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

std::vector<int> inverse_of(const std::vector<int>& order) {
  std::vector<int> step(order.size());
  for (std::size_t k = 0; k < order.size(); ++k) step[at(order[k])] = static_cast<int>(k);
  return step;
}

/// Liu's algorithm: the tree from the matrix alone, with short cuts through ancestors already found.
std::vector<int> parents(const Adjacency& joined, const std::vector<int>& order, const std::vector<int>& step) {
  std::vector<int> parent(order.size(), -1), ancestor(order.size(), -1);
  for (int k = 0; k < joined.size(); ++k)
    for (int neighbour : joined.of(order[at(k)]))
      for (int i = step[at(neighbour)]; i >= 0 && i < k;) {
        const int up = ancestor[at(i)];
        ancestor[at(i)] = k;
        if (up < 0) parent[at(i)] = k;
        i = up;
      }
  return parent;
}

/// Entries of each column: row k has one in every column between its own entries and k along the tree.
std::vector<int> counts(const Adjacency& joined, const std::vector<int>& order, const std::vector<int>& step, const std::vector<int>& parent) {
  std::vector<int> count(order.size(), 1), seen(order.size(), -1);
  for (int k = 0; k < joined.size(); ++k) {
    seen[at(k)] = k;
    for (int neighbour : joined.of(order[at(k)]))
      for (int i = step[at(neighbour)]; i < k && seen[at(i)] != k; i = parent[at(i)]) {
        ++count[at(i)];
        seen[at(i)] = k;
      }
  }
  return count;
}

/// New places of the steps: children before their parent, the largest of them next to it.
std::vector<int> postorder(const std::vector<int>& parent, const std::vector<int>& count) {
  const auto n = parent.size();
  std::vector<int> by_count(n), child(n + 1, -1), sibling(n, -1), result;
  for (std::size_t i = 0; i < n; ++i) by_count[i] = static_cast<int>(i);
  std::stable_sort(by_count.begin(), by_count.end(), [&](int a, int b) { return count[at(a)] > count[at(b)]; });
  for (int i : by_count) {  // largest first, so that it ends up last in the list that is filled from the front
    const std::size_t up = parent[at(i)] < 0 ? n : at(parent[at(i)]);
    sibling[at(i)] = child[up];
    child[up] = i;
  }
  result.reserve(n);
  std::vector<int> stack;
  for (int root = child[n]; root >= 0; root = sibling[at(root)]) {
    stack.push_back(root);
    while (!stack.empty()) {
      const int here = stack.back(), below = child[at(here)];
      if (below >= 0) {
        child[at(here)] = sibling[at(below)];
        stack.push_back(below);
      } else {
        result.push_back(here);
        stack.pop_back();
      }
    }
  }
  return result;
}

}  // namespace

Adjacency adjacency_of(int size, std::span<const int> from, std::span<const int> to) {
  Adjacency joined;
  auto& start = joined.start;
  start.assign(at(size) + 1, 0);
  const auto each = [&](auto&& action) {
    for (std::size_t e = 0; e < from.size(); ++e)
      if (from[e] >= 0 && to[e] >= 0 && from[e] != to[e]) action(at(from[e]), at(to[e]));
  };
  each([&](std::size_t a, std::size_t b) { ++start[a + 1], ++start[b + 1]; });
  for (std::size_t i = 0; i < at(size); ++i) start[i + 1] += start[i];
  joined.index.resize(at(start.back()));
  std::vector<int> next(start.begin(), start.end() - 1);
  each([&](std::size_t a, std::size_t b) {
    joined.index[at(next[a]++)] = static_cast<int>(b);
    joined.index[at(next[b]++)] = static_cast<int>(a);
  });
  int kept = 0;
  for (std::size_t i = 0; i < at(size); ++i) {  // sort each row, drop repeats
    const auto begin = joined.index.begin() + start[i], end = joined.index.begin() + start[i + 1];
    std::sort(begin, end);
    const auto last = std::unique(begin, end);
    start[i] = kept;
    kept += static_cast<int>(std::move(begin, last, joined.index.begin() + kept) - (joined.index.begin() + kept));
  }
  start[at(size)] = kept;
  joined.index.resize(at(kept));
  return joined;
}

std::vector<int> small_fill_order(const Adjacency& joined) {
  using Pattern = Eigen::SparseMatrix<float>;
  if (joined.size() == 0) return {};
  Pattern lower(joined.size(), joined.size());
  lower.resizeNonZeros(static_cast<Eigen::Index>(joined.index.size() / 2) + joined.size());
  int next = 0;
  for (int i = 0; i < joined.size(); ++i) {
    const auto put = [&](int row) {
      lower.innerIndexPtr()[next] = row;
      lower.valuePtr()[next++] = 1.0F;
    };
    lower.outerIndexPtr()[i] = next;
    put(i);
    for (int neighbour : joined.of(i))
      if (neighbour > i) put(neighbour);
  }
  lower.outerIndexPtr()[joined.size()] = next;
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, int> permutation;
  Eigen::AMDOrdering<int>()(lower.selfadjointView<Eigen::Lower>(), permutation);
  const int* const first = permutation.indices().data();
  return std::vector<int>(first, first + joined.size());
}

EliminationTree elimination_tree(const Adjacency& joined, std::vector<int>& order) {
  std::vector<int> step = inverse_of(order);
  EliminationTree tree;
  tree.parent = parents(joined, order, step);
  tree.count = counts(joined, order, step, tree.parent);
  const std::vector<int> old_step = postorder(tree.parent, tree.count);
  const std::vector<int> new_step = inverse_of(old_step);
  EliminationTree turned{std::vector<int>(order.size()), std::vector<int>(order.size())};
  std::vector<int> new_order(order.size());
  for (std::size_t k = 0; k < order.size(); ++k) {
    const auto old = at(old_step[k]);
    new_order[k] = order[old];
    turned.count[k] = tree.count[old];
    turned.parent[k] = tree.parent[old] < 0 ? -1 : new_step[at(tree.parent[old])];
  }
  order.swap(new_order);
  return turned;
}

}  // namespace flarenut::solver
