#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include "bindings.hpp"
#include "flarenut/network/kinds.hpp"
#include "flarenut/network/network.hpp"

namespace py = pybind11;
using namespace pybind11::literals;

namespace flarenut::bindings {

using network::ColumnInfo;
using network::FieldInfo;
using network::KindInfo;
using network::Network;

namespace {

void bind_kinds(py::module_& module) {
  py::class_<FieldInfo>(module, "Field", "A number of a kind of part: what it is called and allowed to be.")
      .def_property_readonly("name", [](const FieldInfo& f) { return std::string(f.name); })
      .def_property_readonly("unit", [](const FieldInfo& f) { return std::string(f.unit); }, "SI unit.")
      .def_property_readonly("meaning", [](const FieldInfo& f) { return std::string(f.meaning); })
      .def_readonly("least", &FieldInfo::least, "Smallest value allowed [SI].")
      .def_readonly("most", &FieldInfo::most, "Largest value allowed [SI].")
      .def_readonly("preset", &FieldInfo::preset, "Value when none is given [SI]; 0 where one must be given.")
      .def_readonly("drives", &FieldInfo::drives, "True for a source: volts, speed, duty.");
  py::class_<ColumnInfo>(module, "Column", "A column of measured numbers of a kind of part.")
      .def_property_readonly("name", [](const ColumnInfo& c) { return std::string(c.name); })
      .def_property_readonly("unit", [](const ColumnInfo& c) { return std::string(c.unit); }, "SI unit.")
      .def_property_readonly("meaning", [](const ColumnInfo& c) { return std::string(c.meaning); });
  py::class_<KindInfo>(module, "Kind", "A kind of part: its shape and its numbers.")
      .def_property_readonly("kind", [](const KindInfo& k) { return std::string(k.kind); })
      .def_property_readonly("ports", [](const KindInfo& k) { return k.shape.ports; })
      .def_property_readonly("flows", [](const KindInfo& k) { return k.shape.flows; })
      .def_property_readonly("senses", [](const KindInfo& k) { return k.shape.senses; })
      .def_readonly("fields", &KindInfo::fields)
      .def_readonly("columns", &KindInfo::columns);
  module.def("kinds", [] {
    std::map<std::string, KindInfo> kinds;
    for (std::string_view name : network::kind_names()) kinds.emplace(name, network::make_element(name)->info());
    return kinds;
  }, "Every kind of part of the engine, by name.");
}

template <class Map>
auto as_pairs(const Map& map) {
  return std::vector<std::pair<std::string, typename Map::mapped_type>>(map.begin(), map.end());
}

void bind_circuit(py::module_& module) {
  using Numbers = std::map<std::string, double>;
  using Columns = std::map<std::string, std::vector<double>>;
  py::class_<Network>(module, "Network", "Junctions, parts and liquids; all numbers in SI.")
      .def(py::init<>())
      .def("liquid", &Network::add_liquid, "liquid"_a, "Adds a liquid; returns its index.")
      .def("junction", &Network::add_junction, "name"_a, "position"_a = network::Position{}, "demand"_a = 0.0,
           "Adds a junction. position [m]: forward, left, up; demand: mass flow taken out [kg/s].")
      .def("fixed", &Network::add_fixed, "name"_a, "gauge"_a = 0.0, "position"_a = network::Position{},
           "Adds a junction held at a gauge pressure [Pa].")
      .def("tank",
           [](Network& self, std::string name, double level, double vent, network::Position position,
              std::array<double, 2> pickup, int liquid) {
             const parts::TankSpec<> tank{.level = Length<>::from_value(level),
                                          .vent_pressure = GaugePressure<>::from_value(vent),
                                          .pickup_forward = Length<>::from_value(pickup[0]),
                                          .pickup_left = Length<>::from_value(pickup[1])};
             return self.add_tank(std::move(name), tank, position, liquid);
           },
           "name"_a, "level"_a = 0.0, "vent"_a = 0.0, "position"_a = network::Position{},
           "pickup"_a = std::array<double, 2>{}, "liquid"_a = 0,
           "Adds a tank's pick-up. level: liquid above it [m]; vent: pressure above the liquid [Pa gauge]; pickup: how far "
           "forward and left of the middle of the liquid it lies [m].")
      .def("part",
           [](Network& self, std::string name, const std::string& kind, std::vector<int> junctions,
              std::vector<int> senses, const Numbers& numbers, const Columns& columns, int liquid) {
             return self.add_part(std::move(name), kind, std::move(junctions), std::move(senses), as_pairs(numbers),
                                  as_pairs(columns), liquid);
           },
           "name"_a, "kind"_a, "junctions"_a, "senses"_a = std::vector<int>{}, "numbers"_a = Numbers{},
           "columns"_a = Columns{}, "liquid"_a = 0,
           "Adds a part of a kind between junctions; returns its index. Raises InputError naming part, field, limit.");
}

}  // namespace

void bind_network(py::module_& module) {
  bind_kinds(module);
  bind_circuit(module);
}

}  // namespace flarenut::bindings
