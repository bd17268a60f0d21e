#pragma once
// What the files that bind fluids share.

#include "bindings.hpp"
#include "flarenut/fluids/liquid.hpp"

namespace flarenut::bindings {

/// A law as one opaque thing: Python picks it by name and hands it on.
struct AnyLaw {
  fluids::Law law;
};

// SI in, types out.
inline AbsolutePressure<> absolute(double pascal) { return AbsolutePressure<>::from_value(pascal); }
inline Temperature<> kelvin(double value) { return Temperature<>::from_value(value); }

// Bound into the module `fluids`, after laws and liquids.
void bind_liquid_makers(pybind11::module_& fluids);
void bind_gases(pybind11::module_& fluids);

}  // namespace flarenut::bindings
