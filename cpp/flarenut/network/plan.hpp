#pragma once
/// A circuit compiled for speed. The structure (which part meets which junction, which slope lands where in the
/// matrix, in what order to eliminate) is analysed once; after that only numbers change.
///
/// Every number has a name:
///   "<part>.<field>"            a number of a part, as its spec names it            SI
///   "<part>.temperature"        temperature of the liquid in that part              K
///   "<junction>.demand"         mass flow taken out                                 kg/s
///   "<fixed>.gauge"             pressure above ambient                              Pa
///   "<tank>.level", ".vent" ...  a number of the tank, as `parts/tank.hpp` names it  SI
///   "ambient.pressure"          absolute                                            Pa
///   "liquid.temperature"        of every part and tank                              K
///   "acceleration.x", ".y", ".z"  of the vehicle: forward, left, up                 m/s²
///
/// A network that follows heat has the numbers of `heat_side.hpp` beside these; temperatures of parts are then found, not given.
///
/// **Threads.** A plan is a value: a copy shares nothing with its original. Any number of threads may read one plan (all that is const,
/// and the const members of its elements) or copy it while none changes it. Whoever sets numbers, refreshes or solves needs a plan of
/// his own: a solver works in the plan it is given.

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "flarenut/network/heat_side.hpp"
#include "flarenut/network/network.hpp"

namespace flarenut::network {

/// Where a changeable number lives.
struct NumberPlace {
  enum class What { field, part_temperature, demand, gauge, tank, ambient, liquid_temperature, acceleration, heat };
  What what;
  int owner = 0;  ///< part or junction, axis of acceleration, or number of the heat side
  int field = 0;
};

/// Before the names of columns of a part's heat law: the part may have one of the same name.
inline constexpr std::string_view heat_columns = "heat.";

/// One part with everything the solver needs to walk over it without looking anything up.
struct Branch {
  int ports = 0, senses = 0, flows = 0;
  int first_flow = 0;                              ///< place of its first flow among all flows
  std::array<int, most_pressures> junction{};      ///< of each port, then of each sense
  std::array<int, most_pressures> unknown{};       ///< column of that junction; −1 when its pressure is fixed
  std::array<double, most_pressures> lift{};       ///< of `reach`, pressure per density that height and acceleration make [m²/s²]
  std::array<Position, most_pressures> reach{};    ///< from port 0's junction to each, through liquid; nil through gas
  std::array<double, most_pressures> head{};       ///< added to a junction's pressure to bring it to port 0's height
  std::array<signed char, most_pressures * most_flows> inflow{};  ///< [port * flows + flow]
  bool has_limit = false;

  int pressures() const { return ports + senses; }
};

class Plan {
 public:
  /// Compiles a network. Throws InputError when it is ill-posed.
  explicit Plan(Network network);

  // Numbers.
  const std::vector<std::string>& names() const { return names_; }
  int index(const std::string& name) const;  ///< InputError when there is no such number
  const NumberPlace& place(int number) const { return places_[static_cast<std::size_t>(number)]; }
  double get(int number) const;
  /// Changes a number; parts are rebuilt at the next `refresh`. InputError when out of range.
  void set(int number, double value);
  /// Changes several numbers together, in any order: a part is judged when all of its numbers are set. InputError when
  /// one is refused; then none has changed.
  void set_many(const std::vector<std::pair<int, double>>& values);

  /// The same for one row of a table, without putting anything together: for batches.
  void set_row(const std::vector<int>& numbers, const double* values);

  /// Replaces a measured column of a part. InputError when there is none of that name or the part refuses it; the
  /// part then keeps its old numbers. Those of its heat law have `heat_columns` before their name: "heat.flow".
  void set_column(int part, const std::string& column, std::vector<double> values);
  /// Replaces several columns of a part together, such as flows and rises that only fit each other: all or none.
  void set_columns(int part, const std::vector<std::pair<std::string, std::vector<double>>>& columns);

  /// Brings parts, fixed pressures and heads up to date with the numbers. Cheap when nothing changed.
  void refresh();
  bool stale() const { return any_stale_; }

  /// Parts are built anew one after the other, and counted: whoever keeps something of a part looks whether its count is later
  /// than the count he last saw.
  std::int64_t renewals() const { return renewals_; }
  std::int64_t renewed_at(int part) const { return renewed_at_[static_cast<std::size_t>(part)]; }
  /// The same count when heads and flow scale last changed.
  std::int64_t heads_at() const { return heads_at_; }

