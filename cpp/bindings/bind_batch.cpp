#include <pybind11/functional.h>
#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <array>
#include <string_view>

#include "bindings.hpp"
#include "flarenut/analysis/batch.hpp"
#include "kept_plan.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {
namespace {

using analysis::Batch;
using analysis::BatchReading;
using What = BatchReading::What;
using Rows = py::array_t<double, py::array::c_style | py::array::forcecast>;

constexpr std::array<std::pair<std::string_view, What>, 25> readings{{
    {"total", What::total}, {"end_total", What::end_total}, {"static", What::end_static}, {"end_flow", What::end_flow},
    {"velocity", What::velocity}, {"reynolds", What::reynolds}, {"vapour_margin", What::vapour_margin}, {"flow", What::flow},
    {"suction_margin", What::suction_margin}, {"suction_gauge", What::suction_gauge}, {"npsh", What::npsh},
    {"regime", What::regime}, {"density", What::density}, {"viscosity", What::viscosity},
    {"vapour_pressure", What::vapour_pressure}, {"ambient", What::ambient}, {"least_margin", What::least_margin}, {"number", What::number},
    {"temperature", What::temperature}, {"end_temperature", What::leaving}, {"mean_temperature", What::mean_temperature},
    {"heat", What::heat}, {"power", What::power}, {"energy_closure", What::energy_closure}, {"heat_moved", What::heat_moved},
}};

BatchReading reading_of(const std::tuple<std::string, int, int>& asked) {
  const auto& [word, index, port] = asked;
  for (const auto& [known, what] : readings)
    if (known == word) return {what, index, port};
  throw InputError("batch", "outputs", "'" + word + "' is not a reading");
}

/// Waits for a batch without holding Python's lock; tells of progress; false when somebody pressed Ctrl-C.
bool wait_for(Batch& batch, std::size_t count, const py::object& progress) {
  for (int turn = 0;; ++turn) {
    bool ready = false;
    {
      py::gil_scoped_release release;
      ready = batch.wait(std::chrono::milliseconds(turn < 10 ? 10 : 100));  // a hundred thousand rows may take no longer
    }
    if (!progress.is_none()) progress(batch.done(), count);
    if (ready) return true;
    if (PyErr_CheckSignals() != 0) {
      if (!PyErr_ExceptionMatches(PyExc_KeyboardInterrupt)) throw py::error_already_set();
      PyErr_Clear();
      py::gil_scoped_release release;
      batch.stop();
      return false;
    }
  }
}

py::dict solve_batch(KeptPlan& self, const std::vector<int>& indices, const Rows& values,
                     const std::vector<std::tuple<std::string, int, int>>& outputs, int threads, std::size_t block, const std::string& kernel,
                     const py::object& progress) {
  if (values.ndim() != 2 || values.shape(1) != static_cast<py::ssize_t>(indices.size()))
    throw InputError("batch", "values", "needs one row per scenario and one column per index");
  const py::ssize_t count = values.shape(0), width = static_cast<py::ssize_t>(outputs.size());
  py::array_t<double> results({count, width}), residual(count);
  py::array_t<std::uint8_t> status(count);
  py::array_t<std::int32_t> iterations(count), reason(count);
  analysis::BatchTask task;
  task.numbers = indices;
  task.values = values.data();
  task.count = static_cast<std::size_t>(count);
  for (const auto& output : outputs) task.readings.push_back(reading_of(output));
  task.results = results.mutable_data();
  task.status = reinterpret_cast<analysis::RowStatus*>(status.mutable_data());
  task.iterations = iterations.mutable_data();
  task.residual = residual.mutable_data();
  task.reason = reason.mutable_data();
  const Plan plan(self.plan());  // nobody changes it meanwhile
  Batch batch(plan, std::move(task), {threads, block, kernel});
  const auto begin = std::chrono::steady_clock::now();
  batch.start();
  const bool whole = wait_for(batch, static_cast<std::size_t>(count), progress);
  const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - begin).count();
  return py::dict("values"_a = results, "status"_a = status, "iterations"_a = iterations, "residual"_a = residual,
                  "reason"_a = reason, "reasons"_a = batch.reasons(), "interrupted"_a = !whole, "seconds"_a = seconds);
}

}  // namespace

void bind_batch(py::module_& module) {
  py::object plan = module.attr("Plan");
  plan.attr("batch") = py::cpp_function(
      &solve_batch, py::name("batch"), py::is_method(plan), "indices"_a, "values"_a, "outputs"_a, py::kw_only(),
      "threads"_a = 0, "block"_a = std::size_t{64}, "kernel"_a = "", "progress"_a = py::none(),
      "Solves one scenario per row of `values` [SI]; columns are the numbers `indices`. The plan keeps its numbers.\n\n"
      "outputs: (reading, index, port): `total` and `number` with the index of a junction or number; `ambient` and\n"
      "`least_margin` (static above vapour pressure, of the whole circuit); else with\n"
      "that of a part: `end_total`, `static`, `end_flow`, `velocity`, `reynolds`, `vapour_margin` at a port, `flow` (port: which\n"
      "internal flow), `suction_margin`, `suction_gauge`, `npsh`, `regime`, `density`, `viscosity`, `vapour_pressure`. SI.\n"
      "`kernel`: one of `batch_kernels()`; the best when empty.\n"
      "Returns arrays values, status (0 solved, 1 not converged, 2 refused, 3 not reached), iterations, residual, reason (place\n"
      "in `reasons`, -1 when solved), and interrupted, seconds. Without an answer values and residual are NaN. Answers are the\n"
      "same to the bit for any number of threads. `progress(done, count)` is called about ten times a second.");
  module.def("batch_kernels", &Batch::kernel_names, "How rows of a batch can be solved here, the best first.");
  module.def("regime_names", [] {
    std::vector<std::string> names;
    for (int i = 0; i <= static_cast<int>(Regime::stopped); ++i) names.emplace_back(name(static_cast<Regime>(i)));
    return names;
  }, "Words of the numbers that the reading `regime` gives.");
}

}  // namespace flarenut::bindings
