#include <pybind11/numpy.h>
#include <pybind11/pybind11.h>
#include <pybind11/stl.h>

#include <algorithm>
#include <cstdint>
#include <limits>

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
  module.def("heat_kinds", [] {
    std::map<std::string, KindInfo> kinds;
    for (std::string_view name : network::heat_kind_names()) kinds.emplace(name, network::make_heat_element(name)->info());
    return kinds;
  }, "Every kind of heat law of the engine, by name.");
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

using Column = py::array_t<double, py::array::c_style | py::array::forcecast>;
using Positions = Column;

py::object range_of(int first, int count) { return py::module_::import("builtins").attr("range")(first, first + count); }

std::vector<double> values_of(const Column& column) {
  if (column.ndim() > 1) throw InputError("rows", "values", "come in one column: a single number or a one-dimensional array");
  return std::vector<double>(column.data(), column.data() + column.size());
}

std::vector<network::Position> positions_of(const Positions& positions) {
  if (positions.size() == 0) return {};
  const bool single = positions.ndim() == 1;
  if (positions.ndim() > 2 || positions.shape(single ? 0 : 1) != 3)
    throw InputError("rows", "position", "has three columns: metres forward, left, up");
  std::vector<network::Position> result(static_cast<std::size_t>(positions.size()) / 3);
  std::copy_n(positions.data(), positions.size(), result.front().data());
  return result;
}

std::vector<int> indices_of(const char* column, const py::object& given) {
  const auto kind = py::array::ensure(given);
  if (!kind || kind.ndim() != 1 || (kind.dtype().kind() != 'i' && kind.dtype().kind() != 'u'))
    throw InputError("rows", column, "is one column of indices of junctions, whole numbers");
  const py::array_t<std::int64_t, py::array::c_style | py::array::forcecast> indices(kind);
  std::vector<int> result(static_cast<std::size_t>(indices.size()));
  for (std::size_t row = 0; row < result.size(); ++row) {
    const std::int64_t index = indices.data()[row];
    result[row] = index < 0 || index > std::numeric_limits<int>::max() ? -1 : static_cast<int>(index);
  }
  return result;
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
           "Adds a part of a kind between junctions; returns its index. Raises InputError naming part, field, limit.")
      .def("junctions",
           [](Network& self, std::string name, int count, const Column& demand, const Positions& position) {
             return range_of(self.add_junctions(std::move(name), count, values_of(demand), positions_of(position)), count);
           },
           "name"_a, "count"_a, "demand"_a = 0.0, "position"_a = py::array_t<double>(0),
           "Adds junctions 'name[0]', 'name[1]' ...; returns the range of their indices. demand [kg/s]: one number, or one for each. "
           "position [m], forward, left, up: none, one row, or one for each. Raises InputError naming row, value, limit.")
      .def("lines",
           [](Network& self, std::string name, const py::object& starts, const py::object& ends, int liquid, const py::kwargs& numbers) {
             Network::Columns columns;
             for (const auto& [field, values] : numbers) columns.emplace_back(py::cast<std::string>(field), values_of(py::cast<Column>(values)));
             auto from = indices_of("starts", starts);
             const auto count = static_cast<int>(from.size());
             return range_of(self.add_lines(std::move(name), std::move(from), indices_of("ends", ends), columns, liquid), count);
           },
           "name"_a, "starts"_a, "ends"_a, "liquid"_a = 0,
           "Adds lines 'name[0]', 'name[1]' ..., each from junction starts[i] to ends[i]; returns the range of their indices. Numbers of "
           "a line by keyword (bore=..., length=...) [SI]: one number, or one for each line. Raises InputError naming row, value, limit.")
      .def("follow_heat", &Network::follow_heat, "Lets temperatures be found with pressures and flows.")
      .def("heat_law",
           [](Network& self, int part, const std::string& kind, const Numbers& numbers, const Columns& columns) {
             self.add_heat_law(part, kind, as_pairs(numbers), as_pairs(columns));
           },
           "part"_a, "kind"_a, "numbers"_a = Numbers{}, "columns"_a = Columns{}, "Puts a heat law of a kind on a part.")
      .def("exchanger",
           [](Network& self, std::string name, const std::string& kind, int first, int second, const Numbers& numbers, const Columns& columns) {
             self.add_exchanger(std::move(name), kind, first, second, as_pairs(numbers), as_pairs(columns));
           },
           "name"_a, "kind"_a, "first"_a, "second"_a, "numbers"_a = Numbers{}, "columns"_a = Columns{},
           "A wall between the streams of two parts.")
      .def("put_heat", &Network::put_heat, "part"_a, "heat"_a, "efficiency"_a = 1.0, "capacity"_a = 0.0, "terminals"_a = 0.0,
           "Heat put into a part's stream [W]; efficiency of a pump, or its power at the terminals [W]; heat capacity of liquid and metal [J/K].")
      .def("put_heat_at", &Network::put_heat_at, "junction"_a, "heat"_a, "conductance"_a = 0.0, "capacity"_a = 0.0,
           "Heat put in at a junction [W]; conductance to the air [W/K]; heat capacity [J/K].")
      .def("sense_temperature", &Network::sense_temperature, "part"_a, "junction"_a, "Lets a part stand at a junction's temperature.")
      .def("let_mix", &Network::let_mix, "tank"_a, "Lets a tank's temperature be found from what returns to it.")
      .def("drain", &Network::drain, "start"_a, "to"_a, "Lets what flows out at a place of given pressure fall back into a tank.")
      .def_property_readonly("junction_count", &Network::junction_count)
      .def_property_readonly("part_count", &Network::part_count);
}

}  // namespace

void bind_network(py::module_& module) {
  bind_kinds(module);
  bind_circuit(module);
}

}  // namespace flarenut::bindings
