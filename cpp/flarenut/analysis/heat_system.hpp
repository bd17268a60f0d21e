#pragma once
/// Pressure, flow and temperature as one system, as Newton sees it.
///
/// Unknown beside the pressures p of free junctions and the flows q: the temperature T of every **node**, and the mean temperature
/// of the stream in every part, at which its liquid's viscosity and density stand. A node is a free junction, or a tank whose
/// temperature is found; a place that drains to a tank shares that tank's node. What comes in from elsewhere is as warm as it is said.
///
/// **Energy.** A stream carries e = h(T, p) + φ: enthalpy with its pressure, and the potential φ = −(g − a)·x of where it is. (Total
/// pressure stands for pressure and kinetic energy; the error is αT of v²/2, some joules per kilogram.) In a part the streams that
/// enter mix and take up its heat H: what its heat law moves, what is put in, and of a pump the power that reaches the liquid,
/// q Δp/(ρη). What leaves through port k into node n brings
///
///     C = q_k (e_mix − e_n) + (its share of) H            Σ C + heat put in at the node + K (T_air − T_n) = 0
///
/// written with the mass balance taken off, so that it is regular at rest and holds for a tank that slowly fills or empties. A drop of
/// pressure without work leaves e as it was, which warms the liquid by (1 − αT) Δp/(ρ cp). Parts conduct a little from end to end
/// (a billionth of a watt per kelvin), so a stagnant branch has a temperature, that of its neighbours.
///
/// **Mean temperature.** T_m = T_in + s (T_out − T_in), s the mean share of the heat law, ½ without one; a part that senses a
/// junction stands at that junction's temperature.
///
/// **Properties** come from a table on the way. Near the answer the laws themselves are asked; what they said is carried on along its slope
/// for the hundred-thousandth of a kelvin that is left. They alone judge.
///
/// **One step.** Each part's flows and mean temperature are eliminated by its own slopes, as in `FlowSystem`; what is left is two
/// equations per junction, mass and energy, in p and T, factorised with a structure that was analysed once. Between the steps flow is
/// moved alone, at the temperatures as they are, where its laws do not roughly hold: what comes down by halves when a thermostat has shut
/// does so at a fraction of the price. Where next to nothing is left, slopes and factors of the step before do once more.

#include <algorithm>
#include <limits>
#include <optional>
#include <vector>

#include "flarenut/analysis/flow_system.hpp"
#include "flarenut/fluids/property_table.hpp"

namespace flarenut::analysis {

class HeatSystem {
 public:
  static constexpr double energy_tolerance = 1e-9;  ///< of the heat moved
  static constexpr double mean_tolerance = 1e-7;    ///< of a part's mean temperature [K]
  static constexpr double conduction = 1e-9;        ///< from end to end of every part [W/K]
  static constexpr double standing = 1e-9;          ///< flow below which a part counts as standing, over the scale of flows
  static constexpr double carried = 1e-5;           ///< what the laws said is carried on along its slope so far, within 1e-11 [K]
  /// As `carried`, for the enthalpy of a liquid whose density comes from a table. How it grows with pressure bends at every row, and what the
  /// property table says of that slope is good to some ten-thousandths of the specific heat.
  static constexpr double carried_in_table = 1e-6;
  static constexpr double roughly = 0.1;            ///< scaled residual of flow laws that roughly hold
  static constexpr double carried_flow = 1e-7;      ///< as `carried`, of heat laws with a part's flow, relative

  /// `flow` must outlive this; both follow the same plan, which has a heat side.
  HeatSystem(Plan& plan, FlowSystem& flow);

  /// Every node and part at one temperature: that given, or each liquid's as warm as its tank is said to be, else as the plan's liquid.
  /// Flow is to be started after it.
  void start_level(std::optional<double> everywhere);
  /// Takes back some of what a step of temperatures alone has warmed tanks, and all that hangs on them.
  void ease_level();
  void start_at(const std::vector<double>& junctions, const std::vector<double>& parts);
  /// Holds one node at a temperature whatever heat that takes, which `anchor_heat` tells: above 0, the node would warm up.
  void hold(int junction, double kelvin);
  void release() { anchor_ = -1; }
  double anchor_heat() const { return anchor_heat_; }
  int anchor() const { return anchor_; }
  /// A node to hold: the tank whose temperature is found, else where most heat is put in; −1 when no temperature is open.
  int likely_anchor() const;

