#pragma once
/// Rows of a batch, prepared for the lanes several at a time. A part whose numbers vary is made of packs, a row in each lane, by the
/// same constructor as ever; a lane that takes a row copies the doubles that the part is made of. What cannot be prepared so (a
/// temperature, a pressure, a part that the lanes don't know) is the **rest**, which goes through the lane's own plan.

#include <vector>

#include "flarenut/analysis/batch_task.hpp"
#include "flarenut/analysis/lane_layout.hpp"
#include "flarenut/analysis/lane_reference.hpp"

namespace flarenut::analysis {

class LaneRows {
 public:
  /// Rows that stand ready for one lane.
  struct Group {
    std::size_t first = 0, end = 0;  ///< rows
    unsigned sound = 0;              ///< bit per row: it may be taken
    lanes::Aligned numbers, starts;
    lanes::Aligned moved;            ///< the reference's unknowns, moved to each row
    bool has_moved = false;          ///< they are worked out once a row asks for them
    lanes::Aligned pressures;        ///< of gauges, by row
  };

  /// `pack`: whether anything may be prepared here; the plan must then be up to date.
  LaneRows(const network::Plan& plan, const BatchTask& task, const LaneLayout& layout, const LaneReference& reference,
           const lanes::Kernel& kernel, bool pack);

  Group group() const;
  /// Makes as many rows ready as there is room for, from `first` on and before `end`.
  void prepare(Group& group, std::size_t first, std::size_t end);
  bool sound(const Group& group, std::size_t row) const { return (group.sound >> (row - group.first) & 1U) != 0; }
  /// Brings a row of the group into a lane.
  void bring(const Group& group, std::size_t row, lanes::State& state, int lane) const;
  /// Flows with which its parts begin, by the plan's flows.
  void bring_starts(const Group& group, std::size_t row, double* start) const;
  /// The reference's unknowns, moved to a row of the group, to these places of a lane.
  void bring_moved(Group& group, std::size_t row, lanes::State& state, int lane, const std::vector<int>& places);
  /// Rows of the group as they are, a pack for each column of the task.
  const double* values(const Group& group);

  const std::vector<int>& rest() const { return rest_; }
  /// Their values in a row.
  const double* rest_of(std::size_t row);
  /// Parts that are prepared here, and junctions of given pressure that are.
  const std::vector<int>& parts() const { return parts_; }
  const std::vector<int>& junctions() const { return junctions_; }
  /// Where in a lane their numbers and pressures go.
  const std::vector<int>& places() const { return place_; }
  std::vector<int> gauge_places() const;

 private:
  struct Packed {
    int law = 0;
    fluids::LiquidState<> liquid;
    lanes::Aligned fields;                      ///< of its spec, a pack each
    std::vector<std::pair<int, int>> varied;    ///< column of the task, field
    std::size_t numbers = 0;                    ///< where it stands in the group
    bool like_before = false;                   ///< law and liquid are those of the part before
  };
  void gather(std::size_t first, std::size_t count);
  bool try_to_pack(const network::Plan& plan, const LaneLayout& layout, int part);

  const BatchTask& task_;
  const lanes::Kernel& kernel_;
  const LaneReference& reference_;
  lanes::Aligned values_;                       ///< of the rows from `gathered_` on, a pack for each column of the task
  std::size_t gathered_ = nothing;
  static constexpr std::size_t nothing = static_cast<std::size_t>(-1);
  std::vector<Packed> packed_;
  struct Gauge {
    std::size_t column = 0;
    network::Junction junction;
    int place = 0;
  };
  std::vector<Gauge> gauges_;
  std::vector<int> junctions_;
  double ambient_ = 0.0;
  std::vector<int> parts_, first_flow_;
  std::vector<int> place_;                      ///< of each number of the group in the state
  std::vector<int> rest_, rest_column_;
  std::vector<double> rest_values_;
};

}  // namespace flarenut::analysis
