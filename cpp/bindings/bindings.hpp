#pragma once
/// One function per topic; `module.cpp` calls them in order, value types before the functions that name them.

#include <pybind11/pybind11.h>

namespace flarenut::bindings {

void bind_errors(pybind11::module_& module);
void bind_fluids(pybind11::module_& module);
void bind_correlations(pybind11::module_& module);
void bind_exchange(pybind11::module_& heat_transfer);
void bind_cores(pybind11::module_& heat_transfer);
void bind_heat_transfer(pybind11::module_& module);
void bind_network(pybind11::module_& module);
void bind_answer(pybind11::module_& module);
void bind_analysis(pybind11::module_& module);
void bind_batch(pybind11::module_& module);

}  // namespace flarenut::bindings