  /// Properties from a table, for iterations on their way, or from the laws themselves, which an answer is judged by.
  void set_exact(bool exact);
  bool exact() const { return exact_; }
  /// Whether the present iterate is so near that the laws themselves may as well be asked.
  bool nearly_accepted() const { return flow_.worst_residual() < 1e-3 && energy_error_ < 1e-3 && mean_error_ < 0.1; }
  /// How far off the iterate is, all in all: laws of flow, heat of the nodes, and means against a hundred kelvin.
  double error() const { return std::max({flow_.worst_residual(), energy_error_, 0.01 * mean_error_}); }

  /// Residuals and slopes of flow and heat where the iterate stands, flow first settled for a few turns.
  void linearise();
  /// Moves flow alone, at the temperatures as they are, until its laws roughly hold, or fully by the laws themselves; whether they do after so
  /// many turns. A turn costs a fraction of a step of everything. What comes down a square law by halves, or past the limits of a device,
  /// does so here.
  bool settle_flow(int turns);
  bool accepted() const;
  bool heat_balances() const { return energy_error_ <= energy_tolerance; }
  bool energy_accepted() const { return heat_balances() && mean_error_ <= mean_tolerance; }

  /// Time that passes in a step [s], from the temperatures kept by `keep_time`; 0: a steady solve. `mean_lag` [s] makes every part's mean
  /// temperature lag, `node_lag` lends every node a little capacity, so that a march to a steady state has a path: only its end is true.
  void set_time_step(double seconds, double mean_lag = 0.0, double node_lag = 0.0) {
    time_step_ = seconds;
    mean_lag_ = mean_lag;
    node_lag_ = node_lag;
  }
  void keep_time() {
    before_ = temperature_;
    mean_before_ = mean_;
  }
  /// The same with the temperatures of the step before, for the second-order formula (BDF2) of steps that grow by `growth`; the time step is to be set to
  /// `bdf2_step`.
  void keep_time(const std::vector<double>& earlier, double growth);
  static double bdf2_step(double seconds, double growth) { return seconds * (1.0 + growth) / (1.0 + 2.0 * growth); }
  /// Newton's step of everything, or of temperatures alone at the flows as they are.
  enum class Moving { all, temperatures };
  bool find_step(Moving moving);
  /// The same of everything with the slopes and factors of the last whole step, for an iterate that is so near that they hardly differ.
  bool find_step_again();
  /// Whether `find_step_again` knows all slopes: those between two streams it does not keep.
  bool keeps_slopes() const { return heated_.empty(); }
  /// Goes a share of it; temperatures move by `most_kelvin` at most and stay within what the liquids are known for.
  void take_step(Moving moving, double most_kelvin, double share = 1.0);

  /// Looks up how much liquid lines hold, which stores heat in time.
  void measure_contents();
  /// Mass flow of the stream in every part, backwards below 0; 0 where it counts as standing [kg/s].
  std::vector<double> streams() const;
  /// Whether a junction's temperature has inertia.
  bool stores_heat(int junction) const;

  // What was found.
  const std::vector<double>& temperatures() const { return temperature_; }     ///< of all junctions [K]
  const std::vector<double>& part_temperatures() const { return mean_; }      ///< of the stream in each part, its mean [K]
  double heat_of(int part) const { return legs_[static_cast<std::size_t>(part)].heat; }  ///< into its stream, without a pump's power [W]
  double power_of(int part) const { return legs_[static_cast<std::size_t>(part)].power; } ///< of a pump, into the liquid [W]
  /// Energy per mass of what leaves through a port [J/kg]; of what enters where the flow enters.
  double energy_at(int part, int port) const;
  /// Temperature of what passes a port [K]: of what leaves there, or of the junction where it enters.
  double temperature_at(int part, int port) const;
  double energy_error() const { return energy_error_; }  ///< worst imbalance of a node over the heat moved
  double heat_moved() const { return heat_moved_; }      ///< [W]
  double mean_error() const { return mean_error_; }
  int worst_node() const { return worst_node_; }         ///< junction
  double worst_heat() const { return worst_node_ < 0 ? 0.0 : node_residual_[static_cast<std::size_t>(worst_node_)]; }  ///< more than leaves there [W]
  bool at_limit() const { return at_limit_; }            ///< a temperature stands at the end of what its liquid is known for
  int limit_node() const { return limit_node_; }        ///< its junction
  FlowSystem& flow() { return flow_; }
  const FlowSystem& flow() const { return flow_; }

