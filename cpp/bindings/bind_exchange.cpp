#include <pybind11/native_enum.h>
#include <pybind11/pybind11.h>

#include "bindings.hpp"
#include "flarenut/correlations/exchange.hpp"
#include "limits.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {
namespace {

namespace c = correlations;
using Arrangement = c::Arrangement;

void bind_arrangement(py::module_& m) {
  py::native_enum<Arrangement>(m, "Arrangement", "enum.Enum", "How the two streams of an exchanger run past each other.")
      .value("counterflow", Arrangement::counterflow)
      .value("parallel_flow", Arrangement::parallel_flow)
      .value("cross_flow_unmixed", Arrangement::cross_flow_unmixed)
      .value("cross_flow_first_mixed", Arrangement::cross_flow_first_mixed)
      .value("cross_flow_second_mixed", Arrangement::cross_flow_second_mixed)
      .value("cross_flow_mixed", Arrangement::cross_flow_mixed)
      .value("shell_and_tube", Arrangement::shell_and_tube)
      .finalize();
  m.def("swapped", &c::swapped, "arrangement"_a, "The same arrangement with its two streams named the other way round.");
  m.def("turned_round", &c::turned_round, "arrangement"_a,
        "The arrangement after one stream has reversed: counterflow and parallel flow change places.");
}

void bind_effectiveness(py::module_& m) {
  m.def("effectiveness", [](Arrangement arrangement, double ntu, double capacity_ratio) {
    within("effectiveness", "ntu", ntu, 0.0);
    within("effectiveness", "capacity_ratio", capacity_ratio, 0.0, 1.0);
    return c::effectiveness(arrangement, ntu, capacity_ratio);
  }, "arrangement"_a, "ntu"_a, "capacity_ratio"_a, R"(Heat moved over the most any exchanger could move, 0 to 1.

ntu = UA/Cmin, 0 and up; capacity_ratio = Cmin/Cmax, 0 to 1; "first" in the arrangement is the stream of the smaller
capacity rate. ValueError outside. Kays and London 1964; equations in cpp/flarenut/correlations/effectiveness.hpp.

>>> from flarenut._core.heat_transfer import Arrangement, effectiveness
>>> round(effectiveness(Arrangement.cross_flow_unmixed, 2.0, 0.5), 4)
0.7324
)");
  m.def("cross_flow_unmixed_approximation", [](double ntu, double capacity_ratio) {
    within("cross_flow_unmixed_approximation", "ntu", ntu, 0.0);
    within("cross_flow_unmixed_approximation", "capacity_ratio", capacity_ratio, 0.0, 1.0);
    return c::cross_flow_unmixed_approximation(ntu, capacity_ratio);
  }, "ntu"_a, "capacity_ratio"_a, R"(Effectiveness of cross flow, neither stream mixed, by the usual approximation; for comparison.

ntu 0 and up, capacity_ratio 0 to 1; ValueError outside. Within 4 % of the exact series.

>>> from flarenut._core.heat_transfer import cross_flow_unmixed_approximation
>>> round(cross_flow_unmixed_approximation(2.0, 0.5), 4)
0.7388
)");
  m.def("effectiveness_in_series", [](double count, double of_one, double capacity_ratio) {
    within("effectiveness_in_series", "count", count, 1.0);
    within("effectiveness_in_series", "of_one", of_one, 0.0, 1.0);
    within("effectiveness_in_series", "capacity_ratio", capacity_ratio, 0.0, 1.0);
    return c::effectiveness_in_series(count, of_one, capacity_ratio);
  }, "count"_a, "of_one"_a, "capacity_ratio"_a, R"(Effectiveness of like units, the streams running against each other from unit to unit.

count 1 and up; of_one, the effectiveness of each, 0 to 1; capacity_ratio 0 to 1. ValueError outside.

>>> from flarenut._core.heat_transfer import Arrangement, effectiveness, effectiveness_in_series
>>> shell = effectiveness(Arrangement.shell_and_tube, 0.8, 0.5)
>>> round(effectiveness_in_series(2, shell, 0.5), 4)
0.6946
)");
  m.def("ntu_from_effectiveness", [](Arrangement arrangement, double effectiveness, double capacity_ratio) {
    within("exchanger", "effectiveness", effectiveness, 0.0, 1.0);
    within("exchanger", "capacity_ratio", capacity_ratio, 0.0, 1.0);
    return c::ntu_from_effectiveness(arrangement, effectiveness, capacity_ratio);
  }, "arrangement"_a, "effectiveness"_a, "capacity_ratio"_a, R"(NTU that gives an effectiveness.

effectiveness and capacity_ratio 0 to 1. ValueError outside, and where the arrangement cannot reach it.

>>> from flarenut._core.heat_transfer import Arrangement, ntu_from_effectiveness
>>> round(ntu_from_effectiveness(Arrangement.counterflow, 0.5, 1.0), 6)
1.0
)");
}

void bind_exchangers(py::module_& m) {
  using Exchange = c::Exchange<double>;
  py::class_<Exchange>(m, "Exchange", "What an exchanger does at one pair of capacity rates.")
      .def_readonly("heat_per_inlet_difference", &Exchange::heat_per_inlet_difference, "Heat per degree between the inlets [W/K].")
      .def_readonly("first_share", &Exchange::first_share, "Share of that difference by which the first stream changes, 0 to 1.")
      .def_readonly("second_share", &Exchange::second_share, "The same of the second stream.");
  const auto check = [](double first, double second) {
    within("exchanger", "first_capacity_rate", first, 0.0);
    within("exchanger", "second_capacity_rate", second, 0.0);
  };
  m.def("exchange", [check](Arrangement arrangement, double conductance, double first, double second) {
    within("exchanger", "conductance", conductance, 0.0);
    check(first, second);
    return c::exchange(arrangement, conductance, first, second);
  }, "arrangement"_a, "conductance"_a, "first_capacity_rate"_a, "second_capacity_rate"_a, R"(Heat and outlet shares of an exchanger.

conductance UA and capacity rates (mass flow times specific heat) [W/K], all 0 and up; ValueError below. Defined where
either stream stands still, smooth where the rates cross.

>>> from flarenut._core.heat_transfer import Arrangement, exchange
>>> cooler = exchange(Arrangement.cross_flow_unmixed, 90.0, 200.0, 600.0)  # oil, air
>>> oil, air = 110.0, 30.0
>>> round(oil - cooler.first_share * (oil - air), 1), round(cooler.heat_per_inlet_difference * (oil - air))
(82.7, 5467)
)");
  m.def("heat_moved", [check](Arrangement arrangement, double conductance, double first, double second, double first_inlet,
                              double second_inlet) {
    within("exchanger", "conductance", conductance, 0.0);
    check(first, second);
    within("exchanger", "first_inlet", first_inlet, 0.0);
    within("exchanger", "second_inlet", second_inlet, 0.0);
    return c::heat_moved(arrangement, conductance, first, second, first_inlet, second_inlet);
  }, "arrangement"_a, "conductance"_a, "first_capacity_rate"_a, "second_capacity_rate"_a, "first_inlet"_a, "second_inlet"_a,
        R"(Heat [W] that passes from the first stream to the second.

conductance UA and capacity rates [W/K], 0 and up; inlet temperatures [K], 0 and up. ValueError below.

>>> from flarenut._core.heat_transfer import Arrangement, heat_moved
>>> round(heat_moved(Arrangement.counterflow, 120.0, 180.0, 400.0, 383.15, 353.15), 1)
2408.8
)");
  m.def("conductance_from_heat", [](Arrangement arrangement, double heat, double first, double second) {
    within("exchanger", "heat_per_inlet_difference", heat, 0.0);
    above_zero("exchanger", "first_capacity_rate", first);
    above_zero("exchanger", "second_capacity_rate", second);
    return c::conductance_from_heat(arrangement, heat, first, second);
  }, "arrangement"_a, "heat_per_inlet_difference"_a, "first_capacity_rate"_a, "second_capacity_rate"_a,
        R"(UA [W/K] from a rating: heat over the difference of the inlet temperatures.

heat_per_inlet_difference [W/K], 0 and up; capacity rates at the rating [W/K], above 0. ValueError otherwise, and where the
arrangement cannot move that heat.

>>> from flarenut._core.heat_transfer import Arrangement, conductance_from_heat
>>> round(conductance_from_heat(Arrangement.counterflow, 50.0, 100.0, 100.0), 6)
100.0
)");
}

}  // namespace

/// Exchangers; the rest of `_core.heat_transfer` is in bind_heat_transfer.cpp, which makes the module.
void bind_exchange(py::module_& heat_transfer) {
  bind_arrangement(heat_transfer);
  bind_effectiveness(heat_transfer);
  bind_exchangers(heat_transfer);
}

}  // namespace flarenut::bindings
