#pragma once
/// A large network of lines alone, kept as the rows it came in: what `Plan` is for circuits of every kind, at a tenth of the memory.
/// Numbers have the names that `Plan` gives them ("leg[17].bore", "corner[4].demand", "liquid.temperature"), made when somebody asks.
/// All lines hold liquid of one temperature. Whatever else is wanted of such a network (gradients, batches, readings), `written_out`
/// makes the plan that knows it.

#include <string>
#include <vector>

#include "flarenut/network/plain_circuit.hpp"

namespace flarenut::network {

class RowPlan {
 public:
  /// Whether a network is made of rows of lines, with nothing but places of given pressure beside them.
  static bool fits(const Network& network) { return !network.line_rows().empty() && network.parts().empty(); }

  /// Throws InputError when the network is ill-posed. It must fit.
  explicit RowPlan(Network network);

  // Numbers, in the order of `Plan`.
  int number_count() const { return number_count_; }
  std::string name(int number) const;
  int index(const std::string& name) const;  ///< InputError when there is no such number
  double get(int number) const;
  /// Whether `set` can change that number. A line with a temperature of its own needs the plan that is written out.
  bool holds(int number) const;
  void set(int number, double value);  ///< InputError when out of range; then nothing has changed

  const Network& network() const { return network_; }
  double ambient() const { return ambient_; }
  const LiquidState<>& liquid_in(int line) const;
  /// Counts changes, so that whoever keeps columns knows when to take them anew.
  long version() const { return version_; }

  /// The columns at the present numbers. Structure stays the same for good.
  PlainCircuit circuit() const;
  void update(PlainCircuit& circuit) const;

  /// The same network at the same numbers, with a part of its own for every line.
  Plan written_out() const;

 private:
  enum class What { lines, demands, own_junction, ambient, liquid_temperature, acceleration };
  /// Numbers that follow each other: all those of a set of rows, or of one junction.
  struct Segment {
    What what;
    int first, count;      ///< numbers
    std::size_t owner;     ///< set of rows, place among the junctions added one by one, or axis
    int each = 1;          ///< numbers per row

    int row(int number) const { return (number - first) / each; }
    int field(int number) const { return (number - first) % each; }
  };
  void add_segment(What what, int count, std::size_t owner = 0, int each = 1);
  const Segment& segment_of(int number) const;
  double density_of(int liquid) const { return liquid_states_[static_cast<std::size_t>(liquid)].density.value(); }
  void refresh_liquids();
  void set_own_junction(Junction& junction, int field, double value);
  double get_own_junction(const Junction& junction, int field) const;

  Network network_;
  std::vector<Segment> segments_;
  int number_count_ = 0;
  double ambient_ = 101325.0;           ///< as in `Plan`
  double liquid_temperature_ = 293.15;
  Position acceleration_{};
  std::vector<LiquidState<>> liquid_states_;
  std::vector<Junction> own_junctions_;  ///< present numbers of those added one by one
  long version_ = 0;
};

}  // namespace flarenut::network
