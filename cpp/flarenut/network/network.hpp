#pragma once
/// A circuit as the engine takes it: junctions with names and places, parts between them, liquids, and the
/// numbers that may change between solves. Plain data; `Plan` compiles it.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "flarenut/fluids/liquid.hpp"
#include "flarenut/network/element.hpp"
#include "flarenut/network/network_heat.hpp"
#include "flarenut/network/rows.hpp"
#include "flarenut/parts/tank.hpp"

namespace flarenut::network {

using Position = std::array<double, 3>;  ///< metres: x forward, y to the left, z up

// What numbers that belong to no part are allowed to be; accelerations either way, as demands.
inline constexpr double most_demand = 100.0;                              // kg/s
inline constexpr double least_gauge = -1.1e5, most_gauge = 1e8;           // Pa
inline constexpr double least_ambient = 1e3, most_ambient = 1e7;          // Pa
inline constexpr double least_temperature = 150.0, most_temperature = 700.0;  // K
inline constexpr double most_acceleration = 1e3;                          // m/s2

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

  /// Adds `count` free junctions "prefix[0]", "prefix[1]" ... `demand` and `position` give one value for each, one for all, or
  /// none. Returns the index of the first. InputError naming the row, the value and the limit.
  int add_junctions(std::string prefix, int count, std::vector<double> demand = {}, std::vector<Position> position = {});
  /// Adds lines "prefix[0]", "prefix[1]" ..., each from junction `from[i]` to `to[i]`. Each column of `numbers` gives one value for
  /// each line or one for all; fields not named keep their presets. Returns the index of the first.
  int add_lines(std::string prefix, std::vector<int> from, std::vector<int> to, const Columns& numbers, int liquid = 0);

  // Heat. Temperatures are found with pressures and flows once `follow_heat` is said; else they are given.
  void follow_heat() { follows_heat_ = true; }
  /// Puts a heat law of a registered kind on a part. InputError on anything wrong, as for all of these.
  void add_heat_law(int part, std::string_view kind, const Numbers& numbers = {}, const Columns& columns = {});
  /// A wall between the streams of two parts, of one liquid or of two.
  void add_exchanger(std::string name, std::string_view kind, int first, int second, const Numbers& numbers = {},
                     const Columns& columns = {});
  /// Heat put into a part's stream [W]; of a pump, its efficiency or its power at the terminals [W]; heat capacity of metal and liquid [J/K].
  void put_heat(int part, double watts, double efficiency = 1.0, double capacity = 0.0, double terminals = 0.0);
  void put_heat_at(int junction, double watts, double conductance = 0.0, double capacity = 0.0);
  /// Lets a part stand at the temperature of a junction: where a thermostat's element is.
  void sense_temperature(int part, int junction);
  /// Lets a tank's temperature be found from what returns to it, in place of being given.
  void let_mix(int tank);
  /// Lets what flows out at a place of given pressure fall back into a tank.
  void drain(int from, int to);
  bool follows_heat() const { return follows_heat_; }
  const NetworkHeat& heat() const { return heat_; }

  // What was added one by one. A network with rows lists everything here once it is written out.
  const std::vector<Junction>& junctions() const { return junctions_; }
  const std::vector<PartEntry>& parts() const { return parts_; }

  // What was added in rows.
  const std::vector<Shared<JunctionRows>>& junction_rows() const { return junction_rows_; }
  const std::vector<Shared<LineRows>>& line_rows() const { return line_rows_; }
  bool has_rows() const { return !junction_rows_.empty() || !line_rows_.empty(); }
  /// The same network with a junction and a part of its own for every row.
  Network written_out() const;
  /// Changes one number of a row of a group; the caller has judged it.
  void set_row_demand(std::size_t group, int row, double value);
  void set_row_number(std::size_t group, int row, std::size_t field, double value);

  int junction_count() const { return junction_count_; }
  int part_count() const { return part_count_; }
  std::string junction_name(int junction) const;
  std::string part_name(int part) const;
  /// Index among all junctions of the one that stands at that place in `junctions()`; they differ beside rows.
  int index_of_junction(std::size_t place) const { return junction_index_[place]; }
  const std::vector<fluids::Liquid>& liquids() const { return liquids_; }
  int junction(std::string_view name) const;  ///< InputError when there is none
  int part(std::string_view name) const;

  /// Throws InputError, with the likeliest cause in words, when no solve could succeed: no junction at a fixed
  /// pressure within reach, a junction nothing connects to, no liquid.
  void require_well_posed() const;

 private:
  void require_free_name(const std::string& name) const;
  const PartEntry& entry_of(int part, const char* what) const;
  void require_free_prefix(const std::string& prefix) const;
  int add(Junction junction);
  std::optional<int> row_junction(std::string_view name) const;
  std::optional<int> row_part(std::string_view name) const;

  /// Where a name is: junctions and parts share their names' space.
  struct Named {
    bool is_part;
    int index;
  };

  std::vector<fluids::Liquid> liquids_;
  std::vector<Junction> junctions_;
  std::vector<PartEntry> parts_;
  std::unordered_map<std::string, Named> named_;
  std::vector<Shared<JunctionRows>> junction_rows_;
  std::vector<Shared<LineRows>> line_rows_;
  std::vector<int> junction_index_, part_index_;  ///< of those added one by one, among all
  int junction_count_ = 0, part_count_ = 0;
  NetworkHeat heat_;
  bool follows_heat_ = false;
};

}  // namespace flarenut::network
