#include "flarenut/analysis/lane_rows.hpp"

#include <algorithm>
#include <cstring>

#include "flarenut/network/rest.hpp"

namespace flarenut::analysis {

using network::NumberPlace;
using network::Plan;
using What = NumberPlace::What;

namespace {

/// All that laws in the packs look at.
bool same(const fluids::LiquidState<>& a, const fluids::LiquidState<>& b) {
  return a.density.value() == b.density.value() && a.viscosity.value() == b.viscosity.value();
}

}  // namespace

LaneRows::LaneRows(const Plan& plan, const BatchTask& task, const LaneLayout& layout, const LaneReference& reference,
                   const lanes::Kernel& kernel, bool pack)
    : task_(task), kernel_(kernel), reference_(reference), values_(task.numbers.size() * static_cast<std::size_t>(kernel.width)) {
  // Prepared parts hold their liquid as it is now.
  const bool liquids_stay = pack && std::all_of(task.numbers.begin(), task.numbers.end(), [&](int number) {
    const What what = plan.place(number).what;
    return what == What::field || what == What::gauge || what == What::demand;
  });
  std::vector<char> asked(plan.branches().size(), 0), packed(asked);
  for (std::size_t column = 0; column < task.numbers.size(); ++column) {
    const NumberPlace& place = plan.place(task.numbers[column]);
    const auto owner = static_cast<std::size_t>(place.owner);
    if (liquids_stay && place.what == What::field && !asked[owner]) {
      asked[owner] = 1;
      packed[owner] = try_to_pack(plan, layout, place.owner);
    }
    if (liquids_stay && place.what == What::gauge) {
      gauges_.push_back({column, plan.junction_state(place.owner), layout.circuit.region.pressure + place.owner * kernel.width});
      junctions_.push_back(place.owner);
    } else if (place.what == What::field && packed[owner]) {
      const auto found = std::find(parts_.begin(), parts_.end(), place.owner);
      packed_[static_cast<std::size_t>(found - parts_.begin())].varied.emplace_back(static_cast<int>(column), place.field);
    } else {
      rest_.push_back(task.numbers[column]);
      rest_column_.push_back(static_cast<int>(column));
    }
  }
  rest_values_.resize(rest_.size());
  ambient_ = plan.ambient();
}

bool LaneRows::try_to_pack(const Plan& plan, const LaneLayout& layout, int part) {
  const LaneLayout::Part& place = layout.part[static_cast<std::size_t>(part)];
  if (place.member < 0) return false;
  const lanes::Member& member = layout.circuit.members[static_cast<std::size_t>(place.member)];
  const auto width = static_cast<std::size_t>(kernel_.width);
  const network::Element& element = plan.element(part);
  const auto fields = static_cast<std::size_t>(element.field_count());
  const auto numbers = static_cast<std::size_t>(lanes::numbers_of_law(member.law));
  Packed made{member.law, plan.liquid_in(part), lanes::Aligned(fields * width), {}, place_.size() * width};
  made.like_before = !packed_.empty() && packed_.back().law == made.law && same(packed_.back().liquid, made.liquid);
  for (std::size_t field = 0; field < fields; ++field)
    std::fill_n(&made.fields[field * width], width, element.field(static_cast<int>(field)));
  lanes::Aligned trial(numbers * width), start(width);
  if (kernel_.rows->prepare(made.law, made.fields.data(), made.liquid, trial.data(), start.data()) == 0) return false;
  for (std::size_t i = 0; i < numbers; ++i) place_.push_back(member.number + static_cast<int>(i) * kernel_.width);
  packed_.push_back(std::move(made));
  parts_.push_back(part);
  first_flow_.push_back(plan.branches()[static_cast<std::size_t>(part)].first_flow);
  return true;
}

LaneRows::Group LaneRows::group() const {
  const auto width = static_cast<std::size_t>(kernel_.width);
  Group made;
  made.numbers = lanes::Aligned(place_.size() * width);
  made.starts = lanes::Aligned(packed_.size() * width);
  made.moved = lanes::Aligned(reference_.answer().size() * width);
  made.pressures = lanes::Aligned(gauges_.size() * width);
  return made;
}

/// Turns rows into packs; the last fills what is left.
void LaneRows::gather(std::size_t first, std::size_t count) {
  const auto width = static_cast<std::size_t>(kernel_.width), columns = task_.numbers.size();
  const double* from = task_.values + first * columns;
  for (std::size_t row = 0; row < width; ++row, from += row < count ? columns : 0) {
    double* to = values_.data() + row;
    for (std::size_t column = 0; column < columns; ++column, to += width) *to = from[column];
  }
  gathered_ = first;
}

void LaneRows::prepare(Group& group, std::size_t first, std::size_t end) {
  const auto width = static_cast<std::size_t>(kernel_.width);
  group.first = first;
  group.end = std::min(end, first + width);
  group.sound = ~0U;
  group.has_moved = false;
  const std::size_t count = group.end - first;
  gather(first, count);
  for (std::size_t g = 0; g < gauges_.size(); ++g)
    for (std::size_t row = 0; row < count; ++row) {
      const double gauge = gauges_[g].junction.gauge = values_[gauges_[g].column * width + row];
      if (!(gauge >= network::least_gauge && gauge <= network::most_gauge)) group.sound &= ~(1U << row);
      group.pressures[g * width + row] = network::pressure_held_at(gauges_[g].junction, ambient_, 0.0, {});
    }
  for (std::size_t p = 0; p < packed_.size(); ++p) {
    Packed& part = packed_[p];
    for (const auto& [column, field] : part.varied)
      std::copy_n(&values_[static_cast<std::size_t>(column) * width], width, &part.fields[static_cast<std::size_t>(field) * width]);
    double *const numbers = group.numbers.data() + part.numbers, *const start = &group.starts[p * width];
    if (part.like_before && std::memcmp(part.fields.data(), packed_[p - 1].fields.data(), part.fields.size() * sizeof(double)) == 0) {
      const double* const before = group.numbers.data() + packed_[p - 1].numbers;  // the very same part, as injectors are
      std::copy(before, static_cast<const double*>(numbers), numbers);
      std::copy_n(start - width, width, start);
    } else {
      group.sound &= kernel_.rows->prepare(part.law, part.fields.data(), part.liquid, numbers, start);
    }
  }
}

void LaneRows::bring(const Group& group, std::size_t row, lanes::State& state, int lane) const {
  const int width = kernel_.width;
  const auto column = row - group.first;
  const double* from = group.numbers.data() + column;
  double* const to = state.memory.data() + lane;
#pragma GCC unroll 4
  for (const int *place = place_.data(), *end = place + place_.size(); place != end; ++place, from += width) to[*place] = *from;
  for (std::size_t g = 0; g < gauges_.size(); ++g) to[gauges_[g].place] = group.pressures[g * static_cast<std::size_t>(width) + column];
}

void LaneRows::bring_starts(const Group& group, std::size_t row, double* start) const {
  const double* from = group.starts.data() + (row - group.first);
  for (const int flow : first_flow_) {
    start[flow] = *from;
    from += kernel_.width;
  }
}

const double* LaneRows::values(const Group& group) {
  if (gathered_ != group.first) gather(group.first, group.end - group.first);
  return values_.data();
}

void LaneRows::bring_moved(Group& group, std::size_t row, lanes::State& state, int lane, const std::vector<int>& places) {
  if (!group.has_moved) {
    values(group);
    kernel_.rows->move(reference_.moves(), values_.data(), group.moved.data());
    gathered_ = nothing;  // they are differences now
    group.has_moved = true;
  }
  const int width = kernel_.width;
  const double* from = group.moved.data() + (row - group.first);
  double* const to = state.memory.data() + lane;
#pragma GCC unroll 4
  for (const int *place = places.data(), *end = place + places.size(); place != end; ++place, from += width) to[*place] = *from;
}

std::vector<int> LaneRows::gauge_places() const {
  std::vector<int> places;
  for (const Gauge& gauge : gauges_) places.push_back(gauge.place);
  return places;
}

const double* LaneRows::rest_of(std::size_t row) {
  const double* const values = task_.values + row * task_.numbers.size();
  for (std::size_t i = 0; i < rest_.size(); ++i) rest_values_[i] = values[rest_column_[i]];
  return rest_values_.data();
}

}  // namespace flarenut::analysis
