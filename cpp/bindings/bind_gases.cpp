// Air and boiling refrigerants for Python. SI numbers only.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <string>
#include <utility>

#include "fluid_bindings.hpp"
#include "flarenut/fluids/air.hpp"
#include "flarenut/fluids/saturation.hpp"

namespace py = pybind11;
using namespace py::literals;

namespace flarenut::bindings {

using namespace flarenut::fluids;

void bind_gases(py::module_& m) {
  py::class_<SaturationState<>>(m, "SaturationState", "Liquid and vapour of a refrigerant side by side.")
      .def_property_readonly("temperature", [](const SaturationState<>& s) { return s.temperature.value(); }, "[K]")
      .def_property_readonly("pressure", [](const SaturationState<>& s) { return s.pressure.value(); }, "Absolute [Pa]")
      .def_property_readonly("liquid_density", [](const SaturationState<>& s) { return s.liquid_density.value(); }, "[kg/m3]")
      .def_property_readonly("vapour_density", [](const SaturationState<>& s) { return s.vapour_density.value(); }, "[kg/m3]")
      .def_property_readonly("latent_heat", [](const SaturationState<>& s) { return s.latent_heat.value(); }, "[J/kg]");
  py::class_<Saturation>(m, "Saturation", "A refrigerant along its boiling curve.")
      .def(py::init([](std::string name, const AnyLaw& pressure, const AnyLaw& liquid_density, const AnyLaw& vapour_density,
                       double least, double most) {
        return Saturation({std::move(name), pressure.law, liquid_density.law, vapour_density.law, least, most});
      }), "name"_a, "pressure"_a, "liquid_density"_a, "vapour_density"_a, "least"_a, "most"_a, "Range from `least` to `most` [K].")
      .def("at", [](const Saturation& saturation, double temperature) { return saturation.at(kelvin(temperature)); },
           "temperature"_a, "State at a temperature [K].")
      .def("temperature", [](const Saturation& saturation, double pressure) {
        return saturation.temperature(absolute(pressure)).value();
      }, "pressure"_a, "Temperature [K] at which it boils under an absolute pressure [Pa].")
      .def_property_readonly("range", [](const Saturation& saturation) {
        return std::pair(saturation.record().least_kelvin, saturation.record().most_kelvin);
      }, "[K]");

  py::class_<AirState<>>(m, "AirState", "Properties of dry air at one temperature and pressure.")
      .def_property_readonly("density", [](const AirState<>& s) { return s.density.value(); }, "[kg/m3]")
      .def_property_readonly("viscosity", [](const AirState<>& s) { return s.viscosity.value(); }, "Dynamic [Pa s]")
      .def_property_readonly("kinematic_viscosity", [](const AirState<>& s) { return s.kinematic_viscosity().value(); }, "[m2/s]")
      .def_property_readonly("specific_heat", [](const AirState<>& s) { return s.specific_heat.value(); },
                             "At constant pressure [J/(kg K)]")
      .def_property_readonly("conductivity", [](const AirState<>& s) { return s.conductivity.value(); }, "[W/(m K)]")
      .def_property_readonly("thermal_diffusivity", &AirState<>::thermal_diffusivity, "[m2/s]")
      .def_property_readonly("prandtl", &AirState<>::prandtl, "Viscosity times specific heat over conductivity.")
      .def_property_readonly("expansion", [](const AirState<>& s) { return s.expansion.value(); }, "By volume [1/K]")
      .def_property_readonly("temperature", [](const AirState<>& s) { return s.temperature.value(); }, "[K]");
  m.def("air_at", [](double temperature, double pressure) { return air_at(kelvin(temperature), absolute(pressure)); },
        "temperature"_a, "pressure"_a = reference_pressure_pascal,
        R"(Dry air: temperature [K], 200 to 1000; pressure [Pa absolute], above 0 to 1 MPa.

ValueError outside. Equations of Lemmon and others 2000 and 2004, linear in density, and NASA TP-2002-211556; within 0.03 % at one
atmosphere, 0.4 % to 1 MPa.

>>> from flarenut._core.fluids import air_at
>>> air = air_at(313.15)
>>> round(air.density, 3), round(air.conductivity, 4), round(air.prandtl, 3)
(1.127, 0.0274, 0.706)
)");
}

}  // namespace flarenut::bindings
