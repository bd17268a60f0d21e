#pragma once
/// What warms and cools a network, as plain data: heat laws on parts, exchangers between two parts, and what is known of each place
/// and part. A network without any of it stands at given temperatures.

#include <optional>
#include <string>
#include <vector>

#include "flarenut/base/cloned.hpp"
#include "flarenut/network/heat_element.hpp"

namespace flarenut::network {

/// Heat at a junction.
struct JunctionHeat {
  double heat = 0.0;         ///< put into the liquid here [W]; an engine over its sump
  double conductance = 0.0;  ///< to the air around [W/K]; the walls of a sump
  double capacity = 0.0;     ///< of liquid and metal that stand here [J/K]; only time asks for it
  /// Of what comes in from outside the circuit: from a place of given pressure, a tank, a supply [K]. That of the liquid unless said.
  std::optional<double> temperature;
  bool mixes = false;        ///< a tank whose temperature is found from what returns to it, in place of being given
  int drains_to = -1;        ///< a place of given pressure whose liquid falls back into this tank: a crankcase over its sump
};

/// Heat of a part beside its law.
struct PartHeat {
  double heat = 0.0;        ///< put into the stream [W]: pistons over a gallery
  double efficiency = 1.0;  ///< of pumps: flow work over the power that comes to the liquid; the rest warms it
  double terminals = 0.0;   ///< of pumps: power taken in, all of it by the stream, in place of flow work over efficiency; 0: not said [W]
  double capacity = 0.0;    ///< of liquid and metal [J/K]
  Cloned<HeatElement> law;
  int senses = -1;          ///< junction whose temperature the part stands at (a thermostat's element); −1: its own stream's
};

/// Two parts that share a wall.
struct Exchanger {
  std::string name;
  Cloned<HeatElement> law;
  int first = 0, second = 0;  ///< parts
};

struct NetworkHeat {
  std::vector<JunctionHeat> junctions;  ///< by junction; short where the rest has nothing
  std::vector<PartHeat> parts;
  std::vector<Exchanger> exchangers;

  JunctionHeat& junction(int index);
  PartHeat& part(int index);
};

}  // namespace flarenut::network
