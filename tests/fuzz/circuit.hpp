#pragma once
/// A network out of bytes: liquids, places, parts with any of their numbers, rows, and heat. It may be anything, and mostly nearly makes sense.

#include <string>
#include <vector>

#include "bytes.hpp"
#include "flarenut/fluids/oils.hpp"
#include "flarenut/network/heat_element.hpp"
#include "flarenut/network/kinds.hpp"
#include "flarenut/network/network.hpp"

namespace fuzz {

using namespace flarenut;
using network::Network;

inline fluids::Liquid liquid(Bytes& bytes) {
  if (bytes.chance(96)) {
    fluids::OilSpec oil;
    const int points = 1 + bytes.below(4);
    for (int i = 0; i < points; ++i)
      oil.viscosities.push_back({Temperature<>::from_value(bytes.between(240.0, 400.0)), KinematicViscosity<>::from_value(bytes.between(1e-6, 1e-2))});
    oil.density_15 = Density<>::from_value(bytes.between(700.0, 1000.0));
    if (bytes.chance(64)) oil.pour_point = Temperature<>::from_value(bytes.between(200.0, 300.0));
    return fluids::oil(oil);
  }
  fluids::ConstantLiquidSpec spec;
  spec.density = Density<>::from_value(bytes.between(600.0, 1200.0));
  spec.viscosity = DynamicViscosity<>::from_value(bytes.between(1e-4, 1.0));
  spec.vapour_pressure = AbsolutePressure<>::from_value(bytes.between(0.0, 1e5));
  if (bytes.chance(64)) spec.specific_heat = SpecificHeat<>::from_value(bytes.between(1e3, 5e3));
  return fluids::constant_liquid(spec);
}

inline network::Position position(Bytes& bytes) {
  if (bytes.chance(160)) return {};
  return {bytes.between(-3.0, 3.0), bytes.between(-1.0, 1.0), bytes.between(-1.0, 2.0)};
}

/// Some of the numbers of a kind; the others keep their presets.
inline Network::Numbers numbers(Bytes& bytes, const std::vector<network::FieldInfo>& fields) {
  Network::Numbers found;
  for (const auto& field : fields) {
    const bool preset = field.preset >= field.least && field.preset <= field.most && bytes.chance(128);
    if (!preset) found.emplace_back(std::string(field.name), bytes.between(field.least, field.most));
  }
  return found;
}

/// Measured columns, mostly of one length and rising.
inline std::vector<double> column(Bytes& bytes, int length) {
  std::vector<double> values(static_cast<std::size_t>(bytes.chance(240) ? length : bytes.below(40)));
  double value = 0.0;
  for (double& one : values) one = bytes.chance(230) ? value += bytes.between(1e-6, 1e5) : bytes.between(-1e6, 1e6);
  if (bytes.chance(96)) std::reverse(values.begin(), values.end());
  return values;
}
inline Network::Columns columns(Bytes& bytes, const std::vector<network::ColumnInfo>& infos) {
  Network::Columns found;
  const int length = bytes.below(8);
  for (const auto& info : infos) found.emplace_back(std::string(info.name), column(bytes, length));
  return found;
}

inline void add_place(Bytes& bytes, Network& network) {
  const std::string name = "j" + std::to_string(network.junction_count());
  const int choice = bytes.below(8);
  if (choice < 5) {
    network.add_junction(name, position(bytes), bytes.chance(224) ? 0.0 : bytes.between(-0.2, 0.2));
  } else if (choice < 6) {
    network.add_fixed(name, bytes.between(-5e4, 5e5), position(bytes));
  } else if (choice < 7) {
    parts::TankSpec<> tank;
    tank.level = Length<>::from_value(bytes.between(0.0, 1.0));
    tank.vent_pressure = GaugePressure<>::from_value(bytes.between(-1e4, 1e5));
    tank.pickup_forward = Length<>::from_value(bytes.between(-1.0, 1.0));
    network.add_tank(name, tank, position(bytes), bytes.index(static_cast<int>(network.liquids().size())));
  } else {
    const int count = bytes.chance(250) ? 1 + bytes.below(6) : bytes.index(8);
    std::vector<double> demand(static_cast<std::size_t>(bytes.chance(230) ? 1 : bytes.below(8)), 0.0);
    for (double& one : demand) one = bytes.between(-0.01, 0.01);
    network.add_junctions(bytes.chance(250) ? name : "j0", count, std::move(demand));
  }
}

inline std::vector<int> some(Bytes& bytes, int how_many, int below) {
  std::vector<int> found;
  const int first = bytes.index(below);
  for (int i = 0; i < how_many; ++i) found.push_back(i == 0 ? first : bytes.chance(200) ? (first >= 0 && below > 0 ? static_cast<int>((static_cast<long>(first) + i) % below) : first) : bytes.index(below));
  return found;
}

inline void add_part(Bytes& bytes, Network& network) {
  const int places = network.junction_count(), liquids = static_cast<int>(network.liquids().size());
  const std::string name = bytes.chance(252) ? "p" + std::to_string(network.part_count()) : "j0";
  const int in_use = bytes.chance(224) ? 0 : bytes.index(liquids);
  if (bytes.chance(24)) {
    const int rows = 1 + bytes.below(6);
    Network::Columns given{{"bore", {bytes.between(1e-3, 0.05)}}, {"length", {bytes.between(0.01, 50.0)}}};
    network.add_lines(name, some(bytes, rows, places), some(bytes, bytes.chance(250) ? rows : bytes.below(6), places), given, in_use);
    return;
  }
  const auto kinds = network::kind_names();
  const std::string kind = bytes.chance(80) ? "line" : std::string(kinds[static_cast<std::size_t>(bytes.below(static_cast<int>(kinds.size())))]);
  const auto info = network::make_element(kind)->info();
  auto ports = some(bytes, info.shape.ports, places), senses = some(bytes, info.shape.senses, places);
  const auto values = numbers(bytes, info.fields);
  network.add_part(name, kind, std::move(ports), std::move(senses), values, columns(bytes, info.columns), in_use);
}

inline void add_heat(Bytes& bytes, Network& network) {
  const int places = network.junction_count(), parts = network.part_count();
  switch (bytes.below(8)) {
    case 0:
    case 1: {
      const auto kinds = network::heat_kind_names();
      const auto kind = kinds[static_cast<std::size_t>(bytes.below(static_cast<int>(kinds.size())))];
      const auto law = network::make_heat_element(kind);
      const auto info = law->info();
      const auto values = numbers(bytes, info.fields);
      const auto measured = columns(bytes, info.columns);
      if (law->streams() == 1) network.add_heat_law(bytes.index(parts), kind, values, measured);
      else network.add_exchanger("x" + std::to_string(bytes.below(4)), kind, bytes.index(parts), bytes.index(parts), values, measured);
      break;
    }
    case 2: network.put_heat(bytes.index(parts), bytes.between(-2e4, 5e4), bytes.between(0.05, 1.0), bytes.between(1.0, 1e5), bytes.between(0.0, 1e3)); break;
    case 3: network.put_heat_at(bytes.index(places), bytes.between(-2e4, 5e4), bytes.between(0.0, 100.0), bytes.between(1.0, 1e5)); break;
    case 4: network.sense_temperature(bytes.index(parts), bytes.index(places)); break;
    case 5: network.drain(bytes.index(places), bytes.index(places)); break;
    default: network.let_mix(bytes.index(places)); break;
  }
}

/// What is refused is left out, so that one wrong number does not end the circuit; the refusal must be an InputError.
template <class Add>
void tried(Add add) {
  try {
    add();
  } catch (const InputError&) {
  }
}

inline Network circuit(Bytes& bytes) {
  Network network;
  const int liquids = 1 + bytes.below(2), places = 2 + bytes.below(12), parts = 1 + bytes.below(20);
  for (int i = 0; i < liquids; ++i) tried([&] { network.add_liquid(liquid(bytes)); });
  tried([&] { network.add_fixed("open air", 0.0); });
  for (int i = 0; i < places; ++i) tried([&] { add_place(bytes, network); });
  for (int i = 0; i < parts && !bytes.empty(); ++i) tried([&] { add_part(bytes, network); });
  if (bytes.chance(96)) {
    network.follow_heat();
    for (int i = bytes.below(12); i > 0 && !bytes.empty(); --i) tried([&] { add_heat(bytes, network); });
  }
  return network;
}

}  // namespace fuzz
