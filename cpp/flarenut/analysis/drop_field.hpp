#pragma once
/// The parts of a plan whose law is opening² · (p₀ − p₁) = drop(flow), with an opening that is given: lines, fittings, filters,
/// pumps, injectors, nearly every part of a circuit. They have no need of a point in all their pressures, nor of a block of slopes:
/// a flow, a drop and a slope tell all. They stand here side by side, so that the passes of a Newton step run over them without
/// asking what they are, and parts of one kind are worked out several at a time in the lanes of the processor
/// (`lanes/drop_kernel.hpp`).

#include <vector>

#include "flarenut/lanes/circuit.hpp"
#include "flarenut/network/plan.hpp"

namespace flarenut::analysis {

using network::Plan;

/// How laws are worked out: in the lanes of the processor where it has fast ones, or one part after the other with the
/// C library's functions, which is the judge of the first. They agree to round-off.
enum class LawsBy { lanes, parts };

class DropField {
 public:
  /// One part, in the order of the field.
  struct Part {
    int branch, flow, from, to;    ///< its flow; its junctions
    int row_from, row_to;          ///< their unknowns; the spare row, `unknown_count()`, where the pressure is held
    std::array<int, 4> slot{};     ///< in the matrix: from-from, from-to, to-from, to-to
    std::size_t place;             ///< in `at`, `drop` and `slope`
    bool has_limit, has_opening;
    double head = 0.0;             ///< of the first port over the second, as pressure
    double opening_squared = 1.0;
    double residual = 0.0;         ///< continued to the iterate
    double shift = 0.0, gain = 0.0;  ///< Δq = shift + gain · Δ(p₀ − p₁), once its own slope is eliminated
  };

  DropField(const Plan& plan, LawsBy laws);

  std::vector<Part>& parts() { return parts_; }
  const std::vector<Part>& parts() const { return parts_; }
  /// Place of a branch in `parts()`; −1 for parts with laws of other forms.
  int place_of(int branch) const { return place_of_[static_cast<std::size_t>(branch)]; }

  /// Takes over what the plan has built anew.
  void renew();
  /// Whether the plan has built nothing anew since, and has nothing to build.
  bool up_to_date() const { return !plan_.stale() && plan_.renewals() == seen_; }
  /// Drops and slopes at the flows `at`.
  void evaluate();

  lanes::Aligned at, drop, slope;

 private:
  /// Parts of one law that are worked out side by side.
  struct Group {
    lanes::Kernel kernel;  ///< that works them out
    int law, packs, numbers;
    std::size_t first_place, first_number;
    std::vector<int> branches;
  };
  void group(const lanes::Kernel& kernel);
  void bundle(const Group& group, std::size_t member);

  const Plan& plan_;
  std::vector<Part> parts_;
  std::vector<int> place_of_;
  std::vector<Group> groups_;
  std::vector<std::size_t> alone_;           ///< parts that are asked one by one
  std::vector<std::pair<int, int>> member_;  ///< by branch: its group and its place there; −1 for others
  lanes::Aligned number_;
  std::vector<double> row_;
  std::int64_t seen_ = -1;
};

}  // namespace flarenut::analysis
