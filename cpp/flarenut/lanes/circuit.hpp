#pragma once
/// A circuit laid out for the lanes: plain numbers only, so that the kernels, which are compiled once per instruction set,
/// share nothing with the rest of the engine but this. See `kernel.hpp` for what they do with it.
///
/// Parts that follow each other with nothing between them are a **run**: one flow passes them all. The parts of a run are its
/// **members**, each with a loss that depends on the flow alone; the pressures between them follow from the losses and are no
/// unknowns. Parts of another form, and those that the lanes don't know, are **branches** of their own.
///
/// Equations stand in order of elimination; the equation after the last one is a **spare** that junctions of given pressure
/// write to, so that nobody asks which kind its ends are. In the `State` every number is `width` doubles, one per lane;
/// **places** count doubles from the beginning of its memory, so a circuit is laid out for one width.

#include <algorithm>
#include <array>
#include <cstddef>
#include <cstdint>
#include <string_view>
#include <utility>
#include <vector>

#include "flarenut/fluids/liquid_state.hpp"

namespace flarenut::lanes {

inline constexpr int most_pressures = 6, most_flows = 2, most_ports = 3;

/// A part of a run: opening² · (p₀ − p₁) = drop(flow). One with an opening is a run of its own.
struct Member {
  int law = 0;            ///< place in `law_names()`
  int part = 0;           ///< its number in the circuit
  int run = 0;            ///< which
  int flow = 0, number = 0, drop = 0, point = 0, head = 0;  ///< places, the first of each; after the drop stand slope and opening
  bool reversed = false;  ///< stands against its run
  bool follows = false;   ///< the member before it in the list is of the same run and stands the same way
  bool has_limit = false, has_opening = false;
};

/// Members with one flow, from one junction to another.
struct Run {
  int members = 0;
  int flow = 0, drop = 0, head = 0, gain = 0;  ///< places; of drops the first, of gains that of the shift; then gain and reach
  bool has_opening = false;
  std::array<int, 2> junction{}, equation{};   ///< as of branches
  std::array<bool, 2> free{};                  ///< whether an end has an equation
  std::array<int, 4> slot{};                   ///< among the factors: from-from, from-to, to-from, to-to
};

/// A pressure inside a run: that before it, and what stands and is lost between them.
struct Inside {
  int junction = 0, before = 0, head = 0, drop = 0, change = 0;  ///< places; the last: of what the last step added to the flow
};

/// Any other part in its place.
struct Branch {
  int law = 0;                                  ///< place in `law_names()`, or `outside`
  int part = 0;                                 ///< its number in the circuit
  int ports = 0, pressures = 0, flows = 0;
  int first_flow = 0, first_head = 0, first_number = 0, first_point = 0, first_gain = 0;  ///< places in the state
  bool has_limit = false;
  std::array<int, most_pressures> junction{};   ///< places too, like the next two
  std::array<int, most_pressures> equation{};   ///< of each junction, counted from the first; the spare one where the pressure is given
  std::array<int, most_ports * most_pressures> slot{};    ///< [port * pressures + i]: among the factors
  std::array<double, most_ports * most_flows> leaves{};   ///< [port * flows + flow]: +1 where a flow leaves the junction

  /// Of each flow among the gains: its shift, what it gains from each pressure, how far the last step moved it, its reach, and of a law
  /// that the lanes know the flow that a residual is worth.
  int gains() const { return pressures + 4; }
};

/// A law that the lanes know by heart; every other part is asked lane by lane.
inline constexpr int outside = -1;

/// Where the numbers of each sort begin in the memory of a `State`.
struct Regions {
  int pressure = 0, flow = 0, head = 0, number = 0, point = 0, demand = 0, flow_scale = 0, limited = 0, whole = 0;
  int drop = 0, gain = 0, factor = 0, inverse_pivot = 0, right_side = 0, imbalance = 0, residual = 0, mass_error = 0;
  int total = 0;
};

struct Circuit {
  int width = 0;
  Regions region;
  std::vector<Member> members;   ///< those of one law together, of these those of one run
  std::vector<Run> runs;
  std::vector<Inside> inside;    ///< in the order in which they are found
  std::vector<Branch> branches;  ///< those of one law together, those from outside first
  int junctions = 0, flows = 0, equations = 0;
  std::vector<int> junction_of;  ///< place of each equation's junction
  std::vector<int> fill_start;   ///< the program of elimination (`solver/fixed_lu.hpp`)
  std::vector<int> fill_index, list;  ///< of it, as places
  int factors = 0;               ///< the spare one comes after them
  int heads = 0, numbers = 0, points = 0, gains = 0, drops = 0;
  double pressure_scale = 0.0, branch_tolerance = 0.0, mass_tolerance = 0.0;  ///< as for single solves
  double forecast_tolerance = 0.0;  ///< what a forecast may leave, of the same scale
  double approach_tolerance = 0.0;  ///< the same, of the step that ends an approach
  double most_pressure = 0.0;    ///< no liquid stands above it, nor below 0
  double most_polish = 0.0;      ///< by how much the last step, which is not judged any more, may move a pressure
};

/// Where a kernel turns for parts that it does not know. Points and results are plain, of one lane.
class Outside {
 public:
  virtual ~Outside();
  /// Residuals, slopes by flow, slopes by pressure: `flows`, `flows`·`flows`, `flows`·`pressures` numbers.
  virtual void linearise(int part, int lane, const double* point, double* residual, double* by_flow, double* by_pressure) = 0;
  virtual bool limit(int part, int lane, const double* last, double* proposed) = 0;
};

/// Numbers that start on a boundary of 64 bytes, as packs must.
template <class Number>
class AlignedOf {
 public:
  explicit AlignedOf(std::size_t size = 0) : memory_(size + 64 / sizeof(Number) - 1, Number{0}), size_(size) {
    const std::size_t past = reinterpret_cast<std::uintptr_t>(memory_.data()) % 64;
    begin_ = memory_.data() + (64 - past) % 64 / sizeof(Number);
  }
  AlignedOf(const AlignedOf& other) : AlignedOf(other.size_) { std::copy_n(other.begin_, size_, begin_); }
  AlignedOf(AlignedOf&& other) noexcept { swap(other); }
  AlignedOf& operator=(AlignedOf other) noexcept {
    swap(other);
    return *this;
  }
  Number* data() { return begin_; }
  const Number* data() const { return begin_; }
  Number& operator[](std::size_t i) { return begin_[i]; }
  Number operator[](std::size_t i) const { return begin_[i]; }
  std::size_t size() const { return size_; }

