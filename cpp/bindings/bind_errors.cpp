#include <pybind11/pybind11.h>

#include "bindings.hpp"
#include "flarenut/base/error.hpp"

namespace py = pybind11;

namespace flarenut::bindings {

/// InputError arrives in Python as a ValueError that keeps place, field and trouble apart, so that a file loader can
/// add the line.
void bind_errors(py::module_& module) {
  static PyObject* type = PyErr_NewExceptionWithDoc(
      "flarenut._core.InputError", "Wrong input: place, field, trouble (with its cure).", PyExc_ValueError, nullptr);
  module.add_object("InputError", py::reinterpret_borrow<py::object>(type));
  py::register_exception_translator([](std::exception_ptr pointer) {
    try {
      if (pointer) std::rethrow_exception(pointer);
    } catch (const InputError& error) {
      py::object instance = py::reinterpret_borrow<py::object>(type)(error.what());
      instance.attr("place") = error.place();
      instance.attr("field") = error.field();
      instance.attr("trouble") = error.trouble();
      PyErr_SetObject(type, instance.ptr());
    }
  });
}

}  // namespace flarenut::bindings
