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
  static constexpr int most_iterations = 25;  ///< rows that converge take 3 to 12

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
    int iterations = 0;
  };

  void begin(int lane);   ///< takes the next row, or falls idle
  void load(int lane);    ///< brings the numbers of the row into the lane
  void start(int lane);   ///< sets iterate and points
  void start_cold(int lane);
  void point_at_iterate(const lanes::Branch& branch, int lane, double* point) const;
  void finish(int lane);
  void solve_alone(int lane);
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
  std::vector<Pointed> pointed_;   ///< branches that are linearised at a point of their own
  bool demands_vary_ = true;
};

}  // namespace flarenut::analysis
