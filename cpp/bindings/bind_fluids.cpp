// Fluids for Python: property laws, and liquids made of them. SI numbers only; words and data files are Python's
// business (`flarenut.fluids`). Oils, coolants and gases are in bind_fluid_makers.cpp.

#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "fluid_bindings.hpp"
#include "flarenut/fluids/blends.hpp"
#include "flarenut/fluids/liquid.hpp"

namespace py = pybind11;
using namespace py::literals;

namespace flarenut::bindings {

using namespace flarenut::fluids;

namespace {

/// The fitted numbers of a law, for checking it against a published fit.
py::dict constants(const Law& law) {
  if (const auto* w = std::get_if<WaltherViscosity>(&law)) return py::dict("A"_a = w->intercept, "B"_a = w->slope);
  if (const auto* v = std::get_if<VogelViscosity>(&law))
    return py::dict("a"_a = v->scale, "b"_a = v->activation, "c"_a = v->offset);
  if (const auto* s = std::get_if<SaturationLine>(&law))
    return py::dict("A"_a = s->intercept, "B"_a = s->slope, "C"_a = s->offset);
  if (const auto* d = std::get_if<PetroleumDensity>(&law)) return py::dict("expansion"_a = d->expansion_15);
  return {};
}

template <std::size_t Count, class Value>
std::array<Value, Count> fixed(const std::vector<Value>& values, const char* what) {
  if (values.size() != Count)
    throw InputError("fluid data", what, "needs exactly " + std::to_string(Count) + " values");
  std::array<Value, Count> result{};
  std::copy(values.begin(), values.end(), result.begin());
  return result;
}

void bind_laws(py::module_& m) {
  py::class_<AnyLaw>(m, "Law", "How one property follows temperature.")
      .def("at", [](const AnyLaw& law, double temperature) { return evaluate(law.law, temperature); }, "temperature"_a,
           "Value at a temperature [K], in SI.")
      .def_property_readonly("constants", [](const AnyLaw& law) { return constants(law.law); },
                             "Fitted constants by the letters of the law's formula; empty for tables and polynomials.");
  const auto law = [&](const char* name, auto make, const char* doc, auto... arguments) {
    m.def(name, make, arguments..., doc);
  };
  law("polynomial", [](double reference, std::vector<double> coefficients) {
    if (coefficients.empty()) throw InputError("fluid data", "coefficients", "a polynomial needs at least one");
    return AnyLaw{Polynomial{reference, std::move(coefficients)}};
  }, "Sum of c_i (T - reference)^i; reference [K].", "reference"_a, "coefficients"_a);
  law("exponential", [](double reference, double value, double rate) {
    return AnyLaw{Exponential{reference, value, rate}};
  }, "value * exp(-rate (T - reference)); reference [K], rate [1/K].", "reference"_a, "value"_a, "rate"_a);
  law("petroleum_density", [](double density_15) {
    return AnyLaw{PetroleumDensity{density_15, petroleum_expansion(density_15)}};
  }, "ASTM D1250 refined products, from density at 15 degC [kg/m3].", "density_15"_a);
  law("lubricant_density", [](double density_15) {
    return AnyLaw{PetroleumDensity{density_15, lubricant_expansion(density_15)}};
  }, "ASTM D1250 lubricating oils, from density at 15 degC [kg/m3].", "density_15"_a);
  law("walther", [](double first_temperature, double first_viscosity, double second_temperature,
                    double second_viscosity, bool thin) {
    return AnyLaw{walther_through(first_temperature, first_viscosity / detail::mm2_s, second_temperature,
                                  second_viscosity / detail::mm2_s, thin)};
  }, "ASTM D341 through two points: temperatures [K], kinematic viscosities [m2/s]; thin below 2 mm2/s.",
      "first_temperature"_a, "first_viscosity"_a, "second_temperature"_a, "second_viscosity"_a, "thin"_a);
  law("vogel", [](const std::vector<double>& temperatures, const std::vector<double>& viscosities) {
    const auto t = fixed<3>(temperatures, "temperatures"), mu = fixed<3>(viscosities, "viscosities");
    return AnyLaw{vogel_through({t[0], t[1], t[2]}, {mu[0], mu[1], mu[2]})};
  }, "Vogel through three points: temperatures [K], dynamic viscosities [Pa s].", "temperatures"_a, "viscosities"_a);
  law("antoine_mmhg", [](double a, double b, double c) { return AnyLaw{antoine_mmhg(a, b, c)}; },
      "Antoine constants of log10(p/mmHg) = a - b/(c + t/degC).", "a"_a, "b"_a, "c"_a);
  law("boiling_line", [](double boiling_temperature, double heat_over_r_t) {
    return AnyLaw{boiling_line(boiling_temperature, heat_over_r_t)};
  }, "Vapour pressure from one boiling point [K] at one atmosphere and the heat of vaporisation over R T.",
      "boiling_temperature"_a, "heat_over_r_t"_a);
  law("refined_stock", [](double reid, double distillation_slope) {
    return AnyLaw{refined_stock_saturation(reid, distillation_slope)};
  }, "AP-42 vapour pressure of gasoline from its Reid vapour pressure [Pa].", "reid"_a, "distillation_slope"_a = 3.0);
  law("petroleum_specific_heat", [](double gravity) { return AnyLaw{petroleum_specific_heat(gravity)}; },
      "Cragoe, from specific gravity.", "specific_gravity"_a);
  law("petroleum_conductivity", [](double gravity) { return AnyLaw{petroleum_conductivity(gravity)}; },
      "Cragoe, from specific gravity.", "specific_gravity"_a);
  law("mineral_oil_bulk_modulus", [](double viscosity_20) {
    return AnyLaw{mineral_oil_bulk_modulus(viscosity_20 / detail::mm2_s)};
  }, "Hayward, from kinematic viscosity at 20 degC [m2/s].", "viscosity_20"_a);
  law("table", [](const std::string& scale, const std::vector<double>& temperatures, const std::vector<double>& values,
                  const std::string& what) {
    TableScale chosen = TableScale::plain;
    if (scale == "saturation") chosen = TableScale::saturation;
    else if (scale == "walther") chosen = TableScale::walther;
    else if (scale != "plain") throw InputError("fluid data", "scale", "'" + scale + "' is not plain, saturation or walther");
    return AnyLaw{table_through(chosen, temperatures, values, what)};
  }, "Monotone cubic through points: temperatures [K], values in SI.", "scale"_a, "temperatures"_a, "values"_a, "what"_a);
  // Mixing rules by themselves, for checking them against published blends.
  m.def("refutas", &viscosity_by_refutas<double>, "mass_share"_a, "first"_a, "second"_a,
        "Kinematic viscosity [mm2/s] of two liquids mixed.");
}

void bind_record(py::module_& m) {
  auto property = py::class_<Property>(m, "Property", "A law with its data range, its band and who says so.");
  property.def(py::init([](const AnyLaw& law, double least, double most, double band, double band_per_kelvin,
                           std::string source, std::string how, std::string cold_caution) {
    return Property{law.law, {least, most}, band, band_per_kelvin, std::move(source), std::move(how), std::move(cold_caution)};
  }), "law"_a, "least"_a, "most"_a, "band"_a, "band_per_kelvin"_a, "source"_a, "how"_a, "cold_caution"_a = "",
      "Data from `least` to `most` [K]; bands are fractions.");

  auto record = py::class_<LiquidRecord>(m, "LiquidRecord", "All coefficients of one liquid.");
  record.def(py::init([](std::string name, const std::vector<Property>& properties, bool viscosity_is_kinematic,
                         double modulus_per_pressure, double viscosity_per_pressure, double least, double most,
                         std::optional<double> stoichiometric_air_fuel_ratio, std::optional<double> lower_heating_value,
                         std::string cold_reason, std::string hot_reason, bool freezes) {
    if (properties.size() != property_count)
      throw InputError(name, "properties", "needs density, viscosity, specific heat, conductivity, bulk modulus and "
                                           "vapour pressure, in that order");
    LiquidRecord made;
    made.name = std::move(name);
    std::copy(properties.begin(), properties.end(), made.properties.begin());
    made.viscosity_is_kinematic = viscosity_is_kinematic;
    made.modulus_per_pressure = modulus_per_pressure;
    made.viscosity_per_pressure = viscosity_per_pressure;
    made.outer_limit = {least, most};
    made.stoichiometric_air_fuel_ratio = stoichiometric_air_fuel_ratio;
    made.lower_heating_value = lower_heating_value;
    made.cold_reason = std::move(cold_reason);
    made.hot_reason = std::move(hot_reason);
    made.freezes = freezes;
    return made;
  }), "name"_a, "properties"_a, "viscosity_is_kinematic"_a, "modulus_per_pressure"_a, "viscosity_per_pressure"_a,
      "least"_a, "most"_a, "stoichiometric_air_fuel_ratio"_a = py::none(), "lower_heating_value"_a = py::none(),
      "cold_reason"_a = "", "hot_reason"_a = "", "freezes"_a = false,
      "Outer limit from `least` to `most` [K], and why it ends there; lower heating value [J/kg].");
  record.def("with_reid", [](const LiquidRecord& gasoline, double reid) { return with_reid(gasoline, absolute(reid)); },
             "reid"_a, "The same gasoline at another Reid vapour pressure [Pa].");

  py::class_<AlcoholBlend>(m, "AlcoholBlend", "What turns a gasoline record into a blend with an alcohol.")
      .def(py::init([](LiquidRecord alcohol, double volume_share, double alcohol_molar_mass, double gasoline_molar_mass,
                       const std::vector<double>& rule_band, const std::vector<std::string>& rule) {
        AlcoholBlend blend;
        blend.alcohol = std::move(alcohol);
        blend.volume_share = volume_share;
        blend.alcohol_molar_mass = alcohol_molar_mass;
        blend.gasoline_molar_mass = gasoline_molar_mass;
        blend.rule_band = fixed<property_count>(rule_band, "bands of the mixing rules");
        blend.rule = fixed<property_count>(rule, "names of the mixing rules");
        return blend;
      }), "alcohol"_a, "volume_share"_a, "alcohol_molar_mass"_a, "gasoline_molar_mass"_a, "rule_band"_a,
          "rule"_a, "Share by volume, 0 to 1; molar masses [kg/mol].")
      .def("fit_wilson", [](AlcoholBlend& blend, const LiquidRecord& gasoline, const std::vector<double>& lean,
                            const std::vector<double>& rich) {
        const auto l = fixed<3>(lean, "lean blend"), r = fixed<3>(rich, "rich blend");
        blend.wilson = wilson_through(gasoline, blend, {l[0], l[1], l[2]}, {r[0], r[1], r[2]});
      }, "gasoline"_a, "lean"_a, "rich"_a,
           "Fit to two blends, each (volume share, gasoline Reid [Pa], blend Reid [Pa]).")
      .def("reid", [](const AlcoholBlend& blend, const LiquidRecord& gasoline, double gasoline_reid) {
        return blend_reid(gasoline, blend, gasoline_reid);
      }, "gasoline"_a, "gasoline_reid"_a, "Reid vapour pressure of the blend [Pa].")
      .def("gasoline_reid_for", [](const AlcoholBlend& blend, const LiquidRecord& gasoline, double reid) {
        return gasoline_reid_for_blend(gasoline, blend, reid);
      }, "gasoline"_a, "reid"_a, "Reid vapour pressure [Pa] of the gasoline that gives the blend this one.")
      .def_property_readonly("wilson", [](const AlcoholBlend& blend) {
        return std::pair(blend.wilson.a12_kelvin, blend.wilson.a21_kelvin);
      }, "Wilson constants [K].");
}

void bind_liquid(py::module_& m) {
  py::class_<LiquidState<>>(m, "LiquidState", "Properties of a liquid at one temperature and pressure.")
      .def_property_readonly("density", [](const LiquidState<>& s) { return s.density.value(); }, "[kg/m3]")
      .def_property_readonly("viscosity", [](const LiquidState<>& s) { return s.viscosity.value(); }, "Dynamic [Pa s]")
      .def_property_readonly("specific_heat", [](const LiquidState<>& s) { return s.specific_heat.value(); },
                             "[J/(kg K)]")
      .def_property_readonly("conductivity", [](const LiquidState<>& s) { return s.conductivity.value(); },
                             "[W/(m K)]")
      .def_property_readonly("bulk_modulus", [](const LiquidState<>& s) { return s.bulk_modulus.value(); },
                             "Isothermal [Pa]")
      .def_property_readonly("vapour_pressure", [](const LiquidState<>& s) { return s.vapour_pressure.value(); },
                             "Absolute [Pa]")
      .def_property_readonly("temperature", [](const LiquidState<>& s) { return s.temperature.value(); }, "[K]");

  py::class_<HeatState<>>(m, "HeatState", "What an energy balance sees of a liquid at one temperature and pressure.")
      .def_property_readonly("specific_heat", [](const HeatState<>& s) { return s.specific_heat.value(); },
                             "Slope of enthalpy with temperature [J/(kg K)]")
      .def_property_readonly("conductivity", [](const HeatState<>& s) { return s.conductivity.value(); }, "[W/(m K)]")
      .def_property_readonly("expansion", [](const HeatState<>& s) { return s.expansion.value(); }, "By volume [1/K]")
      .def_property_readonly("enthalpy", [](const HeatState<>& s) { return s.enthalpy.value(); },
                             "Above 0 degC and one atmosphere [J/kg]")
      .def_property_readonly("enthalpy_per_pressure", [](const HeatState<>& s) { return s.enthalpy_per_pressure.value(); },
                             "Slope of enthalpy with pressure [J/kg per Pa]")
      .def_property_readonly("warming_per_pressure", &HeatState<>::warming_per_pressure,
                             "Warming per pressure lost without work or heat given [K/Pa]");

  py::class_<RangeFinding>(m, "RangeFinding", "A property asked for outside its data.")
      .def_property_readonly("property", [](const RangeFinding& f) { return std::string(name(f.property)); })
      .def_property_readonly("temperature", [](const RangeFinding& f) { return f.kelvin; }, "[K]")
      .def_property_readonly("data", [](const RangeFinding& f) {
        return std::pair(f.data.least_kelvin, f.data.most_kelvin);
      }, "[K]")
      .def_readonly("band", &RangeFinding::band, "Relative uncertainty there.")
      .def_readonly("caution", &RangeFinding::caution, "What the value rests on below the data; may be empty.")
      .def_readonly("message", &RangeFinding::message);

  py::class_<PropertyDescription>(m, "PropertyDescription", "One property as a person reads it.")
      .def_property_readonly("property", [](const PropertyDescription& d) { return std::string(name(d.property)); })
      .def_property_readonly("data", [](const PropertyDescription& d) {
        return std::pair(d.data.least_kelvin, d.data.most_kelvin);
      }, "[K]")
      .def_readonly("band", &PropertyDescription::band, "Relative uncertainty in the middle of the data.")
      .def_readonly("source", &PropertyDescription::source)
      .def_readonly("how", &PropertyDescription::how);

  py::class_<Liquid>(m, "Liquid", "A liquid: its properties are pure functions of temperature and pressure.")
      .def(py::init<LiquidRecord>(), "record"_a)
      .def(py::init<std::string, LiquidRecord, AlcoholBlend>(), "name"_a, "gasoline"_a, "blend"_a)
      .def("at", [](const Liquid& liquid, double temperature, double pressure) {
        return liquid.at(kelvin(temperature), absolute(pressure));
      }, "temperature"_a, "pressure"_a = reference_pressure_pascal,
           "State at a temperature [K] and absolute pressure [Pa].")
      .def("heat_at", [](const Liquid& liquid, double temperature, double pressure) {
        return liquid.heat_at(kelvin(temperature), absolute(pressure));
      }, "temperature"_a, "pressure"_a = reference_pressure_pascal,
           "What an energy balance asks for at a temperature [K] and absolute pressure [Pa].")
      .def("boiling_temperature", [](const Liquid& liquid, double pressure) -> std::optional<double> {
        const auto found = liquid.boiling_temperature(absolute(pressure));
        return found ? std::optional(found->value()) : std::nullopt;
      }, "pressure"_a, "Where it boils [K] under an absolute pressure [Pa]; None when not inside the outer limit.")
      .def_property_readonly("freezes", [](const Liquid& liquid) { return liquid.record().freezes; },
                             "Whether the cold end of the outer limit is its freezing point.")
      .def("range_findings", [](const Liquid& liquid, double temperature) {
        return liquid.range_findings(kelvin(temperature));
      }, "temperature"_a, "Which properties are carried beyond their data at a temperature [K].")
      .def("band", [](const Liquid& liquid, int property, double temperature) {
        if (property < 0 || property >= property_count)
          throw InputError(liquid.name(), "property", "has a number from 0 to 5");
        return liquid.band(static_cast<PropertyName>(property), kelvin(temperature));
      }, "property"_a, "temperature"_a, "Relative uncertainty of a property, by its place in `property_names`, at [K].")
      .def("describe", &Liquid::describe, "One line for each property.")
      .def_property_readonly("name", &Liquid::name)
      .def_property_readonly("record", &Liquid::record)
      .def_property_readonly("outer_limit", [](const Liquid& liquid) {
        return std::pair(liquid.outer_limit().least_kelvin, liquid.outer_limit().most_kelvin);
      }, "[K]")
      .def_property_readonly("stoichiometric_air_fuel_ratio", &Liquid::stoichiometric_air_fuel_ratio,
                             "kg air per kg fuel, or None.")
      .def_property_readonly("lower_heating_value", &Liquid::lower_heating_value, "[J/kg], or None.");
}

}  // namespace

void bind_fluids(py::module_& module) {
  py::module_ m = module.def_submodule("fluids", "Liquids and the standard atmosphere, in SI.");
  std::vector<std::string> names;
  for (int i = 0; i < property_count; ++i) names.emplace_back(name(static_cast<PropertyName>(i)));
  m.attr("property_names") = py::tuple(py::cast(names));
  bind_laws(m);
  bind_record(m);
  bind_liquid(m);
  bind_liquid_makers(m);
  bind_gases(m);
}

}  // namespace flarenut::bindings
