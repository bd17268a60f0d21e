#pragma once
/// One thread's share of a batch, several rows side by side in the lanes of the processor.
///
/// Each lane works through a block of its own, from the plan of its own, and takes the next block when it is done: it never
/// waits for the others, and nothing it does depends on them. A row that does not converge in the lane within
/// `most_iterations`, or whose answer must be explained, is solved anew by the single solver with its whole ladder.

#include <memory>

#include "flarenut/analysis/batch.hpp"
#include "flarenut/lanes/circuit.hpp"

namespace flarenut::analysis {

class LaneWorker final : lanes::Outside {
 public:
  /// As many as a cold start of a single solve may take. Most rows need 3 to 12; one that needs many holds up no other lane.
  static constexpr int most_iterations = SteadyOptions{}.most_iterations;

  LaneWorker(Batch& batch, const Plan& plan, const lanes::Circuit& circuit, const lanes::Kernel& kernel);
  void run();

 private:
  struct Lane {
    explicit Lane(const Plan& original) : plan(original) {}
    Plan plan;
    Solution answer;                 ///< of the row before
    std::vector<double> cold_flow;   ///< of parts that start alike wherever they stand
    std::size_t row = 0, end = 0;
    bool warm = false, busy = true;
    bool in_place = false;           ///< the answer of the row before still stands in the lane
    std::int64_t seen = -1;          ///< of the plan's renewals, when its numbers were brought here
    int iterations = 0;
  };

  void begin(int lane);   ///< takes the next row, or falls idle
  void load(int lane);    ///< brings the numbers of the row into the lane
  void load_part(int lane, const lanes::Branch& branch);
  void load_heads(int lane);
  void start(int lane);   ///< sets iterate and points
  void start_cold(int lane);
  void point_at_iterate(const lanes::Branch& branch, int lane, double* point, int stride) const;
  void finish(int lane);
  void solve_alone(int lane, bool tried);  ///< tried: its start was given up in the lane
  bool below_absolute_zero(int lane) const;
  double& at(double* numbers, int place, int lane) const { return numbers[place + lane]; }

  void linearise(int part, int lane, const double* point, double* residual, double* by_flow, double* by_pressure) override;
  bool limit(int part, int lane, const double* last, double* proposed) override;

  Batch& batch_;
  const lanes::Circuit& circuit_;
  const lanes::Kernel& kernel_;
  lanes::State state_;
  std::vector<std::unique_ptr<Lane>> lanes_;
  Plan plan_;  ///< of the single solver
  SteadySolver solver_;
  Solution solution_;
  std::vector<double> bundle_;
  struct Pointed {
    const lanes::Branch* branch;
    bool follows;                  ///< whether it starts where the pressures say
  };
  std::vector<char> follows_;      ///< the same, by part
  std::vector<int> held_;          ///< junctions of given pressure
  std::vector<Pointed> pointed_;   ///< branches that are linearised at a point of their own
  bool demands_vary_ = true;
};

}  // namespace flarenut::analysis
