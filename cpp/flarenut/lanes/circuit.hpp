#pragma once
/// A circuit laid out for the lanes: plain numbers only, so that the kernels, which are compiled once per instruction set,
/// share nothing with the rest of the engine but this. See `kernel.hpp` for what they do with it.
///
/// Equations stand in order of elimination; the equation after the last one is a **spare** that junctions of given pressure
/// write to, so that no branch asks which kind its ends are. In the `State` every number is `width` doubles, one per lane;
/// **places** in it count doubles, so a circuit is laid out for one width.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

namespace flarenut::lanes {

inline constexpr int most_pressures = 6, most_flows = 2, most_ports = 3;

/// One part in its place.
struct Branch {
  int law = 0;                                  ///< place in `law_names()`, or `outside`
  int part = 0;                                 ///< its number in the circuit
  int ports = 0, pressures = 0, flows = 0;
  int place = 0;                                ///< its own among the branches
  int first_flow = 0, first_head = 0, first_number = 0, first_point = 0, first_gain = 0;  ///< places in the state
  bool has_limit = false;
  bool drops = false;                           ///< its law is opening² · (p₀ − p₁) = drop(flow): it has one gain, for the difference
  std::array<int, most_pressures> junction{};   ///< places too, like the next two
  std::array<int, most_pressures> equation{};   ///< of each junction; the spare one where the pressure is given
  std::array<int, most_ports * most_pressures> slot{};    ///< [port * pressures + i]: among the factors
  std::array<double, most_ports * most_flows> leaves{};   ///< [port * flows + flow]: +1 where a flow leaves the junction
};

/// A law that the lanes know by heart; every other part is asked lane by lane.
inline constexpr int outside = -1;

struct Circuit {
  int width = 0;
  std::vector<Branch> branches;  ///< those of one law together
  int junctions = 0, flows = 0, equations = 0;
  std::vector<int> junction_of;  ///< place of each equation's junction
  std::vector<int> fill_start;   ///< the program of elimination (`solver/fixed_lu.hpp`)
  std::vector<int> fill_index, list;  ///< of it, as places
  int factors = 0;               ///< the spare one comes after them
  int heads = 0, numbers = 0, points = 0, gains = 0;
  double pressure_scale = 0.0, branch_tolerance = 0.0, mass_tolerance = 0.0;  ///< as for single solves
};

/// Where a kernel turns for parts that it does not know. Points and results are plain, of one lane.
class Outside {
 public:
  virtual ~Outside();
  /// Residuals, slopes by flow, slopes by pressure: `flows`, `flows`·`flows`, `flows`·`pressures` numbers.
  virtual void linearise(int part, int lane, const double* point, double* residual, double* by_flow, double* by_pressure) = 0;
  virtual bool limit(int part, int lane, const double* last, double* proposed) = 0;
};

/// Doubles that start on a boundary of 64 bytes, as packs must.
class Aligned {
 public:
  explicit Aligned(std::size_t size = 0);
  Aligned(const Aligned& other) : Aligned(other.size_) { std::copy_n(other.begin_, size_, begin_); }
  Aligned(Aligned&& other) noexcept { swap(other); }
  Aligned& operator=(Aligned other) noexcept {
    swap(other);
    return *this;
  }
  double* data() { return begin_; }
  const double* data() const { return begin_; }
  double& operator[](std::size_t i) { return begin_[i]; }
  double operator[](std::size_t i) const { return begin_[i]; }
  std::size_t size() const { return size_; }

 private:
  void swap(Aligned& other) noexcept {
    memory_.swap(other.memory_);
    std::swap(begin_, other.begin_);
    std::swap(size_, other.size_);
  }

  std::vector<double> memory_;
  double* begin_ = nullptr;
  std::size_t size_ = 0;
};

/// The numbers of all lanes.
class State {
 public:
  explicit State(const Circuit& circuit);
  State(const State&) = delete;  // its places point into its own memory
  State& operator=(const State&) = delete;

  int width;
  double pressure_scale;
  double *pressure, *flow, *head, *number, *point, *limited, *demand, *flow_scale, *active;
  double *gain, *factor, *inverse_pivot, *right_side, *imbalance;
  double *residual, *mass_error;             ///< found: worst of each lane
  unsigned accepted = 0, broken = 0;         ///< found: bit per lane
  Outside* others = nullptr;

 private:
  Aligned memory_;
};

/// A kernel: evaluates the laws of all lanes and judges them; then solves for Newton's step and takes it in active lanes.
struct Kernel {
  std::string_view name;
  int width;
  bool fast;  ///< whether the processor multiplies and adds in one instruction; without, single solves are faster
  void (*evaluate)(const Circuit&, State&);
  void (*advance)(const Circuit&, State&);
  /// Drops, with their slopes, of `packs` times `width` parts of one law at their flows, in `Aligned` memory.
  void (*drops)(int law, int packs, const double* number, const double* flow, double* drop, double* slope);
};

/// Kinds of parts whose laws the kernels have.
std::vector<std::string_view> law_names();
/// Doubles of a prepared part of that law.
int numbers_of_law(int law);

/// Kernels that this program was built with and this processor can run, the fastest first.
std::vector<Kernel> kernels();

}  // namespace flarenut::lanes