  struct Span { double least, most; };
  Span span_of(int junction) const { return span_[static_cast<std::size_t>(junction)]; }
  bool is_unknown(int junction) const { return row_[static_cast<std::size_t>(junction)] >= 0; }

 private:
  static constexpr std::size_t P = network::most_ports, Q = network::most_pressures, F = network::most_flows;
  static constexpr std::size_t T = P + 1;  ///< temperatures a part may look at: of its ports, and the sensed one

  /// Energy of one part at the iterate, and its slopes.
  struct Leg {
    std::array<double, P> in{}, out{};      ///< mass flow through each port, into the part and out of it [kg/s]
    std::array<double, P> share{};          ///< of inflow where it flows in, of outflow where it flows out
    double through = 0.0;                   ///< mass flow through the part [kg/s]
    double energy = 0.0;                    ///< of the mixed streams as they enter [J/kg]
    double inlet = 0.0;                     ///< temperature, mixed by mass [K]
    double heat = 0.0, power = 0.0;         ///< [W]
    double wall = 0.0;                      ///< of `heat`, what its heat law or exchanger moves [W]
    double pressed = 0.0;                   ///< of `heat`, what the stream stores more or less of because it is under pressure [W]
    std::array<double, 3> pressed_by{};     ///< its slopes in those of `heat`: by flow, inlet and mean
    double heat_by_flow = 0.0, heat_by_inlet = 0.0, heat_by_mean = 0.0;
    double power_by_flow = 0.0, power_by_rise = 0.0;
    std::array<double, F> through_by_flow{};
    double mean = 0.0, mean_by_through = 0.0, mean_by_inlet = 0.0, mean_by_mean = 0.0, mean_by_sense = 0.0;  ///< what the mean should be
    double mean_by_drop = 0.0;              ///< the same with the pressure of port 0 over that of port 1 [K/Pa]
    // After elimination: changes of flows, then of the mean, with pressures and temperatures.
    std::array<double, F + 1> shift{};
    // What a later step needs of this one's slopes: Δq = inverse (residual + by_mean ΔT_m); energy brought, by flows and mean.
    double gain = 0.0;
    std::array<std::array<double, F>, F> inverse{};
    std::array<double, F> by_mean{}, mean_by_flow{};
    std::array<std::array<double, F + 1>, P> energy_by{};
    std::array<std::array<double, Q>, F + 1> by_pressure{};
    std::array<std::array<double, T>, F + 1> by_temperature{};
  };
  /// Where a part writes in the matrix.
  struct Slots {
    std::vector<int> place;  ///< rows: mass of each port, energy of each port, energy of ports of the other side; columns: p, then T
    std::array<int, T> junction{};  ///< whose temperatures it looks at
  };
  /// What a heat law said, and where.
  struct Said {
    double through = 0.0, inlet = 0.0, mean = std::numeric_limits<double>::quiet_NaN();
    bool forward = true;
    network::HeatSlopes heat, share;
  };
  struct Heated {  ///< an exchanger's slopes with the other side
    int part, other;
    double by_flow, by_inlet, by_mean;
  };

  void find_nodes();
  void note_parts();
  void lay_out_matrix();
  void size_vectors();
  void take_given();
  /// Puts the liquids of the present temperatures into parts and tanks.
  void warm_parts();
  void warm_liquids();
  void ask_laws(std::size_t part);
  void evaluate_nodes();
  void evaluate_node(std::size_t junction);
  void evaluate_streams();
  void mix_streams(const Branch& branch, Leg& leg);
  void evaluate_laws();
  void ask_law(std::size_t part);
  void hear_law(std::size_t part);
  void evaluate_pump(std::size_t part);
  void follow_enthalpy(std::size_t part);
  void evaluate_exchangers();
  void finish_means();
  void finish_mean(std::size_t part);
  void balance();
  void eliminate(std::size_t part, Moving moving);
  void assemble_part(std::size_t part, Moving moving);
  void assemble_drops(Moving moving);
  void assemble_drop(const DropField::Part& part, Moving moving);
  bool solve_matrix(bool factorised);
  bool solve_temperatures();
  void shift_again(std::size_t part);
  void find_changes(std::size_t part, Moving moving);
  void find_drop_changes(const DropField::Part& part, Moving moving);
  double residual_by_mean(const DropField::Part& part) const;
  void assemble_exchangers(Moving moving);
  /// Enthalpy and potential [J/kg].
  double energy_of(int junction) const { return enthalpy_[static_cast<std::size_t>(junction)] + potential_[static_cast<std::size_t>(junction)]; }
  double port_temperature(std::size_t part, std::size_t port) const;
  network::StreamPoint stream_of(std::size_t part) const;
  double potential(int junction) const;

