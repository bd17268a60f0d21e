#pragma once
/// Takes rows of a batch near their answers, as many side by side as there is room for: `steps` Newton steps of the same equations in
/// single precision, where the processor works on twice as many rows at once, and one in double precision, which tells which rows are
/// done. Most are. The others come into a lane and go on from there.
///
/// Single precision is where a row starts and nothing more: what is accepted has been evaluated in double precision. A row that strays
/// (a number that is none) starts in its lane as it would have started without. Rows know nothing of each other.

#include <memory>
#include <vector>

#include "flarenut/analysis/lane_layout.hpp"
#include "flarenut/analysis/lane_points.hpp"
#include "flarenut/analysis/lane_rows.hpp"

namespace flarenut::analysis {

class LaneApproach {
 public:
  /// Fewer leave more rows to the lanes, more go below what single precision tells apart: found by trial.
  static constexpr int steps = 3;

  /// Nothing where rows cannot start from a reference, or change what is not prepared in packs, or where some part is asked lane by
  /// lane.
  static std::unique_ptr<LaneApproach> make(const network::Plan& plan, const BatchTask& task, const LaneLayout& layout,
                                            const LaneReference& reference, const LaneRows& rows, const LanePoints& points,
                                            const lanes::Kernel& kernel);

  LaneApproach(const LaneApproach&) = delete;
  LaneApproach& operator=(const LaneApproach&) = delete;

  /// Takes over the numbers of a lane that no row changes.
  void hold(const lanes::State& state, int lane);
  /// Takes the first rows near, as many as there is room for: two groups. Tells how many it needed.
  int run(LaneRows& rows, std::size_t first, std::size_t end);
  const LaneRows::Group& group(int half) const { return groups_[static_cast<std::size_t>(half)]; }
  /// The rows of a group as they came out, one in each lane. Accepted are those that are done.
  const lanes::State& found(int half) const { return found_[static_cast<std::size_t>(half)]; }

  /// What a row takes with it into a lane; false where it strayed.
  bool keep(int half, int column, std::vector<double>& kept) const;
  void bring(const double* kept, lanes::State& state, int lane) const;

 private:
  LaneApproach(LaneLayout single, const LaneLayout& layout, const LaneReference& reference, const LaneRows& rows, const LanePoints& points,
               const lanes::Kernel& kernel);
  void take_moves(const lanes::Moves& moves);
  int across(int place) const;
  std::vector<int> across(std::vector<int> places) const;
  void start(LaneRows& rows, const LaneRows::Group& group, int half);
  void stand_at_start();
  void arrive(const LaneRows::Group& group, int half);

  const lanes::Kernel& kernel_;
  const lanes::Circuit& circuit_;
  LaneLayout layout_;                ///< in single precision
  const lanes::Circuit& single_;     ///< of it
  lanes::SingleState state_;
  std::vector<lanes::State> found_;
  std::vector<LaneRows::Group> groups_;
  std::vector<int> steps_;           ///< places that tell how far the last step moved each flow
  lanes::AlignedOf<float> bend_, values_, moved_;
  std::vector<float> from_, unmoved_, least_, most_, slope_;  ///< of the reference
  std::vector<int> columns_;         ///< places among `values_`
  std::vector<int> numbers_, gauges_, carried_, kept_;        ///< places; the last: of what a row takes with it
  std::vector<int> single_numbers_, single_gauges_, single_unknowns_, single_carried_;
  LanePoints points_;                ///< places in single precision
};

}  // namespace flarenut::analysis
