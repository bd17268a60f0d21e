#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <optional>

#include "bindings.hpp"
#include "kept_plan.hpp"
#include "flarenut/analysis/gradient.hpp"
#include "flarenut/analysis/readings.hpp"
#include "flarenut/solver/block_kernel.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

using analysis::End;
using analysis::Remark;
using analysis::Suction;
using network::Network;

namespace {

/// A solution with the plan as it stood when it was found, so that later changes cannot bend its readings.
struct Answer {
  Solution solution;
  std::shared_ptr<const RowPlan> rows;  ///< of a large network; its plan is written out when a reading needs it
  mutable std::shared_ptr<const Plan> written;
  std::shared_ptr<KeptPlan> kept;

  const Plan& plan() const {
    if (!written) written = std::make_shared<const Plan>(rows->written_out());
    return *written;
  }
  const network::Network& network() const { return rows ? rows->network() : written->network(); }
  int part(const std::string& name) const { return network().part(name); }
};

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

std::vector<std::string> number_names(KeptPlan& kept) {
  if (kept.rows() == nullptr) return kept.plan().names();
  std::vector<std::string> names;
  for (int number = 0; number < kept.rows()->number_count(); ++number) names.push_back(kept.rows()->name(number));
  return names;
}
int number_index(KeptPlan& kept, const std::string& name) {
  return kept.rows() != nullptr ? kept.rows()->index(name) : kept.plan().index(name);
}
void set_numbers(KeptPlan& kept, const std::vector<std::pair<int, double>>& numbers) {
  RowPlan* const rows = kept.rows();
  const bool held = rows != nullptr && std::all_of(numbers.begin(), numbers.end(), [&](const auto& one) { return rows->holds(one.first); });
  if (!held) return kept.plan().set_many(numbers);
  std::vector<std::pair<int, double>> before;
  try {
    for (const auto& [number, value] : numbers) {
      before.emplace_back(number, rows->get(number));
      rows->set(number, value);
    }
  } catch (const std::exception&) {
    before.pop_back();  // the one that was refused has kept its value
    std::for_each(before.rbegin(), before.rend(), [&](const auto& old) { rows->set(old.first, old.second); });
    throw;
  }
}

/// Solves one scenario per row of `values`; columns are the numbers `indices`. For benchmarks and robustness runs.
py::dict solve_each(KeptPlan& kept, const std::vector<int>& indices,
                    const py::array_t<double, py::array::c_style | py::array::forcecast>& values,
                    const std::string& start) {
  if (values.ndim() != 2 || values.shape(1) != static_cast<py::ssize_t>(indices.size()))
    throw InputError("solve_each", "values", "needs one column per index");
  if (start != "cold" && start != "warm" && start != "zero")
    throw InputError("solve_each", "start", "is one of cold, warm, zero");
  const auto rows = static_cast<std::size_t>(values.shape(0));
  std::vector<int> evaluations(rows), iterations(rows);
  std::vector<std::string> rungs(rows), messages(rows);
  std::vector<char> converged(rows);
  std::vector<double> residual(rows), mass(rows);
  const double* row = values.data();
  double seconds = 0.0;
  {
    py::gil_scoped_release release;
    Plan& plan = kept.plan();
    Solution solution;
    std::vector<double> pressure, flow;
    const auto begin = std::chrono::steady_clock::now();
    for (std::size_t r = 0; r < rows; ++r, row += indices.size()) {
      for (std::size_t c = 0; c < indices.size(); ++c) plan.set(indices[c], row[c]);
      if (start == "zero") {
        pressure.assign(static_cast<std::size_t>(plan.junction_count()), 0.0);
        flow.assign(static_cast<std::size_t>(plan.flow_count()), 1e-6);
      }
      if (start == "cold" || pressure.empty()) kept.solver().solve(solution);
      else kept.solver().solve(solution, {&pressure, &flow});
      converged[r] = solution.converged();
      evaluations[r] = solution.evaluations;
      iterations[r] = solution.iterations;
      residual[r] = solution.residual;
      mass[r] = solution.mass_closure;
      rungs[r] = analysis::name(solution.rung);
      messages[r] = solution.message;
      if (start == "warm" && solution.converged()) {
        pressure = solution.pressure;
        flow = solution.flow;
      }
    }
    seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  }
  py::list flags;
  for (char flag : converged) flags.append(static_cast<bool>(flag));
  return py::dict("converged"_a = flags, "evaluations"_a = evaluations, "iterations"_a = iterations,
                  "residual"_a = residual, "mass_closure"_a = mass, "rung"_a = rungs, "message"_a = messages,
                  "seconds"_a = seconds);
}

analysis::Output output_of(const Plan& plan, const std::string& what, const std::string& place, int flow) {
  if (what == "pressure") return {analysis::Output::What::pressure, plan.network().junction(place)};
  if (what == "flow") return {analysis::Output::What::flow, plan.network().part(place), flow};
  throw InputError("gradient", "what", "is 'pressure' or 'flow'");
}

/// Each row solved from the one before, then the slopes of one output with the numbers `indices`, or with all. For benchmarks.
py::dict gradient_each(KeptPlan& kept, const std::vector<int>& indices,
                       const py::array_t<double, py::array::c_style | py::array::forcecast>& values, const std::string& what,
                       const std::string& place, int flow, bool all) {
  if (values.ndim() != 2 || values.shape(1) != static_cast<py::ssize_t>(indices.size()))
    throw InputError("gradient_each", "values", "needs one column per index");
  using Clock = std::chrono::steady_clock;
  Clock::duration solving{}, sloping{};
  const double* row = values.data();
  std::vector<double> slopes;
  {
    py::gil_scoped_release release;
    Plan& plan = kept.plan();
    const analysis::Output output = output_of(plan, what, place, flow);
    Solution solution, before;
    for (py::ssize_t r = 0; r < values.shape(0); ++r, row += indices.size()) {
      const auto begin = Clock::now();
      for (std::size_t c = 0; c < indices.size(); ++c) plan.set(indices[c], row[c]);
      if (before.converged()) kept.solver().solve(solution, {&before.pressure, &before.flow});
      else kept.solver().solve(solution);
      const auto solved = Clock::now();
      slopes = all ? analysis::gradient(kept.solver(), solution, output) : analysis::gradient(kept.solver(), solution, output, indices);
      const auto sloped = Clock::now();
      solving += solved - begin;
      sloping += sloped - solved;
      std::swap(solution, before);
    }
  }
  const auto seconds = [](Clock::duration time) { return std::chrono::duration<double>(time).count(); };
  py::dict report;
  report["solve_seconds"] = seconds(solving);
  report["gradient_seconds"] = seconds(sloping);
  report["slopes"] = slopes;
  return report;
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

void bind_answer(py::module_& module) {
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
             const auto& liquid = a.rows ? a.rows->liquid_in(index) : a.plan().liquid_in(index);
             return py::dict("density"_a = liquid.density.value(), "viscosity"_a = liquid.viscosity.value(),
                             "vapour_pressure"_a = liquid.vapour_pressure.value(),
                             "temperature"_a = liquid.temperature.value(),
                             "specific_heat"_a = liquid.specific_heat.value());
           }, "part"_a, "Properties of the liquid in a part [SI].")
      .def("suction", [](const Answer& a, const std::string& pump) { return analysis::suction_of(a.plan(), a.solution, a.part(pump)); },
           "pump"_a, "Suction margin and inlet pressure of a pump.")
      .def_property_readonly("remarks", [](const Answer& a) { return analysis::remarks_on(a.plan(), a.solution); });
}

