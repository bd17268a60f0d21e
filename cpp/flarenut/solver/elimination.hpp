#pragma once
/// In what order to eliminate the unknowns of a symmetric matrix, and what that does to the rest of it.

#include <span>
#include <vector>

namespace flarenut::solver {

/// Who is joined to whom, both ways, each once, without itself: neighbours of i are `index[start[i]] … index[start[i + 1]]`.
struct Adjacency {
  std::vector<int> start, index;
  int size() const { return static_cast<int>(start.size()) - 1; }
  std::span<const int> of(int i) const {
    const auto k = static_cast<std::size_t>(i);
    return std::span(index).subspan(static_cast<std::size_t>(start[k]), static_cast<std::size_t>(start[k + 1] - start[k]));
  }
};

/// Edge e joins `from[e]` and `to[e]`; one that meets −1 or itself counts for nothing.
Adjacency adjacency_of(int size, std::span<const int> from, std::span<const int> to);

/// An order that keeps the fill small: entry k is eliminated in step k.
std::vector<int> small_fill_order(const Adjacency& joined);

/// The tree of elimination: `parent[k]` is the first later step that step k changes, −1 for none; `count[k]` how many entries
/// column k of the factor has, the diagonal included.
struct EliminationTree {
  std::vector<int> parent, count;
};
/// Of that order, which is changed to another that eliminates just as well and in which each step follows those it depends on
/// immediately, the largest last.
EliminationTree elimination_tree(const Adjacency& joined, std::vector<int>& order);

}  // namespace flarenut::solver
