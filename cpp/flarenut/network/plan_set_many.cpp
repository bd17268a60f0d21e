#include <algorithm>
#include <exception>

#include "flarenut/network/plan.hpp"

namespace flarenut::network {
namespace {

using Columns = std::vector<std::pair<std::string, std::vector<double>>>;

/// Of an element or a heat law: all of the columns, or none where one is refused. Returns those before.
template <class Owner>
Columns put_columns(Owner& owner, const std::string& name, const Columns& columns) {
  const KindInfo info = owner.info();
  std::vector<std::pair<int, std::vector<double>>> before;
  before.reserve(columns.size());
  try {
    for (const auto& [column, values] : columns) {
      const auto found = std::find_if(info.columns.begin(), info.columns.end(), [&](const auto& one) { return one.name == column; });
      if (found == info.columns.end()) throw InputError(name, column, "is not a column that this part has");
      const int place = static_cast<int>(found - info.columns.begin());
      before.emplace_back(place, owner.column(place));
      owner.set_column(place, values);
    }
    owner.validate(name);
  } catch (const std::exception&) {
    std::for_each(before.rbegin(), before.rend(), [&](auto& old) { owner.set_column(old.first, std::move(old.second)); });
    throw;
  }
  Columns named;
  for (auto& [place, values] : before) named.emplace_back(std::string(info.columns[static_cast<std::size_t>(place)].name), std::move(values));
  return named;
}

}  // namespace

void Plan::set_many(const std::vector<std::pair<int, double>>& values) {
  using What = NumberPlace::What;
  const auto temperatures = part_temperature_;  // one that follows the liquid's shall go on following it
  std::vector<std::pair<int, double>> before;
  std::vector<int> parts;
  before.reserve(values.size());
  const auto put = [&](int number, double value) {
    const NumberPlace& where = place(number);
    if (where.what != What::field) return set(number, value);
    element(where.owner).set_field(where.field, value);
    parts.push_back(where.owner);
  };
  try {
    for (const auto& [number, value] : values) {
      before.emplace_back(number, get(number));
      // A part told the temperature it already has is pinned there, and follows the rest of the liquid no longer.
      if (place(number).what == What::part_temperature || before.back().second != value) put(number, value);
    }
    std::sort(parts.begin(), parts.end());
    parts.erase(std::unique(parts.begin(), parts.end()), parts.end());
    for (int part : parts) element(part).validate(network_.parts()[static_cast<std::size_t>(part)].name);
  } catch (const std::exception&) {
    std::for_each(before.rbegin(), before.rend(), [&](const auto& old) { put(old.first, old.second); });
    part_temperature_ = temperatures;
    throw;
  }
  for (int part : parts) mark_stale(static_cast<std::size_t>(part));
}

void Plan::set_row(const std::vector<int>& numbers, const double* values) {
  using What = NumberPlace::What;
  bool plain = true;
  for (std::size_t n = 0; n < numbers.size() && plain; ++n) {
    const auto number = static_cast<std::size_t>(numbers[n]);
    const What what = places_[number].what;
    plain = what == What::field ? values[n] >= ranges_[number].least && values[n] <= ranges_[number].most
                                : what != What::part_temperature;
  }
  before_.clear();
  if (!plain) {  // something to refuse in words, or rare
    for (std::size_t n = 0; n < numbers.size(); ++n) before_.emplace_back(numbers[n], values[n]);
    return set_many(before_);
  }
  const auto change = [&](int number, double value) {  // returns what it was
    const NumberPlace& where = place(number);
    if (where.what == What::field) return element(where.owner).exchange_field(where.field, value);
    const double before = get(number);
    if (before != value) set(number, value);
    return before;
  };
  try {
    for (std::size_t n = 0; n < numbers.size(); ++n) {
      const double before = change(numbers[n], values[n]);
      if (before == values[n]) continue;
      before_.emplace_back(numbers[n], before);
      const NumberPlace& where = place(numbers[n]);
      if (where.what != What::field) continue;
      mark_stale(static_cast<std::size_t>(where.owner));
    }
    for (std::size_t i = 0; i < before_.size(); ++i) {
      const NumberPlace& where = place(before_[i].first);
      const auto owner = static_cast<std::size_t>(where.owner);
      if (where.what == What::field && has_check_[owner]) element(where.owner).check(network_.parts()[owner].name);
    }
  } catch (const std::exception&) {
    std::for_each(before_.rbegin(), before_.rend(), [&](const auto& old) { change(old.first, old.second); });
    throw;
  }
}

void Plan::set_column(int part, const std::string& column, std::vector<double> values) {
  set_columns(part, {{column, std::move(values)}});
}

void Plan::set_columns(int part, const Columns& columns) {
  const auto owner = static_cast<std::size_t>(part);
  const std::string& name = network_.parts().at(owner).name;
  Columns own, of_heat;
  for (const auto& [column, values] : columns) {
    const bool is_heat = column.starts_with(heat_columns);
    (is_heat ? of_heat : own).emplace_back(is_heat ? column.substr(heat_columns.size()) : column, values);
  }
  HeatSide* const heat = heat_ ? &*heat_ : nullptr;
  if (!of_heat.empty() && (heat == nullptr || !heat->part(part).law))
    throw InputError(name, of_heat.front().first, "is not a column that this part has: no heat is followed through it");
  const Columns before = put_columns(element(part), name, own);
  if (heat != nullptr && !of_heat.empty()) {
    try {
      put_columns(*heat->part(part).law, name, of_heat);
    } catch (const std::exception&) {
      put_columns(element(part), name, before);
      throw;
    }
    heat->mark_stale(part);
    any_stale_ = true;
  }
  if (!own.empty()) mark_stale(owner);
}

}  // namespace flarenut::network
