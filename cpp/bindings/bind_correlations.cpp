#include <pybind11/pybind11.h>

#include "bindings.hpp"
#include "flarenut/correlations/friction.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

/// The dimensionless correlations, so that tests can set them against published tables and other libraries.
void bind_correlations(py::module_& module) {
  auto sub = module.def_submodule("correlations", "Dimensionless correlations of the engine.");
  sub.def("friction_factor", &correlations::friction_factor<double, double>, "reynolds"_a, "relative_roughness"_a,
          "Darcy friction factor of a straight round bore.");
}

}  // namespace flarenut::bindings
