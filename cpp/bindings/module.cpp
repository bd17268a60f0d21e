#include "bindings.hpp"

namespace bindings = flarenut::bindings;

PYBIND11_MODULE(_core, module) {
  module.doc() = "The compiled engine of flarenut. SI everywhere; the package's own Python modules put words to it.";
  bindings::bind_errors(module);
  bindings::bind_fluids(module);
  bindings::bind_correlations(module);
  bindings::bind_heat_transfer(module);
  bindings::bind_network(module);
  bindings::bind_answer(module);
  bindings::bind_analysis(module);
  bindings::bind_batch(module);
}