  Plan& plan_;
  FlowSystem& flow_;
  int pressures_ = 0, nodes_ = 0;     ///< unknowns: pressures first, then temperatures
  std::vector<int> row_;              ///< by junction: unknown of its node's temperature; −1 where it is given
  std::vector<char> held_;            ///< by junction: its node has an unknown, and is given a temperature all the same
  std::vector<int> node_junction_;    ///< by node
  std::vector<int> liquid_;           ///< by junction
  std::vector<Span> span_;            ///< by junction
  std::vector<double> temperature_, mean_, before_, mean_before_;
  double capacity_at(int junction) const;  ///< that a node has in a step of time [J/K]
  double capacity_in(std::size_t part) const;  ///< the same of a part: its own, and of a line the liquid in it
  std::vector<double> level_;    ///< by liquid: where it starts, or how far it is moved [K]
  std::vector<double> content_;  ///< of liquid in lines, by part [m³]
  std::vector<double> enthalpy_, specific_heat_, per_pressure_, potential_;  ///< by junction
  std::vector<double> energy_per_kelvin_;  ///< slope of the enthalpy, under the pressure that it stands at [J/(kg K)]
  std::vector<double> pull_;          ///< of a tank, pressure at its pick-up per density of its liquid [m²/s²]; 0 of other junctions
  std::vector<double> held_by_kelvin_;  ///< slope of a held pressure with its node's temperature [Pa/K]
  std::vector<double> carried_at_;        ///< by junction: `carried`, or `carried_in_table`
  std::vector<double> asked_, asked_at_;  ///< by part, by junction: temperature at which the laws were last asked; NaN after the table [K]
  std::vector<double> stood_, pressed_;   ///< by junction: temperature and pressure that its enthalpy stands at [K, Pa]
  std::vector<fluids::LiquidState<Dual<1>>> liquid_in_;
  std::vector<fluids::HeatState<Dual<1>>> heat_in_;
  std::vector<std::shared_ptr<const fluids::PropertyTable>> tables_;  ///< by liquid
  std::vector<char> needs_heat_;      ///< by part: has a heat law or an exchanger
  std::vector<char> pumps_, tanks_;   ///< by part: a pump; by junction: a tank with liquid in it
  std::vector<int> lawful_;           ///< parts with a heat law, and pumps
  std::vector<int> beside_field_;     ///< parts whose drop is not of one flow between two ends
  std::vector<int> node_;             ///< by junction: the one whose node it shares
  bool exact_ = false, careful_ = false;
  bool warmed_ = false;               ///< parts hold the liquids of the present temperatures
  int anchor_ = -1;
  double anchor_kelvin_ = 0.0, anchor_heat_ = 0.0;
  std::vector<Leg> legs_;
  std::vector<Said> said_;            ///< by part
  double expected_ = 1.0;             ///< error of the iterate before; of the first one, all
  std::vector<Slots> slots_;
  std::vector<Heated> heated_;
  std::vector<int> exchanger_slots_;
  std::vector<double> node_residual_;  ///< by junction
  solver::FixedLU matrix_;
  solver::FixedLU warmth_;             ///< of `matrix_` the rows and columns of temperatures, for steps of them alone
  std::vector<std::pair<int, int>> warmth_places_;  ///< of its entries: in `matrix_`, in itself
  std::vector<int> diagonal_;
  std::vector<double> right_side_, step_, step_pressure_, step_flow_, step_temperature_, step_mean_;
  double time_step_ = 0.0, mean_lag_ = 0.0, node_lag_ = 0.0;
  double energy_error_ = 0.0, heat_moved_ = 0.0, mean_error_ = 0.0;
  int worst_node_ = -1, limit_node_ = -1;
  bool at_limit_ = false;
};

}  // namespace flarenut::analysis