void bind_plan(py::module_& module) {
  py::class_<KeptPlan, std::shared_ptr<KeptPlan>>(module, "Plan", "A network compiled for speed; takes new numbers.")
      .def(py::init([](const Network& network) { return std::make_shared<KeptPlan>(network); }), "network"_a,
           "Compiles. Raises InputError when the circuit is ill-posed.")
      .def(py::init([](const Network& network, int symmetric_from) { return std::make_shared<KeptPlan>(network, symmetric_from); }),
           "network"_a, py::kw_only(), "symmetric_from"_a,
           "The same, with the number of parts from which a circuit of parts that know their own flow alone is solved by a symmetric "
           "system.")
      .def_property_readonly("in_rows", [](KeptPlan& self) { return self.rows() != nullptr; },
           "Whether the network is still kept in rows: no more memory than its columns.")
      .def_property_readonly("method", &KeptPlan::method,
           "How solves so far have worked: 'general system', or 'symmetric system' with the kernel of its blocks, and whether it had to pivot.")
      .def_property_readonly("workspace_bytes", &KeptPlan::workspace_bytes,
           "Bytes that the symmetric system keeps between solves, its factor included; 0 while solves go elsewhere.")
      .def("copy", [](const KeptPlan& self) { return std::make_shared<KeptPlan>(self); })
      .def_property_readonly("names", &number_names, "Every number that can change.")
      .def("index", &number_index, "name"_a)
      .def("get", [](KeptPlan& self, int number) {
             return self.rows() != nullptr ? self.rows()->get(number) : self.plan().get(number);
           }, "number"_a, "[SI]")
      .def("set", [](KeptPlan& self, int number, double value) {
             if (self.rows() != nullptr && self.rows()->holds(number)) self.rows()->set(number, value);
             else self.plan().set(number, value);
           }, "number"_a, "value"_a,
           "Changes a number [SI]. Raises InputError when out of range, and then changes nothing.")
      .def("set_many", [](KeptPlan& self, const std::map<std::string, double>& values) {
             std::vector<std::pair<int, double>> numbers;
             for (const auto& [name, value] : values) numbers.emplace_back(number_index(self, name), value);
             set_numbers(self, numbers);
           }, "values"_a, "Changes several numbers together: all of them, or none when one is refused.")
      .def("set_column", [](KeptPlan& self, const std::string& part, const std::string& column, std::vector<double> values) {
             self.plan().set_column(self.plan().network().part(part), column, std::move(values));
           }, "part"_a, "column"_a, "values"_a, "Replaces a measured column of a part (another pump curve).")
      .def("set_columns", [](KeptPlan& self, const std::string& part, const std::map<std::string, std::vector<double>>& columns) {
             self.plan().set_columns(self.plan().network().part(part), {columns.begin(), columns.end()});
           }, "part"_a, "columns"_a, "Replaces several columns of a part together: all of them, or none when they are refused.")
      .def("solve", [](const std::shared_ptr<KeptPlan>& self, bool cold) {
             auto answer = std::make_unique<Answer>();
             {
               py::gil_scoped_release release;
               Solution& last = self->last();
               if (cold || !last.converged()) {
                 self->solve(answer->solution);
               } else {
                 self->solve(answer->solution, {&last.pressure, &last.flow});
               }
               last = answer->solution;
               if (self->rows() != nullptr) answer->rows = std::make_shared<const RowPlan>(*self->rows());
               else answer->written = std::make_shared<const Plan>(self->plan());
               answer->kept = self;
             }
             return answer;
           }, "cold"_a = false, "Solves at the present numbers, warm from the last answer unless told cold.")
      .def("resolve", [](KeptPlan& self, bool cold) {
             py::gil_scoped_release release;
             Solution& last = self.last();
             if (cold || !last.converged()) {
               self.solve(last);
             } else {
               const std::vector<double> pressure = last.pressure, flow = last.flow;
               self.solve(last, {&pressure, &flow});
             }
             return last.converged();
           }, "cold"_a = false, "Solves and keeps the answer inside: the fast way to ask for a few numbers over and over.")
      .def("part_index", [](KeptPlan& self, const std::string& name) { return self.network().part(name); }, "name"_a)
      .def("junction_index", [](KeptPlan& self, const std::string& name) { return self.network().junction(name); }, "name"_a)
      .def("last_pressure", [](KeptPlan& self, int junction) { return self.last().pressure.at(static_cast<std::size_t>(junction)); },
           "junction"_a, "Total pressure of a junction in the last answer [Pa abs].")
      .def("last_flow", [](KeptPlan& self, int flow) { return self.last().flow.at(static_cast<std::size_t>(flow)); }, "flow"_a,
           "An internal flow in the last answer [kg/s].")
      .def("solve_each", &solve_each, "indices"_a, "values"_a, "start"_a = "cold",
           "One scenario per row: certificates and the time spent. start: cold, warm (from the row before), zero.")
      .def("gradient_each", &gradient_each, "indices"_a, "values"_a, "what"_a, "place"_a, "flow"_a = 0, "all"_a = true,
           "One scenario per row, each from the row before: the time of the solves, of the gradients with all numbers (or those of "
           "`indices`), and the last gradient.")
      .def("gradient", [](KeptPlan& self, const std::string& what, const std::string& place, int flow) {
             const analysis::Output output = output_of(self.plan(), what, place, flow);
             std::vector<double> slopes;
             {
               py::gil_scoped_release release;
               if (!self.last().converged()) self.solver().solve(self.last());
               slopes = analysis::gradient(self.solver(), self.last(), output);
             }
             std::map<std::string, double> by_name;
             for (std::size_t i = 0; i < slopes.size(); ++i) by_name.emplace(self.plan().names()[i], slopes[i]);
             return by_name;
           }, "what"_a, "place"_a, "flow"_a = 0,
           "Slope of a junction's pressure or a part's flow with every number of the plan, at the last answer [SI].");
}

}  // namespace

void bind_analysis(py::module_& module) {
  module.attr("block_kernel") = std::string(solver::block_kernel().name);  // of large symmetric factors on this processor
  bind_readings(module);
  bind_answer(module);
  bind_plan(module);
}

}  // namespace flarenut::bindings
