#pragma once
/// What a lane remembers of the rows that it has solved one after the other, and where the next row starts because of it.
///
/// - Where the numbers of rows step evenly, as in a sweep: on the straight line through the two answers before it; later on the parabola
///   through three, then on the cubic through four. After a row that took many iterations, where a valve has opened or shut, this begins
///   anew.
/// - In a sweep over several numbers the fastest of them jumps back at the end of each **run** of even steps. A run opens on the straight
///   line through the first answers of the two runs before it; its first rows go on as the same rows of the run before did: wrong by as
///   much as the rule above was wrong there.
/// - Any other row starts from an answer nearby, moved along the slopes of the reference (`lane_reference.hpp`): that of the reference
///   itself, unless the row before or the first row of the run before is much nearer.
/// Where none of these is known, the row starts cold, or from the row before as it is.

#include <array>
#include <vector>

#include "flarenut/analysis/lane_reference.hpp"

namespace flarenut::analysis {

class LaneChain {
 public:
  LaneChain(const LaneReference& reference, const BatchTask& task, std::size_t unknowns);

  void begin();      ///< a new chain: nothing is remembered
  void break_off();  ///< a row that has no answer: what was solved last is still the nearest in time
  void solved(std::size_t row, int iterations);

  /// Room for the unknowns of the answer before the row that comes.
  double* next();
  /// Looks how a row follows on those before it, whose last answer has been put into `next()`.
  void follow(std::size_t row);
  const std::vector<double>& last() const { return earlier(0); }

  /// Unknowns that a row starts with; null: at the reference, or cold. `warm`: there is a `last()`.
  const double* start(std::size_t row, bool warm);
  /// Whether the row starts from the reference itself, moved to its numbers (`LaneReference::moves`).
  bool at_reference() const { return at_reference_; }

 private:
  static constexpr std::size_t no_row = static_cast<std::size_t>(-1), kept = 4;
  /// First answers of a run of even steps.
  struct Opening {
    std::size_t row = no_row;
    std::array<std::vector<double>, kept> answer;
  };

  const double* values_of(std::size_t row) const { return task_.values + row * task_.numbers.size(); }
  /// Of those rows before the newest.
  const std::vector<double>& earlier(std::size_t rows) const { return before_[(newest_ + rows) % kept]; }
  bool same_steps(std::size_t to, std::size_t from, std::size_t other_to, std::size_t other_from) const;
  bool open(std::size_t row);
  bool go_ahead(std::size_t row);
  bool start_near(std::size_t row);

  const LaneReference& reference_;
  const BatchTask& task_;
  std::array<std::vector<double>, kept> before_;  ///< answers of the last rows, in turn
  std::size_t newest_ = 0;                        ///< of them
  std::array<Opening, 3> openings_;               ///< of the present run and the two before it
  std::vector<double> start_;
  std::size_t last_row_ = no_row;  ///< whose answer is the newest
  std::size_t chained_ = 0;  ///< rows solved in the lane without a break
  std::size_t evenly_ = 0;   ///< steps one after the other that were like the one before, since the last surprise
  bool opened_ = false;      ///< some opening has been kept since the last break
  bool at_reference_ = false;
  bool surprised_ = false;   ///< the row before took more iterations than one that goes on smoothly
};

}  // namespace flarenut::analysis
