// Gases and boiling refrigerants for Python. SI numbers only.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <string>
#include <utility>

#include "fluid_bindings.hpp"
#include "flarenut/fluids/gas.hpp"
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

  py::class_<GasState<>>(m, "GasState", "Properties of a gas at one temperature and pressure.")
      .def_property_readonly("density", [](const GasState<>& s) { return s.density.value(); }, "[kg/m3]")
      .def_property_readonly("viscosity", [](const GasState<>& s) { return s.viscosity.value(); }, "Dynamic [Pa s]")
      .def_property_readonly("specific_heat", [](const GasState<>& s) { return s.specific_heat.value(); }, "[J/(kg K)]")
      .def_property_readonly("conductivity", [](const GasState<>& s) { return s.conductivity.value(); }, "[W/(m K)]")
      .def_property_readonly("temperature", [](const GasState<>& s) { return s.temperature.value(); }, "[K]");
  py::class_<Gas>(m, "Gas", "A gas: properties only, none flows in a circuit.")
      .def(py::init([](std::string name, double gas_constant, const AnyLaw& viscosity, const AnyLaw& conductivity,
                       const AnyLaw& specific_heat, double least, double most, double most_pressure) {
        return Gas({std::move(name), gas_constant, viscosity.law, conductivity.law, specific_heat.law, least, most, most_pressure});
      }), "name"_a, "gas_constant"_a, "viscosity"_a, "conductivity"_a, "specific_heat"_a, "least"_a, "most"_a, "most_pressure"_a,
          "Gas constant [J/(kg K)]; from `least` to `most` [K], up to `most_pressure` [Pa].")
      .def("at", [](const Gas& gas, double temperature, double pressure) {
        return gas.at(kelvin(temperature), absolute(pressure));
      }, "temperature"_a, "pressure"_a = reference_pressure_pascal, "State at a temperature [K] and absolute pressure [Pa].");
}

}  // namespace flarenut::bindings
