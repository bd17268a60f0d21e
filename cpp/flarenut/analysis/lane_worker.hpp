#pragma once
/// One thread's share of a batch, several rows side by side in the lanes of the processor.
///
/// Each lane works through a block of its own, from the plan of its own, and takes the next block when it is done: it never
/// waits for the others, and nothing it does depends on them. Where rows can be taken near their answers side by side first
/// (`lane_approach.hpp`), most are done before a lane is asked, and lanes take what is left row by row. A row that does not
/// converge in the lane within `most_iterations`, or whose answer must be explained, is solved anew by the single solver with its whole ladder.

#include <memory>

#include "flarenut/analysis/batch.hpp"
#include "flarenut/analysis/lane_approach.hpp"
#include "flarenut/analysis/lane_chain.hpp"
#include "flarenut/analysis/lane_rows.hpp"

namespace flarenut::analysis {

class LaneWorker final : lanes::Outside {
 public:
  /// As many as a cold start of a single solve may take. Most rows need 3 to 12; one that needs many holds up no other lane.
  static constexpr int most_iterations = SteadyOptions{}.most_iterations;

  LaneWorker(Batch& batch, const Plan& plan, const LaneLayout& layout, const LaneReference& reference, const lanes::Kernel& kernel);
  void run();

 private:
  struct Lane {
    Lane(const Plan& original, LaneChain empty) : plan(original), chain(std::move(empty)) {}
    Plan plan;                       ///< with the numbers that do not come prepared; with all, where someone reads from it
    LaneRows::Group* rows = nullptr; ///< of `groups_`
    std::vector<double> start_flow;  ///< of each part alone, by the plan's flows; then of each run of several
    LaneChain chain;
    std::size_t row = 0, end = 0;    ///< of what it has taken; and of the chain
    std::size_t chain_end = 0;
    bool warm = false, busy = true;  ///< warm: the answer of the row before stands in the lane
    bool packed = false;             ///< the numbers of the row came prepared
    bool approached = false;         ///< it began where `LaneApproach` took it
    bool cold = true;                ///< the row began as a cold start of a single solve does
    std::int64_t seen = -1;          ///< of the plan's renewals, when its numbers were brought here
    std::int64_t began = 0;          ///< turn of the worker
    int iterations = 0;
  };

  struct RunStart {
    int to = 0, first = 0, count = 0;  ///< place among a lane's starts; places among `run_flows_`
    double share = 1.0;
  };

  void study_parts();
  void study_runs();
  void study_readings();
  double start_flow(const Lane& lane, int part) const {
    return lane.start_flow[static_cast<std::size_t>(lane.plan.branches()[static_cast<std::size_t>(part)].first_flow)];
  }

  void begin(int lane);   ///< takes the next row, or falls idle
  void begin_near(int lane);  ///< takes one that others have come near, and that is not done
  bool approach_rows();       ///< takes the next rows near their answers; false where there are no more
  bool take_rows(Lane& lane);
  void take_block(Lane& lane);
  void take_one(Lane& lane);
  void fill(int lane);    ///< brings the numbers of the row into the lane; InputError where they are refused
  void set_whole_row(Plan& plan, std::size_t row) const;
  void load(int lane);    ///< brings what is new in the lane's plan
  void load_part(int lane, int part);
  void load_heads(int lane);
  void start_runs(Lane& lane, const std::vector<RunStart>& runs) const;
  void start(int lane);
  void stand_at_start(int lane);
  void start_cold(int lane);
  void start_branch(int lane, const lanes::Branch& branch);
  void point_at_iterate(const lanes::Branch& branch, int lane, double* point, int stride);
  void settle(int lane);  ///< deals with a row that has come to an end in its lane, and takes the next
  unsigned out_of_steps();  ///< lanes that may go no further, bit per lane
  void tell();              ///< the batch, how many rows more are done
  void finish(int lane);
  void solve_alone(int lane);
  void take_over(int lane, const Solution& solution);  ///< as the answer from which the next row starts
  void go_back(int lane);                  ///< to the answer from which this row started
  void write_answer(const lanes::State& state, int lane);
  void write_row(std::size_t row, const lanes::State& state, int lane, Plan& plan);
  void count(std::size_t row, int iterations, double residual);  ///< one that is done
  double& at(int place, int lane) { return state_.memory[static_cast<std::size_t>(place + lane)]; }
  int pressure_of(int junction) const { return circuit_.region.pressure + junction * kernel_.width; }

  void linearise(int part, int lane, const double* point, double* residual, double* by_flow, double* by_pressure) override;
  bool limit(int part, int lane, const double* last, double* proposed) override;

  Batch& batch_;
  const LaneLayout& layout_;
  const LaneReference& reference_;
  const lanes::Circuit& circuit_;
  const lanes::Kernel& kernel_;
  lanes::State state_;
  Plan plan_;  ///< of the single solver
  LaneRows rows_;
  bool one_by_one_ = false;        ///< rows know nothing of each other: lanes take them from one group, and little memory is gone through
  std::vector<LaneRows::Group> groups_;  ///< of all lanes together then; else of each
  std::size_t next_row_ = 0, end_row_ = 0;  ///< of those that stand ready to be taken one by one
  std::vector<std::unique_ptr<Lane>> lanes_;
  std::int64_t turn_ = 0, deadline_ = 0;  ///< iterations of all lanes; no lane is out of steps before
  std::size_t untold_ = 0;                ///< rows
  SteadySolver solver_;
  Solution solution_, answer_;
  std::vector<double> bundle_;
  std::size_t blocks_at_once_ = 1;  ///< that a lane takes: enough to prepare several rows together
  std::vector<int> run_flows_;     ///< of the members of each run, as the plan counts flows
  std::vector<RunStart> runs_, varied_runs_;  ///< the second: those whose start differs by row
  std::vector<char> follows_;      ///< by part: whether it starts where the pressures say
  /// A row that is not done: what it takes into a lane, where it has come near.
  struct Waiting {
    std::size_t row = 0;
    bool near = false;
    std::vector<double> kept;
  };
  LanePoints points_;
  std::unique_ptr<LaneApproach> approach_;  ///< where rows are taken one by one and can be taken near
  std::vector<Waiting> waiting_;
  std::vector<std::pair<int, int>> cold_;  ///< places of flows and of the devices' points, and from where among the starts
  bool against_ = false;                   ///< some device stands against its run
  std::vector<int> unknowns_;      ///< places of pressures and flows that are solved for
  std::vector<int> held_;          ///< junctions of given pressure
  /// A reading that is a number of the lane: times the sign.
  struct Plain {
    int place;
    double sign;
  };
  std::vector<Plain> plain_;       ///< the readings, when all of them are
  bool demands_vary_ = true;
};

}  // namespace flarenut::analysis
