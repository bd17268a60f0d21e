#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include "answer.hpp"
#include "bindings.hpp"
#include "flarenut/analysis/readings.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

using analysis::End;
using analysis::Remark;
using analysis::Suction;
using network::Network;

namespace {

py::array_t<double> copy_of(const std::vector<double>& values) {
  return py::array_t<double>(static_cast<py::ssize_t>(values.size()), values.data());
}

std::vector<std::string> junction_names(const Network& network) {
  std::vector<std::string> names;
  for (int i = 0; i < network.junction_count(); ++i) names.push_back(network.junction_name(i));
  return names;
}
std::vector<std::string> part_names(const Network& network) {
  std::vector<std::string> names;
  for (int i = 0; i < network.part_count(); ++i) names.push_back(network.part_name(i));
  return names;
}

void bind_readings(py::module_& module) {
  py::class_<End>(module, "End", "What a gauge, a flow meter and a thermometer would find at one end of a part. SI.")
      .def_readonly("junction", &End::junction)
      .def_readonly("bore", &End::bore, "[m]; 0 where so wide that the dynamic head is nil")
      .def_readonly("flow", &End::flow, "mass flow into the part here [kg/s]")
      .def_readonly("total", &End::total, "total pressure [Pa abs]")
      .def_readonly("static", &End::static_, "static pressure [Pa abs]")
      .def_readonly("velocity", &End::velocity, "mean velocity in the bore [m/s]")
      .def_readonly("reynolds", &End::reynolds)
      .def_readonly("temperature", &End::temperature, "of what passes here [K]")
      .def_readonly("vapour_margin", &End::vapour_margin, "static pressure above vapour pressure [Pa]");
  py::class_<Suction>(module, "Suction", "The way from the pick-up to a pump. SI.")
      .def_readonly("margin", &Suction::margin, "least static pressure above vapour pressure on the way [Pa]")
      .def_readonly("at", &Suction::at, "the part where that is")
      .def_readonly("inlet_gauge", &Suction::inlet_gauge, "static pressure at the inlet [Pa gauge]")
      .def_readonly("npsh_available", &Suction::npsh_available, "net positive suction head available [m]");
  py::class_<Remark>(module, "Remark", "Something in an answer that deserves a warning.")
      .def_readonly("code", &Remark::code)
      .def_readonly("subject", &Remark::subject)
      .def_readonly("value", &Remark::value, "what was found [SI]")
      .def_readonly("limit", &Remark::limit, "against what [SI]");
}

void bind_solution(py::module_& module) {
  py::class_<Answer>(module, "Solution", "A read-only snapshot of a solve, with its certificate. SI.")
      .def_property_readonly("converged", [](const Answer& a) { return a.solution.converged(); })
      .def_property_readonly("status", [](const Answer& a) { return std::string(analysis::name(a.solution.status)); })
      .def_property_readonly("rung", [](const Answer& a) { return std::string(analysis::name(a.solution.rung)); },
                             "which start succeeded")
      .def_property_readonly("message", [](const Answer& a) { return a.solution.message; }, "what went wrong, in words")
      .def_property_readonly("iterations", [](const Answer& a) { return a.solution.iterations; })
      .def_property_readonly("evaluations", [](const Answer& a) { return a.solution.evaluations; })
      .def_property_readonly("residual", [](const Answer& a) { return a.solution.residual; },
                             "worst scaled residual of any part; at most 1e-10 when converged")
      .def_property_readonly("mass_closure", [](const Answer& a) { return a.solution.mass_closure; },
                             "worst imbalance of any junction over the largest flow")
      .def_property_readonly("worst", [](const Answer& a) { return a.solution.worst; })
      .def_property_readonly("pressure", [](const Answer& a) { return copy_of(a.solution.pressure); },
                             "total pressure per junction [Pa abs]; NaN when not converged")
      .def_property_readonly("flow", [](const Answer& a) { return copy_of(a.solution.flow); },
                             "per internal flow [kg/s], positive from port 0 on; NaN when not converged")
      .def_property_readonly("finds_temperatures", [](const Answer& a) { return !a.solution.temperature.empty(); },
                             "whether temperatures were found, not given")
      .def_property_readonly("energy_closure", [](const Answer& a) { return a.solution.energy_closure; },
                             "worst imbalance of a junction over the heat moved; at most 1e-9; 0 where temperatures are given")
      .def_property_readonly("heat_moved", [](const Answer& a) { return a.solution.heat_moved; }, "by all parts together [W]")
      .def("temperature_of", [](const Answer& a, const std::string& junction) {
             const int index = a.network().junction(junction);
             return analysis::temperature_of_junction(a.plan(), a.solution, index);
           }, "junction"_a, "Temperature of the liquid there [K].")
      .def("heat_of", [](const Answer& a, const std::string& part) { return analysis::heat_of_part(a.solution, a.part(part)); }, "part"_a,
           "Heat into the stream of a part, a pump's power apart [W].")
      .def("power_of", [](const Answer& a, const std::string& part) { return analysis::power_of_part(a.solution, a.part(part)); }, "part"_a,
           "Power that a pump puts into the liquid [W].")
      .def_property_readonly("junction_names", [](const Answer& a) { return junction_names(a.network()); })
      .def_property_readonly("part_names", [](const Answer& a) { return part_names(a.network()); })
      .def_property_readonly("ambient", [](const Answer& a) { return a.rows ? a.rows->ambient() : a.plan().ambient(); }, "[Pa abs]")
      .def("number", [](const Answer& a, const std::string& name) {
             return a.rows ? a.rows->get(a.rows->index(name)) : a.plan().get(a.plan().index(name));
           }, "name"_a,
           "A number of the plan as it stood at this solve [SI].")
      .def("kind_of", [](const Answer& a, const std::string& part) { 
             const int index = a.part(part);
             return std::string(a.rows ? "line" : a.plan().element(index).kind());
           }, "part"_a)
      .def("regime_of", [](const Answer& a, const std::string& part) {
             return std::string(name(analysis::regime_of(a.plan(), a.solution, a.part(part))));
           }, "part"_a, "State of a device in words: shut, regulating, wide open ...")
      .def("pressure_of", [](const Answer& a, const std::string& junction) {
             return a.solution.pressure[static_cast<std::size_t>(a.network().junction(junction))];
           }, "junction"_a, "Total pressure [Pa abs].")
      .def("flow_of", [](const Answer& a, const std::string& part, int flow) {
             const int index = a.part(part);
             if (a.rows && flow == 0) return a.solution.flow[static_cast<std::size_t>(index)];
             const auto& branch = a.plan().branches()[static_cast<std::size_t>(index)];
             if (flow < 0 || flow >= branch.flows) throw InputError(part, "flow", "has no such internal flow");
             return a.solution.flow[static_cast<std::size_t>(branch.first_flow + flow)];
           }, "part"_a, "flow"_a = 0, "Mass flow [kg/s].")
      .def("ends", [](const Answer& a, const std::string& part) { return analysis::ends_of(a.plan(), a.solution, a.part(part)); },
           "part"_a, "Readings at each port.")
      .def("liquid_in", [](const Answer& a, const std::string& part) {
             const int index = a.part(part);
             const auto liquid = a.rows ? a.rows->liquid_in(index) : a.plan().whole_liquid_in(index);
             return py::dict("density"_a = liquid.density.value(), "viscosity"_a = liquid.viscosity.value(),
                             "vapour_pressure"_a = liquid.vapour_pressure.value(),
                             "temperature"_a = liquid.temperature.value(),
                             "specific_heat"_a = liquid.specific_heat.value());
           }, "part"_a, "Properties of the liquid in a part [SI].")
      .def("suction", [](const Answer& a, const std::string& pump) { return analysis::suction_of(a.plan(), a.solution, a.part(pump)); },
           "pump"_a, "Suction margin and inlet pressure of a pump.")
      .def_property_readonly("remarks", [](const Answer& a) { return analysis::remarks_on(a.plan(), a.solution); });
}

}  // namespace

void bind_answer(py::module_& module) {
  bind_readings(module);
  bind_solution(module);
}

}  // namespace flarenut::bindings
