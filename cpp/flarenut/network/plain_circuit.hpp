#pragma once
/// A **plain** circuit: every part has two ends and one flow, and its law knows that flow alone (lines, fittings, orifices). Then the
/// slope of each junction's balance with the pressures is a symmetric matrix, and a large circuit is solved with half the memory and a
/// fraction of the time. This is such a circuit as the solver takes it: bare columns, by **place**. Places 0 … unknowns − 1 are the
/// free junctions; those of given pressure follow.

#include <vector>

#include "flarenut/network/plan.hpp"
#include "flarenut/parts/line.hpp"

namespace flarenut::network {

struct PlainCircuit {
  int unknowns = 0;
  std::vector<int> place;        ///< of each junction
  std::vector<int> from, to;     ///< of each part: places of its ends
  std::vector<double> held;      ///< pressures of given places [Pa abs]
  std::vector<double> demand;    ///< of each free place [kg/s]
  std::vector<double> head;      ///< of each part: brings the pressure at `to` to the height of `from` [Pa]; none: no heights
  double ambient = 0.0;          ///< where a cold solve begins [Pa abs]
  double flow_scale = 0.0;       ///< as `Plan::flow_scale`
  // The laws: of one kind or of the other.
  std::vector<parts::Line<>> lines;
  std::vector<const Element*> elements;

  int parts() const { return static_cast<int>(from.size()); }
  std::size_t bytes() const;

  /// Pressure that the law leaves over, and its slope with the flow (that with the pressures is +1 and −1).
  struct Law {
    double residual, slope;
  };
  Law law(std::size_t part, double from_pressure, double to_pressure, double flow) const;
  double start_flow(std::size_t part) const;
};

/// Whether all parts of a plan are plain.
bool is_plain(const Plan& plan);
/// The columns of a plain plan, which must outlive them; numbers are those at the last `update`.
PlainCircuit plain_circuit(const Plan& plan);
/// Takes over the plan's present numbers.
void update(PlainCircuit& circuit, const Plan& plan);

}  // namespace flarenut::network
