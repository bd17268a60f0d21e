// Liquids from what a can or a data sheet says, and the few formulas about them, for Python. SI numbers only.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "fluid_bindings.hpp"
#include "flarenut/fluids/atmosphere.hpp"
#include "flarenut/fluids/coolants.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/fluids/stiffness.hpp"
#include "flarenut/fluids/viscosity_index.hpp"

namespace py = pybind11;
using namespace py::literals;

namespace flarenut::bindings {

using namespace flarenut::fluids;

namespace {

void bind_makers(py::module_& m) {
  m.def("oil", [](std::string name, const std::vector<std::pair<double, double>>& viscosities, double density_15,
                  std::optional<double> pour_point, std::string source, std::string how, double grade_band,
                  double density_band, const std::vector<std::pair<double, double>>& cold_samples, std::string cold_caution,
                  std::string cold_reason) {
    OilSpec spec;
    spec.name = std::move(name);
    for (const auto& [temperature, viscosity] : viscosities)
      spec.viscosities.push_back({kelvin(temperature), KinematicViscosity<>::from_value(viscosity)});
    spec.density_15 = Density<>::from_value(density_15);
    if (pour_point) spec.pour_point = kelvin(*pour_point);
    spec.source = std::move(source);
    spec.how = std::move(how);
    spec.grade_band = grade_band;
    spec.density_band = density_band;
    for (const auto& [temperature, viscosity] : cold_samples)
      spec.cold_samples.push_back({kelvin(temperature), KinematicViscosity<>::from_value(viscosity)});
    spec.cold_caution = std::move(cold_caution);
    spec.cold_reason = std::move(cold_reason);
    return oil(spec);
  }, "name"_a, "viscosities"_a, "density_15"_a, "pour_point"_a = py::none(), "source"_a = "given by the user",
        "how"_a = "given by the user", "grade_band"_a = 0.0, "density_band"_a = 0.0, "cold_samples"_a = std::vector<std::pair<double, double>>{},
        "cold_caution"_a = "", "cold_reason"_a = "",
        "Oil from (temperature [K], kinematic viscosity [m2/s]) points and density at 15 degC [kg/m3].");

  m.def("constant_liquid", [](std::string name, double density, double viscosity, double vapour_pressure,
                              std::optional<double> specific_heat, std::optional<double> conductivity,
                              std::optional<double> bulk_modulus) {
    ConstantLiquidSpec spec;
    spec.name = std::move(name);
    spec.density = Density<>::from_value(density);
    spec.viscosity = DynamicViscosity<>::from_value(viscosity);
    spec.vapour_pressure = absolute(vapour_pressure);
    if (specific_heat) spec.specific_heat = SpecificHeat<>::from_value(*specific_heat);
    if (conductivity) spec.conductivity = ThermalConductivity<>::from_value(*conductivity);
    if (bulk_modulus) spec.bulk_modulus = PressureDifference<>::from_value(*bulk_modulus);
    return constant_liquid(spec);
  }, "name"_a, "density"_a, "viscosity"_a, "vapour_pressure"_a = 0.0, "specific_heat"_a = py::none(),
        "conductivity"_a = py::none(), "bulk_modulus"_a = py::none(),
        "Liquid that does not change: density [kg/m3], dynamic viscosity [Pa s], the rest SI.");

  py::class_<ViscosityIndexTable>(m, "ViscosityIndexTable", "L and H of ASTM D2270 over viscosity at 100 degC [mm2/s].")
      .def(py::init([](std::vector<double> viscosity_100, std::vector<double> low, std::vector<double> high) {
        return ViscosityIndexTable{std::move(viscosity_100), std::move(low), std::move(high)};
      }), "viscosity_100"_a, "low"_a, "high"_a);
  m.def("viscosity_index", &viscosity_index, "table"_a, "viscosity_40"_a, "viscosity_100"_a,
        "ASTM D2270 index from kinematic viscosities [mm2/s].");
  m.def("viscosity_100_from_index", &viscosity_100_from_index, "table"_a, "viscosity_40"_a, "index"_a,
        "Kinematic viscosity at 100 degC [mm2/s] from that at 40 degC [mm2/s] and the index.");

  m.def("viscosity_40_from_index", &viscosity_40_from_index, "table"_a, "viscosity_100"_a, "index"_a,
        "Kinematic viscosity at 40 degC [mm2/s] from that at 100 degC [mm2/s] and the index.");

  m.def("standard_pressure", [](double altitude) {
    return standard_pressure(Length<>::from_value(altitude)).value();
  }, "altitude"_a, "Ambient pressure [Pa] of the U.S. Standard Atmosphere 1976 at an altitude [m].");
  m.def("standard_temperature", [](double altitude) {
    return standard_temperature(Length<>::from_value(altitude)).value();
  }, "altitude"_a, "Air temperature [K] of the U.S. Standard Atmosphere 1976 at an altitude [m].");
}

void bind_coolants(py::module_& m) {
  py::class_<GlycolColumn>(m, "GlycolColumn", "The laws of glycol in water at one share by volume.")
      .def(py::init([](double volume_share, const AnyLaw& density, const AnyLaw& viscosity, const AnyLaw& specific_heat,
                       const AnyLaw& conductivity) {
        return GlycolColumn{volume_share, density.law, viscosity.law, specific_heat.law, conductivity.law};
      }), "volume_share"_a, "density"_a, "viscosity"_a, "specific_heat"_a, "conductivity"_a,
          "Share from 0 to 1; viscosity is dynamic.");
  m.def("glycol_coolant", [](std::string name, double volume_share, std::vector<GlycolColumn> columns,
                             std::vector<double> freezing_share, std::vector<double> freezing_temperature,
                             std::vector<double> mass_share, double glycol_molar_mass, const AnyLaw& water_vapour_pressure,
                             const AnyLaw& bulk_modulus, double data_most, double hottest, double lean_band, std::string source) {
    return glycol_coolant({std::move(name), volume_share, std::move(columns), std::move(freezing_share),
                           std::move(freezing_temperature), std::move(mass_share), glycol_molar_mass,
                           water_vapour_pressure.law, bulk_modulus.law, hottest, data_most, lean_band, std::move(source)});
  }, "name"_a, "volume_share"_a, "columns"_a, "freezing_share"_a, "freezing_temperature"_a, "mass_share"_a,
        "glycol_molar_mass"_a, "water_vapour_pressure"_a, "bulk_modulus"_a, "data_most"_a, "hottest"_a, "lean_band"_a, "source"_a,
        "Glycol and water at a share by volume, 0 to 1; temperatures [K], molar mass [kg/mol].");
}

void bind_stiffness(py::module_& m) {
  m.def("aerated_modulus", &aerated_modulus<double>, "liquid_modulus"_a, "air_per_liquid"_a, "pressure"_a, "exponent"_a,
        "Bulk modulus [Pa] with free air: volume of air per liquid at one atmosphere, absolute pressure [Pa], 1 slow to 1.4 fast.");
  m.def("isentropic_modulus", &isentropic_modulus<double>, "isothermal_modulus"_a, "temperature"_a, "expansion"_a, "density"_a,
        "specific_heat"_a, "Fast bulk modulus [Pa] from the slow one, SI.");
  m.def("trapped_pressure_rise", &trapped_pressure_rise<double>, "modulus"_a, "expansion"_a, "warming"_a,
        "Pressure rise [Pa] of a liquid shut in and warmed by `warming` [K].");
}

}  // namespace

void bind_liquid_makers(py::module_& m) {
  bind_makers(m);
  bind_coolants(m);
  bind_stiffness(m);
}

}  // namespace flarenut::bindings