  // Structure, for the analyses.
  const Network& network() const { return network_; }
  const std::vector<Branch>& branches() const { return branches_; }
  int unknown_count() const { return static_cast<int>(unknown_junction_.size()); }
  int flow_count() const { return flow_count_; }
  int junction_count() const { return static_cast<int>(network_.junctions().size()); }
  int unknown_of(int junction) const { return unknown_of_[static_cast<std::size_t>(junction)]; }
  int junction_of(int unknown) const { return unknown_junction_[static_cast<std::size_t>(unknown)]; }
  /// Absolute pressure of fixed and tank junctions [Pa]; ambient for free ones.
  const std::vector<double>& held_pressure() const { return held_pressure_; }
  double demand(int junction) const { return junctions_[static_cast<std::size_t>(junction)].demand; }
  /// Where temperatures are found it holds what flow asks for: temperature, density and viscosity.
  const LiquidState<>& liquid_in(int part) const { return liquid_in_[static_cast<std::size_t>(part)]; }
  /// The same with vapour pressure, specific heat and all else.
  LiquidState<> whole_liquid_in(int part) const;
  Element& element(int part) const { return *network_.parts()[static_cast<std::size_t>(part)].element; }
  double ambient() const { return ambient_; }
  const Position& acceleration() const { return acceleration_; }
  const Junction& junction_state(int junction) const { return junctions_[static_cast<std::size_t>(junction)]; }
  /// Mass flow against which closures are judged when nothing flows [kg/s].
  double flow_scale() const { return flow_scale_; }

  // Heat.
  /// The heat side; nothing where temperatures are given.
  const HeatSide* heat() const { return heat_ && follows_heat_ ? &*heat_ : nullptr; }
  /// Temperatures given in spite of a heat side, or found again.
  void follow_heat(bool follow);
  bool can_follow_heat() const { return heat_.has_value(); }
  /// All parts and tanks as warm as the liquid is said to be.
  void forget_temperatures();
  /// The same, each as warm as its liquid is now said to be [K, by liquid].
  void level_temperatures(const std::vector<double>& kelvin);
  /// Puts a liquid of another temperature into a part, and brings it up to date at once. For the heat solve.
  void warm(int part, double kelvin, double density, double viscosity);
  /// The same of what stands in a tank [K].
  void warm_tank(int junction, double kelvin);

  double temperature_of_part(int part) const;
  bool has_own_temperature(int part) const { return part_temperature_[static_cast<std::size_t>(part)].has_value(); }
  double liquid_temperature() const { return liquid_temperature_; }

 private:
  void name_numbers();
  void lay_out_branches();
  void add_number(std::string name, NumberPlace place, double least = 0.0, double most = 0.0);
  LiquidState<> liquid_at(int liquid, double kelvin) const;
  void hold(std::size_t junction);  ///< works out its held pressure; of a tank with the liquid as warm as it is
  void mark_stale(std::size_t part);
  void renew(std::size_t part);     ///< prepares it anew with the liquid in it
  void lift(std::size_t part);      ///< works out its heads
  void renew_with_liquids();        ///< the same of all stale parts, whose liquid or head may have changed

  Network network_;
  std::vector<Junction> junctions_;  ///< present numbers of the junctions
  std::vector<Branch> branches_;
  std::vector<int> unknown_of_, unknown_junction_;
  int flow_count_ = 0;

  std::vector<std::string> names_;
  std::vector<NumberPlace> places_;
  std::unordered_map<std::string, int> index_;

  double ambient_ = 101325.0;             ///< standard atmosphere at sea level
  double liquid_temperature_ = 293.15;    ///< 20 °C until said otherwise
  std::vector<std::optional<double>> part_temperature_, tank_temperature_;
  std::optional<HeatSide> heat_;
  bool follows_heat_ = false;
  Position acceleration_{};
  std::vector<double> held_pressure_;
  std::vector<LiquidState<>> liquid_in_;
  double flow_scale_ = 1e-5;
  bool all_stale_ = true, any_stale_ = true, tanks_stale_ = true;
  std::vector<char> stale_;
  std::vector<int> stale_parts_;  ///< each once
  std::int64_t renewals_ = 0, heads_at_ = 0;
  std::vector<std::int64_t> renewed_at_;

  /// What `set_row` looks up: range of each number that is a part's field; nothing passes elsewhere.
  struct Range {
    double least = 0.0, most = 0.0;
  };
  std::vector<Range> ranges_;
  std::vector<char> has_check_;  ///< by part
  std::vector<std::pair<int, double>> before_;  ///< of the row being set
};

}  // namespace flarenut::network
