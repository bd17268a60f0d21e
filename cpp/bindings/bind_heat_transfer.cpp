#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <utility>
#include <vector>

#include "bindings.hpp"
#include "flarenut/correlations/external_convection.hpp"
#include "flarenut/correlations/heat_path.hpp"
#include "flarenut/correlations/internal_convection.hpp"
#include "limits.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {
namespace {

namespace c = correlations;

/// A law of two numbers, the first from 0 up and the second above 0.
template <class Law>
void law(py::module_& m, const char* name, Law function, const char* first, const char* second, const char* doc) {
  m.def(name, [name, first, second, function](double x, double y) {
    within(name, first, x, 0.0);
    above_zero(name, second, y);
    return function(x, y);
  }, py::arg(first), py::arg(second), doc);
}

void bind_internal_convection(py::module_& m) {
  m.attr("laminar_nusselt_constant_wall") = c::laminar_nusselt_constant_wall;
  m.attr("laminar_nusselt_constant_flux") = c::laminar_nusselt_constant_flux;
  m.attr("laminar_convection_limit") = c::laminar_convection_limit;
  m.attr("turbulent_convection_limit") = c::turbulent_convection_limit;
  m.def("tube_nusselt", [](double reynolds, double prandtl, double bore_over_length, double viscosity_ratio, double developed) {
    within("tube_nusselt", "reynolds", reynolds, 0.0);
    above_zero("tube_nusselt", "prandtl", prandtl);
    within("tube_nusselt", "bore_over_length", bore_over_length, 0.0);
    above_zero("tube_nusselt", "viscosity_ratio", viscosity_ratio);
    above_zero("tube_nusselt", "developed", developed);
    return c::tube_nusselt(reynolds, prandtl, bore_over_length, viscosity_ratio, developed);
  }, "reynolds"_a, "prandtl"_a, "bore_over_length"_a = 0.0, "viscosity_ratio"_a = 1.0,
        "developed"_a = c::laminar_nusselt_constant_wall, R"(Mean Nusselt number h D/k of a length of bore, from rest to Re 5e6.

reynolds and bore_over_length 0 and up; prandtl, viscosity_ratio (of the stream over that at the wall) and developed (Nu of
long laminar flow) above 0. ValueError otherwise. Hausen 1943, Gnielinski 1976, blended from Re 2300 to 4000.

>>> from flarenut._core.heat_transfer import tube_nusselt
>>> [round(tube_nusselt(re, 6.0, 0.01), 1) for re in (0, 1000, 10000)]
[3.7, 6.1, 78.5]
)");
  m.def("hausen_nusselt", [](double graetz, double developed) {
    within("hausen_nusselt", "graetz", graetz, 0.0);
    above_zero("hausen_nusselt", "developed", developed);
    return c::hausen_nusselt(graetz, developed);
  }, "graetz"_a, "developed"_a = c::laminar_nusselt_constant_wall,
        "Mean laminar Nu over a length that begins cold (Hausen 1943). graetz = Re Pr D/L, 0 and up; ValueError below.");
  law(m, "sieder_tate_laminar_nusselt", c::sieder_tate_laminar_nusselt, "graetz", "viscosity_ratio",
      "1.86 Gz^(1/3) (mu/mu_wall)^0.14 (Sieder and Tate 1936); for comparison. graetz 0 and up, viscosity_ratio above 0.");
  const auto rectangle = [&m](const char* name, double (*function)(const double&), const char* doc) {
    m.def(name, [name, function](double aspect) {
      within(name, "aspect", aspect, 0.0, 1.0);
      return function(aspect);
    }, "aspect"_a, doc);
  };
  rectangle("rectangle_nusselt_constant_wall", c::rectangle_nusselt_constant_wall<double>,
      "Developed laminar Nu of a rectangle, wall at one temperature (Shah and London 1978). aspect short over long side, 0 to 1.");
  rectangle("rectangle_nusselt_constant_flux", c::rectangle_nusselt_constant_flux<double>,
      "Developed laminar Nu of a rectangle, one heat flux along (Shah and London 1978). aspect short over long side, 0 to 1.");
  law(m, "rectangle_hydraulic_diameter", c::rectangle_hydraulic_diameter<double>, "width", "height",
      "Hydraulic diameter of a rectangle [m], sides [m].");
  m.def("flat_tube_hydraulic_diameter", [](double width, double height) {
    above_zero("flat_tube_hydraulic_diameter", "height", height);
    within("flat_tube_hydraulic_diameter", "width", width, height);
    return c::flat_tube_hydraulic_diameter(width, height);
  }, "width"_a, "height"_a, "Hydraulic diameter [m] of a flat tube with round ends, height [m] above 0, width [m] not below it.");
  m.def("petukhov_friction_factor", [](double reynolds) {
    within("petukhov_friction_factor", "reynolds", reynolds, 1000.0);
    return c::petukhov_friction_factor(reynolds);
  }, "reynolds"_a, "Darcy factor of a smooth bore, (0.790 ln Re - 1.64)^-2 (Petukhov 1970). ValueError below Re 1000.");
  m.def("gnielinski_nusselt", [](double reynolds, double prandtl, double darcy_factor) {
    within("gnielinski_nusselt", "reynolds", reynolds, 1000.0);
    above_zero("gnielinski_nusselt", "prandtl", prandtl);
    above_zero("gnielinski_nusselt", "darcy_factor", darcy_factor);
    return c::gnielinski_nusselt(reynolds, prandtl, darcy_factor);
  }, "reynolds"_a, "prandtl"_a, "darcy_factor"_a, "Turbulent Nu far from the inlet (Gnielinski 1976). ValueError below Re 1000.");
  m.def("petukhov_nusselt", [](double reynolds, double prandtl, double darcy_factor) {
    within("petukhov_nusselt", "reynolds", reynolds, 0.0);
    above_zero("petukhov_nusselt", "prandtl", prandtl);
    above_zero("petukhov_nusselt", "darcy_factor", darcy_factor);
    return c::petukhov_nusselt(reynolds, prandtl, darcy_factor);
  }, "reynolds"_a, "prandtl"_a, "darcy_factor"_a, "Turbulent Nu (Petukhov 1970), Re above 1e4; for comparison.");
  m.def("dittus_boelter_nusselt", [](double reynolds, double prandtl, bool heated) {
    within("dittus_boelter_nusselt", "reynolds", reynolds, 0.0);
    above_zero("dittus_boelter_nusselt", "prandtl", prandtl);
    return c::dittus_boelter_nusselt(reynolds, prandtl, heated);
  }, "reynolds"_a, "prandtl"_a, "heated"_a = true, "0.023 Re^0.8 Pr^0.4, or ^0.3 when cooled; Re above 1e4; for comparison.");
  m.def("sieder_tate_turbulent_nusselt", [](double reynolds, double prandtl, double viscosity_ratio) {
    within("sieder_tate_turbulent_nusselt", "reynolds", reynolds, 0.0);
    above_zero("sieder_tate_turbulent_nusselt", "prandtl", prandtl);
    above_zero("sieder_tate_turbulent_nusselt", "viscosity_ratio", viscosity_ratio);
    return c::sieder_tate_turbulent_nusselt(reynolds, prandtl, viscosity_ratio);
  }, "reynolds"_a, "prandtl"_a, "viscosity_ratio"_a = 1.0,
        "0.027 Re^0.8 Pr^(1/3) (mu/mu_wall)^0.14 (Sieder and Tate 1936); Re above 1e4; for comparison.");
}

void bind_external_convection(py::module_& m) {
  m.attr("stefan_boltzmann") = c::stefan_boltzmann;
  law(m, "cylinder_cross_flow_nusselt", c::cylinder_cross_flow_nusselt<double, double>, "reynolds", "prandtl",
      R"(Nu of wind across a line, on its outside diameter (Churchill and Bernstein 1977).

reynolds 0 and up (Re Pr above 0.2 in the source), prandtl above 0; ValueError below. Film properties. 20 to 30 % scatter.

>>> from flarenut._core.heat_transfer import cylinder_cross_flow_nusselt
>>> round(cylinder_cross_flow_nusselt(1e4, 0.7), 1)
53.3
)");
  law(m, "wall_forced_nusselt", c::wall_forced_nusselt<double, double>, "reynolds", "prandtl",
      "Nu of wind along a flat wall, on its length (VDI Heat Atlas, from memory). reynolds 0 to 1e7, prandtl 0.6 to 2000.");
  const auto natural = [&m](const char* name, auto function, const char* doc) {
    m.def(name, [name, function](double rayleigh, double prandtl) {
      within(name, "rayleigh", rayleigh, -no_limit);
      above_zero(name, "prandtl", prandtl);
      return function(rayleigh, prandtl);
    }, "rayleigh"_a, "prandtl"_a, doc);
  };
  natural("cylinder_natural_nusselt", c::cylinder_natural_nusselt<double, double>,
          R"(Nu of still air round a horizontal line, on its outside diameter (Churchill and Chu 1975).

rayleigh up to 1e12, either sign (warmer or colder than the air); prandtl above 0; ValueError otherwise.

>>> from flarenut._core.heat_transfer import cylinder_natural_nusselt
>>> round(cylinder_natural_nusselt(1e5, 0.7), 2), cylinder_natural_nusselt(-1e5, 0.7) == cylinder_natural_nusselt(1e5, 0.7)
(7.76, True)
)");
  natural("wall_natural_nusselt", c::wall_natural_nusselt<double, double>,
          "Nu of still air along a standing wall, on its height (Churchill and Chu 1975). rayleigh of either sign, prandtl above 0.");
  m.def("rayleigh_number", [](double expansion, double difference, double size, double kinematic_viscosity, double diffusivity) {
    above_zero("rayleigh_number", "kinematic_viscosity", kinematic_viscosity);
    above_zero("rayleigh_number", "diffusivity", diffusivity);
    within("rayleigh_number", "size", size, 0.0);
    return c::rayleigh_number(expansion, difference, size, kinematic_viscosity, diffusivity);
  }, "expansion"_a, "difference"_a, "size"_a, "kinematic_viscosity"_a, "diffusivity"_a,
        "g beta dT L^3/(nu alpha). expansion [1/K], difference [K], size [m], kinematic_viscosity and diffusivity [m2/s] above 0.");
  m.def("mixed_nusselt", [](double forced, double natural_part, double exponent) {
    above_zero("mixed_nusselt", "forced", forced);
    above_zero("mixed_nusselt", "natural", natural_part);
    within("mixed_nusselt", "exponent", exponent, 1.0);
    return c::mixed_nusselt(forced, natural_part, exponent);
  }, "forced"_a, "natural"_a, "exponent"_a = 4.0,
        "Nu of wind and rising air together, both above 0; exponent 4 across a line, 3 along a wall (Incropera, from memory).");
  m.def("radiation_coefficient", [](double emissivity, double surface, double surroundings) {
    within("radiation_coefficient", "emissivity", emissivity, 0.0, 1.0);
    within("radiation_coefficient", "surface", surface, 0.0);
    within("radiation_coefficient", "surroundings", surroundings, 0.0);
    return c::radiation_coefficient(emissivity, surface, surroundings);
  }, "emissivity"_a, "surface"_a, "surroundings"_a, R"(Radiation of a grey surface as a film coefficient [W/(m2 K)].

emissivity 0 to 1; surface and surroundings [K], 0 and up; ValueError outside. Times their difference it is exact.

>>> from flarenut._core.heat_transfer import radiation_coefficient
>>> round(radiation_coefficient(0.9, 373.15, 298.15), 2)
7.82
)");
}

void bind_heat_path(py::module_& m) {
  m.def("film_resistance", [](double coefficient, double diameter) {
    above_zero("film_resistance", "coefficient", coefficient);
    above_zero("film_resistance", "diameter", diameter);
    return c::film_resistance(coefficient, diameter);
  }, "coefficient"_a, "diameter"_a, "Resistance [m K/W] of a film [W/(m2 K)] on a cylinder of a diameter [m], both above 0.");
  law(m, "fouling_resistance", c::fouling_resistance<double, double>, "per_area", "diameter",
      "Resistance [m K/W] of dirt [m2 K/W], 0 and up, on a cylinder of a diameter [m] above 0.");
  m.def("layer_resistance", [](double inner, double outer, double conductivity) {
    above_zero("layer_resistance", "inner_diameter", inner);
    within("layer_resistance", "outer_diameter", outer, inner);
    above_zero("layer_resistance", "conductivity", conductivity);
    return c::layer_resistance(inner, outer, conductivity);
  }, "inner_diameter"_a, "outer_diameter"_a, "conductivity"_a,
        "Resistance [m K/W] of a layer between two diameters [m], the outer not below the inner; conductivity [W/(m K)] above 0.");
  m.def("line_conductance_per_length", [](double inside, double bore, const std::vector<std::pair<double, double>>& layers,
                                             double outside) {
    above_zero("line", "inside_coefficient", inside);
    above_zero("line", "bore", bore);
    above_zero("line", "outside_coefficient", outside);
    std::vector<c::CylinderLayer<double>> all;
    double diameter = bore;
    for (const auto& [outer, conductivity] : layers) {
      within("line", "layer outside diameter", outer, diameter);
      above_zero("line", "layer conductivity", conductivity);
      all.push_back({outer, conductivity});
      diameter = outer;
    }
    return c::line_conductance_per_length<double>(inside, bore, all, outside);
  }, "inside_coefficient"_a, "bore"_a, "layers"_a, "outside_coefficient"_a, R"(UA per metre of line [W/(m K)].

Film coefficients [W/(m2 K)] and bore [m] above 0; layers from the bore out, each (outside diameter [m], conductivity
[W/(m K)]), diameters not falling. ValueError otherwise.

>>> from flarenut._core.heat_transfer import line_conductance_per_length
>>> bare = line_conductance_per_length(500.0, 0.008, [(0.012, 0.2)], 12.0)
>>> sleeved = line_conductance_per_length(500.0, 0.008, [(0.012, 0.2), (0.018, 0.06)], 12.0)
>>> round(bare, 3), round(sleeved, 3)
(0.383, 0.339)
)");
  m.def("critical_diameter", [](double conductivity, double outside) {
    within("critical_diameter", "conductivity", conductivity, 0.0);
    above_zero("critical_diameter", "outside_coefficient", outside);
    return c::critical_diameter(conductivity, outside);
  }, "conductivity"_a, "outside_coefficient"_a,
        "Outside diameter [m] of greatest loss of a sleeve; conductivity [W/(m K)], outside_coefficient [W/(m2 K)] above 0.");
  const auto along = [&m](const char* name, double (*function)(const double&, const double&), const char* doc) {
    m.def(name, [name, function](double conductance, double capacity_rate) {
      within(name, "conductance", conductance, 0.0);
      within(name, "capacity_rate", capacity_rate, 0.0);
      return function(conductance, capacity_rate);
    }, "conductance"_a, "capacity_rate"_a, doc);
  };
  along("remaining_difference", c::remaining_difference<double, double>,
        R"(Share of its distance to the surroundings that a stream keeps along a line, exp(-UA/C).

conductance UA and capacity_rate C [W/K], 0 and up; ValueError below. At rest 0.

>>> from flarenut._core.heat_transfer import remaining_difference
>>> round(remaining_difference(6.0, 12.0), 4), remaining_difference(6.0, 0.0)
(0.6065, 0.0)
)");
  along("line_heat_per_inlet_difference", c::line_heat_per_inlet_difference<double, double>,
        "Heat [W/K] a line gives up per degree between its inlet and its surroundings; conductance and capacity_rate [W/K], 0 and up.");
}

}  // namespace

/// Heat transfer in plain numbers, for tests against published tables and other libraries, and for the curious.
void bind_heat_transfer(py::module_& module) {
  auto sub = module.def_submodule("heat_transfer", "Heat-transfer correlations of the engine: plain numbers in SI.");
  bind_exchange(sub);
  bind_cores(sub);
  bind_internal_convection(sub);
  bind_external_convection(sub);
  bind_heat_path(sub);
}

}  // namespace flarenut::bindings
