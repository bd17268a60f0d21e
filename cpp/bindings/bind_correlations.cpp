#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include "bindings.hpp"
#include "flarenut/correlations/core_loss.hpp"
#include "flarenut/correlations/curved_tube.hpp"
#include "flarenut/correlations/fittings.hpp"
#include "flarenut/correlations/friction.hpp"
#include "flarenut/correlations/junction.hpp"
#include "flarenut/correlations/orifice.hpp"
#include "flarenut/correlations/size_step.hpp"
#include "flarenut/correlations/suction.hpp"
#include "flarenut/correlations/valve.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {
namespace {

namespace c = correlations;

void bind_friction(py::module_& m) {
  m.attr("laminar_friction_times_reynolds") = c::laminar_friction_times_reynolds;
  m.attr("laminar_reynolds_limit") = c::laminar_reynolds_limit;
  m.attr("turbulent_reynolds_limit") = c::turbulent_reynolds_limit;
  m.def("friction_times_reynolds", &c::friction_times_reynolds<double, double>, "reynolds"_a, "relative_roughness"_a,
        "Darcy factor times Reynolds number of a straight round bore; 64 at rest.");
  m.def("friction_factor", &c::friction_factor<double, double>, "reynolds"_a, "relative_roughness"_a,
        "Darcy friction factor of a straight round bore.");
  m.def("colebrook_white", &c::colebrook_white, "reynolds"_a, "relative_roughness"_a,
        "Darcy friction factor of the Colebrook-White equation (1939), iterated to round-off; turbulent flow only.");
}

void bind_curved_tube(py::module_& m) {
  py::class_<c::BendShape>(m, "BendShape", "A bend's loss, split by what it scales with: K = f (length + per f) + constant.")
      .def_readonly("length_over_bore", &c::BendShape::length_over_bore, "The bend's own length in bores.")
      .def_readonly("per_friction_factor", &c::BendShape::per_friction_factor, "Extra loss that scales with the Darcy factor.")
      .def_readonly("constant", &c::BendShape::constant, "Extra loss that does not.");
  m.def("curved_laminar_ratio", &c::curved_laminar_ratio<double>, "dean"_a,
        "Friction of a coil over that of a straight bore, laminar (White 1929).");
  m.def("curved_critical_reynolds", &c::curved_critical_reynolds<double>, "d_over_coil"_a,
        "Reynolds number up to which flow in a coil stays laminar (Ito 1959).");
  m.def("ito_turbulent_friction_factor", &c::ito_turbulent_friction_factor, "reynolds"_a, "d_over_coil"_a,
        "Darcy factor of a smooth coil in turbulent flow (Ito 1959).");
  m.def("curved_turbulent_ratio", &c::curved_turbulent_ratio<double>, "x"_a,
        "Friction of a coil over that of a straight bore, turbulent; x = Re (d/D)^2.");
  m.def("curved_friction_times_reynolds", &c::curved_friction_times_reynolds<double, double, double>, "reynolds"_a,
        "relative_roughness"_a, "d_over_coil"_a, "Darcy factor times Reynolds number of a coil.");
  m.def("bend_shape", &c::bend_shape<double>, "angle_radians"_a, "radius_over_bore"_a,
        "A formed bend (Rennels and Hudson 2012). angle_radians [rad].");
  m.def("bend_excess_times_reynolds", &c::bend_excess_times_reynolds<double, double>, "reynolds"_a, "f_re"_a, "bend"_a,
        "K Re of a bend over and above the friction of its own length.");
  m.def("bend_loss_times_reynolds", &c::bend_loss_times_reynolds<double, double>, "reynolds"_a, "f_re"_a, "bend"_a,
        "K Re of a bend, its own length included.");
}

void bind_fittings(py::module_& m) {
  m.attr("metres_per_inch") = c::metres_per_inch;
  m.def("two_k_size_factor", &c::two_k_size_factor<double>, "bore_m"_a, "1 + 1 in / D (Hooper 1981). bore_m [m].");
  m.def("two_k_times_reynolds", &c::two_k_times_reynolds<double, double>, "reynolds"_a, "bore_m"_a, "k_one"_a,
        "k_infinity"_a, "K Re by the two-K method (Hooper 1981). bore_m [m].");
  m.def("three_k_size_factor", &c::three_k_size_factor<double, double>, "nominal_bore_m"_a, "k_d"_a,
        "1 + Kd / (Dn/in)^0.3 (Darby 2001). nominal_bore_m [m].");
  m.def("three_k_times_reynolds", &c::three_k_times_reynolds<double, double>, "reynolds"_a, "nominal_bore_m"_a,
        "k_one"_a, "k_i"_a, "k_d"_a, "K Re by the three-K method (Darby 2001). nominal_bore_m [m].");
  m.def("equivalent_length_times_reynolds", &c::equivalent_length_times_reynolds<double>, "f_re"_a, "length_over_bore"_a,
        "K Re of a fitting worth so many bores of straight tube.");
  m.def("fully_rough_friction_factor", &c::fully_rough_friction_factor<double>, "relative_roughness"_a,
        "Darcy factor at infinite Reynolds number (von Karman 1930).");
}

void bind_junction(py::module_& m) {
  py::class_<c::JunctionShape>(m, "JunctionShape", "A three-legged fitting; legs in the order run1, run2, branch.")
      .def_readonly("area", &c::JunctionShape::area, "Bore area of each leg [m2].")
      .def_readonly("turn_cosine", &c::JunctionShape::turn_cosine, "Of the pair that leaves leg k out, at index k.")
      .def_readonly("recovery", &c::JunctionShape::recovery)
      .def_readonly("viscous", &c::JunctionShape::viscous, "K1 of each leg.");
  using Drops = c::JunctionDrops<double>;
  py::class_<Drops>(m, "JunctionDrops", "Differences of total pressure over density between legs.")
      .def_readonly("run1_to_run2", &Drops::run1_to_run2, "[m2/s2]")
      .def_readonly("run1_to_branch", &Drops::run1_to_branch, "[m2/s2]");
  m.attr("straight_on_loss") = c::straight_on_loss;
  m.def("tee_shape", &c::tee_shape<double>, "run1_area"_a, "run2_area"_a, "branch_area"_a, "branch_angle"_a,
        "Areas [m2]; branch_angle [rad], the turn from run1 into the branch.");
  m.def("junction_drops", &c::junction_drops<double, double, double>, "shape"_a, "run1_flow"_a, "run2_flow"_a,
        "kinematic_viscosity"_a, "Flows into the junction [m3/s]; kinematic_viscosity [m2/s].");
}

void bind_orifice(py::module_& m) {
  py::class_<c::TapPositions>(m, "TapPositions", "Where a meter's taps sit, in line bores from the plate.")
      .def(py::init([](double upstream, double downstream) { return c::TapPositions{upstream, downstream}; }),
           "upstream_over_bore"_a = 0.0, "downstream_over_bore"_a = 0.0, "Corner taps unless told.")
      .def_readonly("upstream_over_bore", &c::TapPositions::upstream_over_bore)
      .def_readonly("downstream_over_bore", &c::TapPositions::downstream_over_bore);
  m.attr("orifice_viscous_constant") = c::orifice_viscous_constant;
  m.def("orifice_meter_coefficient", &c::orifice_meter_coefficient, "line_reynolds"_a, "beta"_a, "line_bore_m"_a,
        "taps"_a = c::TapPositions{}, "Discharge coefficient of an orifice meter (ISO 5167-2:2003). line_bore_m [m].");
  m.def("sharp_orifice_coefficient", &c::sharp_orifice_coefficient<double>, "beta"_a,
        "Discharge coefficient of a sharp plate at high Reynolds number.");
  m.def("orifice_permanent_loss", &c::orifice_permanent_loss<double, double>, "beta"_a, "discharge_coefficient"_a,
        "K on the velocity head of the hole (ISO 5167-2:2003, permanent loss).");
  m.def("orifice_times_reynolds", &c::orifice_times_reynolds<double, double>, "hole_reynolds"_a, "permanent_loss"_a,
        "K Re of a thin sharp-edged restrictor.");
  m.def("short_tube_coefficient", &c::short_tube_coefficient, "ideal_reynolds"_a, "length_over_bore"_a,
        "Discharge coefficient of a short tube (Lichtarowicz, Duggins and Markland 1965).");
  m.def("short_tube_times_reynolds", &c::short_tube_times_reynolds<double, double>, "reynolds"_a, "length_over_bore"_a,
        "K Re of a short tube between large spaces.");
}

void bind_size_step(py::module_& m) {
  m.attr("entrance_viscous_constant") = c::entrance_viscous_constant;
  m.attr("exit_viscous_constant") = c::exit_viscous_constant;
  m.attr("sharp_entrance_loss") = c::sharp_entrance_loss;
  m.attr("projecting_entrance_loss") = c::projecting_entrance_loss;
  m.attr("exit_loss") = c::exit_loss;
  m.def("sudden_expansion_loss", &c::sudden_expansion_loss<double>, "diameter_ratio"_a, "K on the smaller bore (Borda-Carnot).");
  m.def("sudden_contraction_loss", &c::sudden_contraction_loss<double>, "diameter_ratio"_a, "K on the smaller bore (Crane TP 410).");
  m.def("expanding_cone_factor", &c::expanding_cone_factor<double>, "included_angle"_a,
        "Share of the sudden loss (Gibson 1912; Crane TP 410). included_angle [rad].");
  m.def("contracting_cone_factor", &c::contracting_cone_factor<double>, "included_angle"_a,
        "Share of the sudden loss (Crane TP 410). included_angle [rad].");
  m.def("gradual_expansion_loss", &c::gradual_expansion_loss<double, double>, "diameter_ratio"_a, "included_angle"_a,
        "K on the smaller bore. included_angle [rad].");
  m.def("gradual_contraction_loss", &c::gradual_contraction_loss<double, double>, "diameter_ratio"_a,
        "included_angle"_a, "K on the smaller bore. included_angle [rad].");
  m.def("rounded_entrance_loss", &c::rounded_entrance_loss, "radius_over_bore"_a, "K of a rounded entrance (Crane TP 410).");
  m.def("contraction_times_reynolds", &c::contraction_times_reynolds<double, double, double>, "small_bore_reynolds"_a,
        "turbulent_loss"_a, "diameter_ratio"_a, "K Re of a step into the smaller bore.");
  m.def("expansion_times_reynolds", &c::expansion_times_reynolds<double, double, double>, "small_bore_reynolds"_a,
        "turbulent_loss"_a, "diameter_ratio"_a, "K Re of a step out of the smaller bore.");
}

void bind_suction(py::module_& m) {
  m.def("net_positive_suction_head", [](double total, double vapour, double density) {
    return c::net_positive_suction_head(AbsolutePressure<>::from_value(total), AbsolutePressure<>::from_value(vapour),
                                        Density<>::from_value(density)).value();
  }, "total"_a, "vapour"_a, "density"_a, "[m] from absolute pressures [Pa] and density [kg/m3].");
  m.def("least_inlet_pressure", [](double required, double vapour, double density) {
    return c::least_inlet_pressure(Length<>::from_value(required), AbsolutePressure<>::from_value(vapour),
                                   Density<>::from_value(density)).value();
  }, "required"_a, "vapour"_a, "density"_a,
        "Absolute pressure [Pa] that leaves a suction head [m] above a vapour pressure [Pa] at a density [kg/m3].");
}

void bind_valve(py::module_& m) {
  m.attr("valve_water_density") = c::valve_water_density;
  m.def("valve_area_from_kv", &c::valve_area_from_kv, "kv"_a, "Flow area Av [m2] from Kv [m3/h at 1 bar].");
  m.def("valve_area_from_cv", &c::valve_area_from_cv, "cv"_a, "Flow area Av [m2] from Cv [US gal/min at 1 psi].");
  m.def("kv_from_valve_area", &c::kv_from_valve_area, "area_m2"_a, "Kv [m3/h at 1 bar] from Av [m2].");
  m.def("cv_from_valve_area", &c::cv_from_valve_area, "area_m2"_a, "Cv [US gal/min at 1 psi] from Av [m2].");
  m.def("loss_from_valve_area", &c::loss_from_valve_area<double, double>, "bore_area_m2"_a, "valve_area_m2"_a,
        "K on the velocity head of a bore.");
  m.def("critical_pressure_ratio_factor", &c::critical_pressure_ratio_factor<double>, "pressure_ratio"_a,
        "FF of IEC 60534-2-1, from vapour pressure over critical pressure.");
  m.def("choking_pressure_drop", &c::choking_pressure_drop<double, double, double>, "inlet_pressure"_a,
        "vapour_pressure"_a, "critical_factor"_a, "recovery_factor"_a,
        "Largest drop [Pa] that still adds flow (IEC 60534-2-1); absolute pressures [Pa].");
}

void bind_core_loss(py::module_& m) {
  py::class_<c::CoreLoss>(m, "CoreLoss", "Drop of a core: viscous μ Q + inertial ρ Q|Q|.")
      .def_readonly("viscous", &c::CoreLoss::viscous, "[1/m3]")
      .def_readonly("inertial", &c::CoreLoss::inertial, "[1/m4]")
      .def("drop", &c::CoreLoss::drop, "flow"_a, "viscosity"_a, "density"_a, "Drop [Pa] at a flow [m3/s], viscosity [Pa s] and density [kg/m3].");
  py::class_<c::CorePoint>(m, "CorePoint", "One point of a core's bench test.")
      .def(py::init([](double drop, double flow, double viscosity, double density) {
             return c::CorePoint{drop, flow, viscosity, density};
           }),
           "drop"_a, "flow"_a, "viscosity"_a, "density"_a, "drop [Pa], flow [m3/s], viscosity [Pa s], density [kg/m3].")
      .def_readonly("drop", &c::CorePoint::drop, "[Pa]")
      .def_readonly("flow", &c::CorePoint::flow, "[m3/s]")
      .def_readonly("viscosity", &c::CorePoint::viscosity, "[Pa s]")
      .def_readonly("density", &c::CorePoint::density, "[kg/m3]");
  m.def("core_of_points", &c::core_of_points, "one"_a, "other"_a,
        "The sum that passes two points; a coefficient below zero or no number says that none does.");
  m.def("core_of_point", &c::core_of_point, "point"_a, "viscous_share"_a, "From one point and the viscous share of its drop.");
  m.def("core_of_passages", &c::core_of_passages, "passages"_a, "bore"_a, "length"_a, "end_loss"_a, "reynolds"_a = 0.0,
        "From its round passages; bore and length [m]. Meets the friction law at that Reynolds number; laminar unless given.");
}

}  // namespace

/// The correlations in plain numbers, so that tests can set them against published tables and other libraries.
void bind_correlations(py::module_& module) {
  auto sub = module.def_submodule("correlations", "Correlations of the engine: plain numbers in, plain numbers out.");
  bind_friction(sub);
  bind_curved_tube(sub);
  bind_fittings(sub);
  bind_junction(sub);
  bind_orifice(sub);
  bind_size_step(sub);
  bind_suction(sub);
  bind_valve(sub);
  bind_core_loss(sub);
}

}  // namespace flarenut::bindings
