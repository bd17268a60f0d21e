#pragma once
/// The law suite: what every kind of part must obey, whatever it is.
///
/// It runs over every kind that `network::kind_names()` lists; a kind without a row here fails. A new part adds a row
/// in `rows_*.cpp`: typical numbers, representative states, and paths that lead through its switching points. Each
/// law answers with a list of findings, empty when obeyed. What a part cannot help breaking stands in its row as a
/// known failure with its reason, which is printed; a known failure that no longer fails is itself a failure.
///
/// Judges: central differences with Ridders' extrapolation (C. J. F. Ridders, Adv. Eng. Software 4, 1982) for
/// slopes; the second law of thermodynamics for energy; the contract in `parts/part.hpp` for the rest.

#include <string>
#include <utility>
#include <vector>

#include "flarenut/network/element.hpp"

namespace laws {

using flarenut::Regime;
using flarenut::network::Element;
using Findings = std::vector<std::string>;
/// Pressures at the ports, sensed pressures, flows: SI, as `Element` takes them.
using Point = std::vector<double>;

struct Path {
  Point from, to;
};

struct KnownFailure {
  std::string law, reason;
};

struct Row {
  std::string kind;
  std::string variant;  ///< what sets this row apart from others of the kind
  std::vector<std::pair<std::string, double>> fields;
  std::vector<std::pair<std::string, std::vector<double>>> columns;
  std::vector<Point> states;
  std::vector<Path> paths;
  std::vector<Regime> regimes;  ///< every one must be met somewhere on the paths, with some liquid
  bool passive = true;          ///< false: brings energy in, such as a pump
  std::vector<KnownFailure> known_failures;

  std::string name() const { return variant.empty() ? kind : kind + " (" + variant + ")"; }
};

std::vector<Row> all_rows();
std::vector<Row> rows_of_lines();
std::vector<Row> rows_of_fittings();
std::vector<Row> rows_of_valves();
std::vector<Row> rows_of_pumps();

struct NamedLiquid {
  std::string name;
  flarenut::fluids::LiquidState<> state;
};
/// Petrol, oil at a cold start, and water: two thousandfold in viscosity.
std::vector<NamedLiquid> liquids();

/// The row's part, its numbers set, prepared for a liquid.
std::unique_ptr<Element> build(const Row& row, const NamedLiquid& liquid);

/// Shorthand for the index arithmetic of a point.
struct Layout {
  explicit Layout(const Element& element)
      : ports(element.shape().ports), flows(element.shape().flows), pressures(ports + element.shape().senses),
        entries(pressures + flows) {}
  int ports, flows, pressures, entries;
  int flow(int index) const { return pressures + index; }
};

/// Residuals with slopes in one table: slope(f, entry).
struct Answer {
  std::vector<double> residual;
  std::vector<std::vector<double>> slope;
};
Answer ask(const Element& element, const Point& point);

/// The row's states, and each again with its flows at rest, backward, much smaller and much larger.
std::vector<Point> spread(const Row& row, const Element& element);

/// The flow f at which residual f is zero, the rest of the point held: the residual falls with its flow. False when
/// no flow up to a thousand tonnes a second does it.
bool solve_flow(const Element& element, Point& point, int f);

std::string text(const Point& point);

// ---- the laws ----

struct Law {
  std::string name;
  std::string meaning;
  Findings (*check)(const Row& row, const NamedLiquid& liquid);
};
std::vector<Law> all_laws();

Findings slopes_match_differences(const Row&, const NamedLiquid&);
Findings number_slopes_match_differences(const Row&, const NamedLiquid&);
Findings slopes_together_are_those_one_by_one(const Row&, const NamedLiquid&);
Findings more_flow_costs_more(const Row&, const NamedLiquid&);
Findings flows_can_be_solved(const Row&, const NamedLiquid&);
Findings supply_pressure_drives_flow(const Row&, const NamedLiquid&);
Findings no_jump_in_value_or_slope(const Row&, const NamedLiquid&);
Findings no_free_energy(const Row&, const NamedLiquid&);
Findings finite_everywhere(const Row&, const NamedLiquid&);
Findings limiter_pulls_back_and_rests(const Row&, const NamedLiquid&);
Findings start_is_usable(const Row&, const NamedLiquid&);
Findings bad_numbers_are_refused(const Row&, const NamedLiquid&);

}  // namespace laws
