#pragma once
/// A circuit as the engine takes it: junctions with names and places, parts between them, liquids, and the
/// numbers that may change between solves. Plain data; `Plan` compiles it.

#include <array>
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "flarenut/fluids/liquid.hpp"
#include "flarenut/network/element.hpp"
#include "flarenut/parts/tank.hpp"

namespace flarenut::network {

using Position = std::array<double, 3>;  ///< metres: x forward, y to the left, z up

enum class JunctionKind {
  free,   ///< pressure found by the solver
  fixed,  ///< held at a gauge pressure: open air, the intake manifold
  tank,   ///< held at what stands above a tank's pick-up
};

struct Junction {
  std::string name;
  JunctionKind kind = JunctionKind::free;
  Position position{};
  double demand = 0.0;  ///< mass flow taken out here [kg/s]; free junctions only
  double gauge = 0.0;   ///< fixed: pressure above ambient [Pa]
  parts::TankSpec<> tank{};///< tank: level, vent, pick-up
  int liquid = 0;          ///< tank: which liquid stands in it
};

struct PartEntry {
  std::string name;
  std::unique_ptr<Element> element;
  std::vector<int> ports, senses;  ///< junction indices
  int liquid = 0;

  PartEntry() = default;
  PartEntry(const PartEntry& other)
      : name(other.name), element(other.element->clone()), ports(other.ports), senses(other.senses),
        liquid(other.liquid) {}
  PartEntry(PartEntry&&) noexcept = default;
  PartEntry& operator=(PartEntry other) noexcept {
    std::swap(name, other.name);
    std::swap(element, other.element);
    std::swap(ports, other.ports);
    std::swap(senses, other.senses);
    std::swap(liquid, other.liquid);
    return *this;
  }
};

class Network {
 public:
  int add_liquid(fluids::Liquid liquid);
  int add_junction(std::string name, Position position = {}, double demand = 0.0);
  int add_fixed(std::string name, double gauge, Position position = {});
  int add_tank(std::string name, const parts::TankSpec<>& tank, Position position = {}, int liquid = 0);

  using Numbers = std::vector<std::pair<std::string, double>>;
  using Columns = std::vector<std::pair<std::string, std::vector<double>>>;
  /// Adds a part of a registered kind; fields not named keep their presets. InputError on anything wrong.
  int add_part(std::string name, std::string_view kind, std::vector<int> ports, std::vector<int> senses = {},
               const Numbers& numbers = {}, const Columns& columns = {}, int liquid = 0);
  /// Adds a part made by hand: for C++ users and tests with kinds of their own.
  int add_element(std::string name, std::unique_ptr<Element> element, std::vector<int> ports,
                  std::vector<int> senses = {}, int liquid = 0);

  const std::vector<Junction>& junctions() const { return junctions_; }
  const std::vector<PartEntry>& parts() const { return parts_; }
  const std::vector<fluids::Liquid>& liquids() const { return liquids_; }
  int junction(std::string_view name) const;  ///< InputError when there is none
  int part(std::string_view name) const;

  /// Throws InputError, with the likeliest cause in words, when no solve could succeed: no junction at a fixed
  /// pressure within reach, a junction nothing connects to, no liquid.
  void require_well_posed() const;

 private:
  void require_free_name(const std::string& name) const;
  int add(Junction junction);

  /// Where a name is: junctions and parts share their names' space.
  struct Named {
    bool is_part;
    int index;
  };

  std::vector<fluids::Liquid> liquids_;
  std::vector<Junction> junctions_;
  std::vector<PartEntry> parts_;
  std::unordered_map<std::string, Named> named_;
};

}  // namespace flarenut::network
