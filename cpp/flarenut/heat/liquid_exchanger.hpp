#pragma once
/// Liquid exchanger: two liquids on either side of a wall. Plate or tube cooler between oil and coolant, the tube in a radiator's tank.
///
///     1/UA = 1/(h A)_first + R_wall + 1/(h A)_second     [K/W]
///     Q = K(arrangement, UA, C_first, C_second) (T_first,in − T_second,in)     [W], from the first stream into the second
///
/// (h A) of each side: `passages.hpp`. K: `correlations/exchange.hpp`, which never lets an outlet pass the other's inlet.
///
/// `arrangement` is how the streams run past each other when both run forward, as the number of its name in this row:
///
///     0 counterflow, 1 parallel flow, 2 cross flow with neither mixed, 3 with the first mixed, 4 with the second mixed,
///     5 with both mixed, 6 one shell pass (mixed) with an even number of tube passes
///
/// When one of the two runs backwards counterflow becomes parallel flow and the other way about.
///
/// A plate stack: bore twice the gap, length of a plate along the flow, area of the plates on that side. A tube in a tank: the oil in it
/// has the tube's bore; the coolant around it creeps and is hard to know: enhancement on its side stands for a measurement.
///
/// Assumes: steady; no heat to the air; flows spread evenly; viscosity at the wall as in the stream.
/// Range: any flows, rest included. Sign: heat from first to second.

#include <cmath>

#include "flarenut/correlations/exchange.hpp"
#include "flarenut/correlations/mean_share.hpp"
#include "flarenut/heat/passages.hpp"

namespace flarenut::heat {

template <Number N = double>
struct LiquidExchangerSpec {
  Length<N> first_bore{}, first_length{};
  Area<N> first_area{};
  Ratio<N> first_enhancement = Ratio<N>::from_value(N(1.0));  ///< plain bore; corrugated plates 2–6 (common practice, no source)
  Length<N> second_bore{}, second_length{};
  Area<N> second_area{};
  Ratio<N> second_enhancement = Ratio<N>::from_value(N(1.0));
  Ratio<N> wall_resistance{};  ///< of the metal and of dirt on both sides [K/W]; thin metal: 0
  Ratio<N> arrangement{};      ///< counterflow, as plate coolers are plumbed

  static constexpr auto fields() {
    using S = LiquidExchangerSpec;
    using L = Length<N>;
    using R = Ratio<N>;
    return std::tuple{
        Field<S, L>{"first_bore", &S::first_bore, 1e-4, 0.5, "m", "hydraulic bore of the first side"},
        Field<S, L>{"first_length", &S::first_length, 1e-3, 100.0, "m", "way of the liquid through the first side"},
        Field<S, Area<N>>{"first_area", &S::first_area, 1e-5, 100.0, "m2", "area wetted on the first side"},
        Field<S, R>{"first_enhancement", &S::first_enhancement, 0.1, 50.0, "", "how much better than a plain bore the first side does"},
        Field<S, L>{"second_bore", &S::second_bore, 1e-4, 0.5, "m", "hydraulic bore of the second side"},
        Field<S, L>{"second_length", &S::second_length, 1e-3, 100.0, "m", "way of the liquid through the second side"},
        Field<S, Area<N>>{"second_area", &S::second_area, 1e-5, 100.0, "m2", "area wetted on the second side"},
        Field<S, R>{"second_enhancement", &S::second_enhancement, 0.1, 50.0, "", "how much better than a plain bore the second side does"},
        Field<S, R>{"wall_resistance", &S::wall_resistance, 0.0, 1e3, "K/W", "of the metal and of dirt on both sides"},
        Field<S, R>{"arrangement", &S::arrangement, 0.0, 6.0, "",
                    "0 counterflow, 1 parallel, cross flow: 2 unmixed, 3 first mixed, 4 second mixed, 5 both mixed; 6 shell and tube"},
    };
  }
  void check(std::string_view part) const {
    const double number = value_of(arrangement.value());
    if (number != std::round(number)) throw InputError(part, "arrangement", "is not a whole number; give one from 0 to 6");
  }
};

template <Number N = double>
class LiquidExchanger {
 public:
  template <Number M>
  using Spec = LiquidExchangerSpec<M>;
  static constexpr std::string_view kind = "liquid exchanger";
  static constexpr int streams = 2;

  LiquidExchanger(const LiquidExchangerSpec<N>& spec, const Surroundings&)
      : first_(spec.first_bore, spec.first_length, spec.first_area, spec.first_enhancement),
        second_(spec.second_bore, spec.second_length, spec.second_area, spec.second_enhancement),
        wall_resistance_(spec.wall_resistance.value()),
        arrangement_(static_cast<correlations::Arrangement>(static_cast<int>(value_of(spec.arrangement.value())))) {}

  template <Number M>
  Exchanged<Mixed<N, M>> exchange(const Stream<M>& first, const Stream<M>& second) const {
    using T = Mixed<N, M>;
    const auto arrangement = first.forward == second.forward ? arrangement_ : correlations::turned_round(arrangement_);
    const T conductance = 1.0 / (1.0 / first_.conductance(first) + wall_resistance_ + 1.0 / second_.conductance(second));
    const T one(first.capacity_rate().value()), other(second.capacity_rate().value());
    const auto moved = correlations::exchange(arrangement, conductance, one, other);
    const auto shares = correlations::exchange_mean_shares(arrangement, conductance, one, other);
    const T heat = moved.heat_per_inlet_difference * (first.inlet.value() - second.inlet.value());
    return {Power<T>::from_value(heat), shares.first, shares.second};
  }

 private:
  Passages<N> first_, second_;
  N wall_resistance_;
  correlations::Arrangement arrangement_;
};

}  // namespace flarenut::heat
