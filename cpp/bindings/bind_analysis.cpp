#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <algorithm>
#include <chrono>
#include <memory>
#include <optional>

#include "answer.hpp"
#include "bindings.hpp"
#include "flarenut/analysis/gradient.hpp"
#include "flarenut/analysis/heat_solver.hpp"
#include "flarenut/solver/block_kernel.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

using network::Network;

namespace {

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
  std::vector<double> residual(rows), mass(rows), energy(rows);
  const double* row = values.data();
  double seconds = 0.0;
  {
    py::gil_scoped_release release;
    Plan& plan = kept.plan();
    Solution solution, before;
    std::vector<double> pressure, flow;
    const auto begin = std::chrono::steady_clock::now();
    for (std::size_t r = 0; r < rows; ++r, row += indices.size()) {
      for (std::size_t c = 0; c < indices.size(); ++c) plan.set(indices[c], row[c]);
      if (start == "zero") {
        pressure.assign(static_cast<std::size_t>(plan.junction_count()), 0.0);
        flow.assign(static_cast<std::size_t>(plan.flow_count()), 1e-6);
      }
      try {
        if (start == "zero") kept.solver().solve(solution, {&pressure, &flow});
        else kept.solver().solve(solution, start == "warm" && before.converged() ? analysis::Start(before) : analysis::Start());
      } catch (const InputError& error) {  // a liquid may refuse the temperature of what comes in
        solution = Solution();
        solution.message = error.what();
      }
      converged[r] = solution.converged();
      evaluations[r] = solution.evaluations;
      iterations[r] = solution.iterations;
      residual[r] = solution.residual;
      mass[r] = solution.mass_closure;
      energy[r] = solution.energy_closure;
      rungs[r] = analysis::name(solution.rung);
      messages[r] = solution.message;
      if (start == "warm" && solution.converged()) before = solution;
    }
    seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  }
  py::list flags;
  for (char flag : converged) flags.append(static_cast<bool>(flag));
  return py::dict("converged"_a = flags, "evaluations"_a = evaluations, "iterations"_a = iterations,
                  "residual"_a = residual, "mass_closure"_a = mass, "energy_closure"_a = energy, "rung"_a = rungs, "message"_a = messages,
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

/// A beginning at a temperature, or a step of so many seconds.
std::unique_ptr<Answer> timed(const std::shared_ptr<KeptPlan>& kept, double kelvin, double seconds) {
  if (kept->rows() != nullptr || kept->plan().heat() == nullptr)
    throw InputError("circuit", "temperatures", "are given, so nothing warms up in time; let them be found");
  auto answer = std::make_unique<Answer>();
  py::gil_scoped_release release;
  analysis::HeatSolver& heat = kept->solver().heat();
  if (seconds < 0.0) heat.begin(answer->solution, kelvin);
  else heat.advance(answer->solution, seconds);
  kept->last() = answer->solution;
  answer->written = std::make_shared<const Plan>(kept->plan());
  answer->kept = kept;
  return answer;
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
      .def_property("follows_heat", [](KeptPlan& self) { return self.rows() == nullptr && self.plan().heat() != nullptr; },
           [](KeptPlan& self, bool follow) {
             if (self.rows() == nullptr) self.plan().follow_heat(follow);
           },
           "Whether temperatures are found with pressures and flows; only a network that follows heat can.")
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
                 self->solve(answer->solution, analysis::Start(last));
               }
               last = answer->solution;
               if (self->rows() != nullptr) answer->rows = std::make_shared<const RowPlan>(*self->rows());
               else answer->written = std::make_shared<const Plan>(self->plan());
               answer->kept = self;
             }
             return answer;
           }, "cold"_a = false, "Solves at the present numbers, warm from the last answer unless told cold.")
      .def("other_states", [](const std::shared_ptr<KeptPlan>& self) {
             std::vector<std::unique_ptr<Answer>> answers;
             if (self->rows() != nullptr || self->plan().heat() == nullptr) return answers;
             std::vector<Solution> states;
             {
               py::gil_scoped_release release;
               states = self->solver().heat().others(self->last());
             }
             analysis::HeatSystem& system = self->solver().heat().system();
             const std::vector<double> nodes = system.temperatures(), parts = system.part_temperatures();
             for (const Solution& state : states) {
               auto answer = std::make_unique<Answer>();
               system.start_at(state.temperature, state.part_temperature);  // the plan's liquids are those of this state
               answer->solution = state;
               answer->written = std::make_shared<const Plan>(self->plan());
               answer->kept = self;
               answers.push_back(std::move(answer));
             }
             if (!states.empty()) system.start_at(nodes, parts);
             return answers;
           }, "Other steady states at the present numbers beside the last answer, where temperatures are found; usually none.")
      .def("begin_time", [](const std::shared_ptr<KeptPlan>& self, double temperature) { return timed(self, temperature, -1.0); }, "temperature"_a,
           "Everything at one temperature [K], flows at once as it has them: where `advance` starts. Only where temperatures are found.")
      .def("advance", [](const std::shared_ptr<KeptPlan>& self, double seconds) { return timed(self, 0.0, seconds); }, "seconds"_a,
           "Goes on in time at the present numbers, which may have changed since; the solution at its end [s].")
      .def("resolve", [](KeptPlan& self, bool cold) {
             py::gil_scoped_release release;
             Solution& last = self.last();
             if (cold || !last.converged()) {
               self.solve(last);
             } else {
               const Solution before = last;
               self.solve(last, analysis::Start(before));
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
  bind_plan(module);
}

}  // namespace flarenut::bindings
