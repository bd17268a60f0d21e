#pragma once
/// What gradients keep between calls, and how they are put together. See `gradient.hpp`.

#include <vector>

#include "flarenut/analysis/slope_field.hpp"

namespace flarenut::analysis {

/// Not to be copied, as the field in it is not: `where_` points into both.
class Gradients {
 public:
  Gradients(const Plan& plan, const DropField& drops, LawsBy laws);

  /// Slopes of `output` with all numbers of the plan, in their order, at the linearisation of `system`.
  void find(FlowSystem& system, const Output& output, std::vector<double>& slopes);
  /// With some.
  void find(FlowSystem& system, const Output& output, const std::vector<int>& numbers, std::vector<double>& slopes);

 private:
  /// How density and viscosity of a liquid go with its temperature, and with the ambient pressure.
  struct LiquidSlopes {
    int liquid;
    double kelvin, ambient;
    double heaviness = 0.0;  ///< its density there
    std::array<double, 2> density{}, viscosity{};
  };
  /// How the pressure of a tank goes with its fields, then with ambient pressure, temperature and acceleration.
  static constexpr int tank_fields = std::tuple_size_v<decltype(parts::TankSpec<>::fields())>, tank_inputs = tank_fields + 5;
  using TankSlopes = std::array<double, tank_inputs>;

  struct Held {
    int junction;
    bool tank;
    TankSlopes slope;  ///< of a given pressure only the first
  };

  void work_out(FlowSystem& system, const Output& output, const std::vector<char>* needed);
  const std::vector<char>* need(const std::vector<int>& numbers);
  const double* place_of(const network::NumberPlace& place, const std::vector<int>& seat) const;
  void find_liquids(const std::vector<char>* needed);
  void find_junctions();
  const LiquidSlopes& liquid_slopes(int liquid, double kelvin);
  TankSlopes tank_slopes(int junction);

  const Plan& plan_;
  Adjoint adjoint_;
  SlopeField field_;
  std::vector<int> liquid_of_;   ///< by part
  std::vector<double> warming_;  ///< by part: slope with its temperature
  std::vector<int> demands_;     ///< unknowns
  std::vector<double> demand_slope_;
  std::vector<Held> held_;
  std::array<double, 5> surroundings_{};  ///< ambient pressure, temperature of the liquid, acceleration
  std::vector<const double*> where_;      ///< by number: its slope among the above, or in the field
  std::vector<LiquidSlopes> liquids_;
  std::vector<char> needed_;
};

}  // namespace flarenut::analysis
