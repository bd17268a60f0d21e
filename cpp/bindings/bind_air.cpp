#include <pybind11/pybind11.h>

#include "bindings.hpp"
#include "flarenut/fluids/air.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

/// Air joins the liquids in `_core.fluids`; call after `bind_fluids`.
void bind_air(py::module_& module) {
  using fluids::AirState;
  py::module_ m = module.attr("fluids");
  py::class_<AirState<>>(m, "AirState", "Properties of dry air at one temperature and pressure.")
      .def_property_readonly("density", [](const AirState<>& s) { return s.density.value(); }, "[kg/m3]")
      .def_property_readonly("viscosity", [](const AirState<>& s) { return s.viscosity.value(); }, "Dynamic [Pa s]")
      .def_property_readonly("kinematic_viscosity", [](const AirState<>& s) { return s.kinematic_viscosity().value(); }, "[m2/s]")
      .def_property_readonly("specific_heat", [](const AirState<>& s) { return s.specific_heat.value(); },
                             "At constant pressure [J/(kg K)]")
      .def_property_readonly("conductivity", [](const AirState<>& s) { return s.conductivity.value(); }, "[W/(m K)]")
      .def_property_readonly("thermal_diffusivity", &AirState<>::thermal_diffusivity, "[m2/s]")
      .def_property_readonly("prandtl", &AirState<>::prandtl, "Viscosity times specific heat over conductivity.")
      .def_property_readonly("expansion", [](const AirState<>& s) { return s.expansion().value(); }, "[1/K]")
      .def_property_readonly("temperature", [](const AirState<>& s) { return s.temperature.value(); }, "[K]");
  m.def("air_at", [](double temperature, double pressure) {
    return fluids::air_at(Temperature<>::from_value(temperature), AbsolutePressure<>::from_value(pressure));
  }, "temperature"_a, "pressure"_a = 101325.0, R"(Dry air: temperature [K], 200 to 1000; pressure [Pa absolute], above 0 to 500 kPa.

ValueError outside. Thin-gas equations of Lemmon and Jacobsen 2004 and NASA TP-2002-211556; 0.1 to 0.3 % at one atmosphere.

>>> from flarenut._core.fluids import air_at
>>> air = air_at(313.15)
>>> round(air.density, 3), round(air.conductivity, 4), round(air.prandtl, 3)
(1.127, 0.0273, 0.705)
)");
}

}  // namespace flarenut::bindings
