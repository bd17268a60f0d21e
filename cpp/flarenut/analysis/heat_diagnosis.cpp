#include <algorithm>
#include <cmath>
#include <numeric>
#include <sstream>

#include "flarenut/analysis/diagnosis.hpp"
#include "flarenut/analysis/heat_solver.hpp"
#include "flarenut/units/trade_units.hpp"

// Why there is no steady temperature, in words.

namespace flarenut::analysis {
namespace {

std::string watts(double heat) {
  std::ostringstream words;
  words.precision(3);
  if (std::abs(heat) >= 1e3) words << heat / 1e3 << " kW";
  else words << heat << " W";
  return words.str();
}

std::string celsius(double kelvin) {
  std::ostringstream words;
  words.precision(4);
  words << kelvin - 273.15 << " degC";
  return words.str();
}

}  // namespace

std::vector<int> heat_islands(const Plan& plan) {
  const network::HeatSide& heat = *plan.heat();
  const auto& branches = plan.branches();
  const auto junctions = static_cast<std::size_t>(plan.junction_count());
  std::vector<int> island(junctions);
  std::iota(island.begin(), island.end(), 0);
  const auto root = [&](int i) {
    while (island[static_cast<std::size_t>(i)] != i) i = island[static_cast<std::size_t>(i)] = island[static_cast<std::size_t>(island[static_cast<std::size_t>(i)])];
    return i;
  };
  const auto join = [&](int a, int b) { island[static_cast<std::size_t>(root(a))] = root(b); };
  for (const Branch& branch : branches)
    for (int port = 1; port < branch.ports; ++port) join(branch.junction[static_cast<std::size_t>(port)], branch.junction[0]);
  for (std::size_t j = 0; j < junctions; ++j) join(static_cast<int>(j), heat.node_of(static_cast<int>(j)));
  for (const auto& exchanger : heat.exchangers())
    join(branches[static_cast<std::size_t>(exchanger.first)].junction[0], branches[static_cast<std::size_t>(exchanger.second)].junction[0]);
  for (std::size_t j = 0; j < junctions; ++j) island[j] = root(static_cast<int>(j));
  return island;
}

std::string no_way_out(const Plan& plan, const std::vector<int>& island) {
  const network::HeatSide& heat = *plan.heat();
  const auto& parts = plan.network().parts();
  const auto& branches = plan.branches();
  const auto junctions = island.size();
  const auto root = [&](int i) { return island[static_cast<std::size_t>(i)]; };

  const auto sets_temperature = [&](int j) {
    const auto& here = heat.junction(j);
    const auto& junction = plan.junction_state(j);
    const bool given = junction.kind != network::JunctionKind::free && here.drains_to < 0 && (!here.mixes || here.temperature);
    return given || here.conductance > 0.0 || junction.demand < 0.0;
  };
  // Most circuits are one island, with a tank that loses heat.
  const bool is_one = std::all_of(island.begin(), island.end(), [&](int of) { return of == island.front(); });
  for (int j = 0; is_one && j < static_cast<int>(junctions); ++j)
    if (sets_temperature(j)) return {};

  std::vector<char> anchored(junctions, 0);
  std::vector<double> put(junctions, 0.0);
  std::vector<int> last(junctions, -1);
  for (std::size_t j = 0; j < junctions; ++j) {
    const auto& here = heat.junction(static_cast<int>(j));
    const auto r = static_cast<std::size_t>(root(static_cast<int>(j)));
    if (sets_temperature(static_cast<int>(j))) anchored[r] = 1;
    put[r] += here.heat;
    last[r] = static_cast<int>(j);
  }
  for (std::size_t b = 0; b < parts.size(); ++b) {
    const auto r = static_cast<std::size_t>(root(branches[b].junction[0]));
    const auto& part = heat.part(static_cast<int>(b));
    put[r] += part.heat;
    if (part.law && !std::isnan(part.law->sink())) anchored[r] = 1;
  }
  for (std::size_t j = 0; j < junctions; ++j) {
    const auto r = static_cast<std::size_t>(root(static_cast<int>(j)));
    if (anchored[r] || last[r] < 0) continue;
    const std::string name = plan.network().junctions()[static_cast<std::size_t>(last[r])].name;
    if (put[r] > 0.0)
      return watts(put[r]) + " of heat go into the loop of '" + name + "' and none can get out, so it has no steady temperature: give it a "
             "cooler with air, a wall, a tank that loses heat, or a tank of given temperature";
    return "nothing sets the temperature of the loop of '" + name + "': give a tank a temperature, or the loop a way to lose heat to the air";
  }
  return {};
}

std::string beyond_limit(const HeatSystem& system, int junction, double kelvin, double heat) {
  const bool hot = heat > 0.0;
  const std::string& name = system.flow().plan().network().junctions()[static_cast<std::size_t>(junction)].name;
  return "there is no steady state within what is known of the liquid: with '" + name + "' at " + celsius(kelvin) + " it would still " +
         (hot ? "take up " : "give off ") + watts(std::abs(heat)) + " more than it " + (hot ? "gives off" : "takes up") + ". " +
         (hot ? "Look at the heat put in, and for a cooler without air, without flow or too small"
              : "Look at the temperature of the air and of what comes in, and at what cools without need");
}

namespace {

/// What stands still behind something shut drifts to and fro as one end or the other is a little warmer.
std::string stands_still(const HeatSystem& system, int place) {
  const std::string shut = what_shuts(system.flow(), place);
  if (shut.empty()) return {};
  return ". Little but what seeps comes to '" + system.flow().plan().network().junctions()[static_cast<std::size_t>(place)].name +
         "', and how warm it is there cannot be told. Shut on the way: " + shut;
}

}  // namespace

std::string cannot_leave(const HeatSystem& system) {
  constexpr double most = 0.5;  // of what is put in (judgement)
  if (system.worst_node() < 0) return {};
  const Plan& plan = system.flow().plan();
  const double put = plan.heat()->junction(system.worst_node()).heat;
  if (!(put > 0.0) || !(system.worst_heat() > most * put)) return {};
  return "no steady state was found: " + watts(put) + " are put in at '" + plan.network().junctions()[static_cast<std::size_t>(system.worst_node())].name +
         "', and where the search ended what flows there did not take most of them away. Look at the heat put in, and at what should flow there" +
         stands_still(system, system.worst_node());
}

std::string turning_trickle(const std::string& part, double flow, double next) {
  const auto grams_an_hour = [](double kilograms_a_second) {
    std::ostringstream words;
    words.precision(2);
    words << std::abs(kilograms_a_second) * 3.6e6 << " g/h" << (kilograms_a_second < 0.0 ? " backwards" : "");
    return words.str();
  };
  return "nothing steady comes of the trickle through '" + part + "': warm liquid rises, and it comes, goes or turns with the warmth that it brings, " +
         grams_an_hour(flow) + " and then " + grams_an_hour(next) +
         ". What is all but shut there should be shut whole (a leak of 0) or opened, or that way be left out";
}

std::string hunting(const Plan& plan, const std::vector<double>& lowest, const std::vector<double>& highest) {
  constexpr double counts = 0.5;  // K
  std::size_t worst = 0;
  for (std::size_t j = 0; j < lowest.size(); ++j)
    if (highest[j] - lowest[j] > highest[worst] - lowest[worst]) worst = j;
  if (lowest.empty() || !(highest[worst] - lowest[worst] > counts)) return {};
  return "no steady state was found: marched in time it hunts, '" + plan.network().junctions()[worst].name + "' between " + celsius(lowest[worst]) + " and " +
         celsius(highest[worst]) + ". A thermostat of a narrow range, or one that feels elsewhere what it does, hunts so: let it feel its own outlet, or take one "
         "that opens over more degrees";
}

std::string explain_heat_failure(const HeatSystem& system) {
  const Plan& plan = system.flow().plan();
  const auto& junctions = plan.network().junctions();
  if (system.nearly_accepted() || beyond_round_off(system.flow())) {
    const std::string impossible = explain_impossible(system.flow());
    if (!impossible.empty()) return impossible;
  }
  if (!system.flow().accepted() && !system.at_limit()) {
    const Branch& worst = plan.branches()[static_cast<std::size_t>(system.flow().worst_branch())];
    return explain_failure(system.flow()) + stands_still(system, worst.junction[0]);
  }
  std::ostringstream words;
  if (system.at_limit()) {
    const auto limit = static_cast<std::size_t>(system.limit_node());
    const HeatSystem::Span span = system.span_of(static_cast<int>(limit));
    const bool hot = system.temperatures()[limit] > 0.5 * (span.least + span.most);
    words << "there is no steady state within what is known of the liquid: '" << junctions[limit].name << "' would get "
          << (hot ? "hotter" : "colder") << " than " << celsius(system.temperatures()[limit]) << ". "
          << (hot ? "More heat goes in than the coolers can move at that temperature; look for a cooler without air or flow, and at the heat put in"
                  : "Look at the temperature of the air and of what comes in, and at what cools without need");
    return words.str();
  }
  if (const std::string put = cannot_leave(system); !put.empty()) return put;
  words.precision(3);
  words << "temperatures would not settle (heat at '" << (system.worst_node() < 0 ? "?" : junctions[static_cast<std::size_t>(system.worst_node())].name)
        << "' is out of balance by " << system.energy_error() << " of what is moved)";
  if (system.worst_node() >= 0) words << stands_still(system, system.worst_node());
  return words.str();
}

}  // namespace flarenut::analysis
