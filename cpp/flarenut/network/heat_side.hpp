#pragma once
/// The heat of a plan: the numbers of its heat laws by name, and the laws themselves, ready to be asked.
///
///   "<part>.heat", "<junction>.heat"     heat put in                                              W
///   "<part>.<field>"                     a number of the heat law on that part                    SI
///   "<part>.efficiency"                  of a pump: flow work over the power that reaches the liquid
///   "<part>.power"                       of a pump: that power [W]; 0 where it is not said and follows from the efficiency
///   "<part>.heat_capacity", "<junction>.heat_capacity"   of liquid and metal                      J/K
///   "<junction>.conductance"             to the air around                                        W/K
///   "<place>.temperature"                of what comes in there from outside; NaN: as the liquid's     K
///   "<exchanger>.<field>"                a number of an exchanger                                 SI
///   "air.temperature"                    around the vehicle                                       K

#include <string>
#include <vector>

#include "flarenut/network/network_heat.hpp"

namespace flarenut::network {

class Network;

class HeatSide {
 public:
  enum class What {
    part_heat, efficiency, terminals, part_capacity, law_field, exchanger_field, junction_heat, conductance, junction_capacity, inlet_temperature,
    air_temperature
  };
  struct Number {
    std::string name;
    What what;
    int owner = 0, field = 0;
    double least = 0.0, most = 0.0;
    const char* unit = "";
  };

  explicit HeatSide(const Network& network);

  const std::vector<Number>& numbers() const { return numbers_; }
  double get(int number) const;
  /// InputError when out of range; then nothing has changed.
  void set(int number, double value);

  /// The law of a part has been given other columns.
  void mark_stale(int part) { stale_part_[static_cast<std::size_t>(part)] = 1; }

  /// Builds those laws anew whose numbers have changed since, what they borrow of their parts, or the air. InputError naming the part or
  /// exchanger where the air is such that a law cannot be; all are built anew the next time.
  void prepare(const Network& network, double ambient_pressure);

  const JunctionHeat& junction(int index) const { return heat_.junctions[static_cast<std::size_t>(index)]; }
  const PartHeat& part(int index) const { return heat_.parts[static_cast<std::size_t>(index)]; }
  const std::vector<Exchanger>& exchangers() const { return heat_.exchangers; }
  double air_temperature() const { return air_temperature_; }
  /// Junction whose temperature a junction shares: the tank that it drains to, or itself.
  int node_of(int junction) const {
    const int tank = this->junction(junction).drains_to;
    return tank < 0 ? junction : tank;
  }

 private:
  /// A number of a part that its heat law works with.
  struct Loan {
    int part, field, as;
    double value;
  };
  void name_numbers(const Network& network);
  void note_loans(const Network& network);
  double& place(const Number& number);

  NetworkHeat heat_;
  std::vector<Number> numbers_;
  double air_temperature_ = 293.15;  ///< 20 °C until said otherwise
  std::vector<Loan> loans_;
  std::vector<char> stale_part_, stale_exchanger_;  ///< laws to be built anew
  double prepared_air_ = 0.0, prepared_pressure_ = 0.0;
};

}  // namespace flarenut::network
