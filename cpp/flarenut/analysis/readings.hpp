#pragma once
/// What a gauge would show. The solver's pressures are total; a gauge at a tapping reads the static one:
///
///   static = total − ρ v² / 2        v = q / (ρ A) in the bore at that end (kinetic-energy factor 1)
///
/// and shows it relative to the ambient.

#include <string>
#include <vector>

#include "flarenut/analysis/diagnosis.hpp"
#include "flarenut/analysis/steady.hpp"

namespace flarenut::analysis {

/// One end of one part.
struct End {
  int junction = 0;
  double bore = 0.0;           ///< [m]; 0: so wide that the dynamic head is nil
  double flow = 0.0;           ///< mass flow into the part at this end [kg/s]
  double total = 0.0;          ///< [Pa abs]
  double static_ = 0.0;        ///< [Pa abs]
  double velocity = 0.0;       ///< magnitude, in the bore [m/s]
  double reynolds = 0.0;
  double vapour_margin = 0.0;  ///< static pressure above the liquid's vapour pressure there [Pa]
  double temperature = 0.0;    ///< of what passes there [K]
};

End end_of(const Plan& plan, const Solution& solution, int part, int port);
std::vector<End> ends_of(const Plan& plan, const Solution& solution, int part);

/// Temperature of the liquid at a junction, and of what passes an end of a part: that of the circuit where it is given [K].
double temperature_of_junction(const Plan& plan, const Solution& solution, int junction);
double temperature_of_end(const Plan& plan, const Solution& solution, int part, int port);
/// Into the stream of a part, without and of a pump's power; 0 where temperatures are given [W].
double heat_of_part(const Solution& solution, int part);
double power_of_part(const Solution& solution, int part);

/// The lowest margin to boiling on the way to a pump, and the head available at its inlet.
struct Suction {
  double margin = 0.0;          ///< least of static pressure − vapour pressure from pick-up to pump [Pa]
  std::string at;               ///< where that is: part name
  double inlet_gauge = 0.0;     ///< static pressure in the bore that feeds the pump, above ambient [Pa]; negative is vacuum
  double npsh_available = 0.0;  ///< net positive suction head: (total − vapour pressure) / (ρ g) at the inlet [m]
};

/// Looks upstream, against the flow, from the inlet of a pump to the tanks and fixed pressures that feed it.
Suction suction_of(const Plan& plan, const Solution& solution, int pump);

/// Least static pressure above vapour pressure at any end of any part [Pa]. Places of given pressure are left out: open air or a
/// manifold, where what is sprayed may boil.
double least_margin(const Plan& plan, const Solution& solution);

/// The point a part's laws were last asked about: port pressures at port 0's height, sensed pressures, flows.
std::vector<double> point_of(const Plan& plan, const Solution& solution, int part);
Regime regime_of(const Plan& plan, const Solution& solution, int part);

/// Everything in an answer that deserves a warning.
std::vector<Remark> remarks_on(const Plan& plan, const Solution& solution);

}  // namespace flarenut::analysis