 private:
  void swap(AlignedOf& other) noexcept {
    memory_.swap(other.memory_);
    std::swap(begin_, other.begin_);
    std::swap(size_, other.size_);
  }

  std::vector<Number> memory_;
  Number* begin_ = nullptr;
  std::size_t size_ = 0;
};
using Aligned = AlignedOf<double>;

/// The numbers of all lanes.
template <class Number>
class StateOf {
 public:
  explicit StateOf(const Circuit& circuit) : memory(static_cast<std::size_t>(circuit.region.total)) {}

  AlignedOf<Number> memory;                  ///< by the circuit's regions
  unsigned accepted = 0, broken = 0;         ///< found: bit per lane
  unsigned forecast = 0;                     ///< of the accepted: those that were so by their forecast, after one step more
  unsigned impossible = 0;                   ///< the same, where accepted: a pressure at which no liquid stands
  unsigned idle = 0;                         ///< lanes for which nobody from outside need be asked
  Outside* others = nullptr;
};
using State = StateOf<double>;
using SingleState = StateOf<float>;

/// Unknowns that move straight with numbers, each between bounds.
template <class Number>
struct MovesOf {
  std::size_t numbers = 0, unknowns = 0;
  const Number* from = nullptr;                        ///< of each number: where nothing is moved
  const Number *unmoved = nullptr, *least = nullptr, *most = nullptr;  ///< of each unknown
  const Number* slope = nullptr;                       ///< [unknowns × numbers]
};
using Moves = MovesOf<double>;

/// What makes rows ready for the lanes, several at a time.
struct RowKernel {
  /// A part of that law from the fields of its spec, `width` rows of each, with its liquid: the doubles it is made of, and the flow
  /// with which a cold solve begins. A bit per row in which it may be taken as it is; the others are to be prepared by themselves, or
  /// are none at all. No bit where packs cannot prepare the kind.
  unsigned (*prepare)(int law, const double* fields, const fluids::LiquidState<>& liquid, double* numbers, double* start);
  /// Unknowns of `width` rows from their numbers, `width` of each in `Aligned` memory. Of the numbers it leaves how far they are moved.
  void (*move)(const Moves& moves, double* numbers, double* unknowns);
};

/// What takes rows near their answers, in single precision first (`approach.hpp`). It has twice the lanes of its kernel; packs that come
/// and go are of the kernel's own width and fill half of them.
struct ApproachKernel {
  int width;
  void (*move)(const MovesOf<float>& moves, float* numbers, float* unknowns);  ///< as `RowKernel`
  /// `steps` steps; of each run, what its bend is by the last two.
  void (*approach)(const Circuit&, SingleState&, int steps, float* bend);
  /// One step more. Accepted are those of whose runs the bends foretell that nothing is left that counts, whose branches leave nothing,
  /// and whose flows balance after the step.
  /// `steps`: the places that tell how far the last step moved each flow.
  void (*arrive)(const Circuit&, State&, std::size_t count, const int* steps, const float* bend);
  /// Packs one after the other to their places, as they are and in single precision; and back again from places to places.
  void (*place)(std::size_t count, const double* from, const int* to, double* base);
  void (*narrow)(std::size_t count, const double* from, const int* to, float* base);
  void (*widen)(std::size_t count, const float* base, const int* from, const int* to, double* wide);
};

/// A kernel: evaluates the laws of all lanes and judges them; then solves for Newton's step and takes it, and works out what stands
/// inside the runs of lanes that are accepted.
struct Kernel {
  std::string_view name;
  int width;
  bool fast;  ///< whether the processor multiplies and adds in one instruction; without, single solves are faster
  void (*evaluate)(const Circuit&, State&);
  void (*advance)(const Circuit&, State&);
  /// Drops, with their slopes, of `packs` times `width` parts of one law at their flows, in `Aligned` memory.
  void (*drops)(int law, int packs, const double* number, const double* flow, double* drop, double* slope);
  const RowKernel* rows;
  const ApproachKernel* approach;
};

/// Lays out the memory for the circuit's sizes.
Regions regions_of(const Circuit& circuit);

/// Kinds of parts whose laws the kernels have.
std::vector<std::string_view> law_names();
/// Doubles of a prepared part of that law.
int numbers_of_law(int law);

/// Kernels that this program was built with and this processor can run, the fastest first.
std::vector<Kernel> kernels();

}  // namespace flarenut::lanes
