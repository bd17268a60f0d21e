#include "flarenut/analysis/slope_field.hpp"

#include <algorithm>

namespace flarenut::analysis {

using network::Element;
using network::liquid_inputs;

SlopeField::SlopeField(const Plan& plan, const DropField& drops, LawsBy laws) : plan_(plan), laws_(laws) {
  for (const network::PartEntry& part : plan.network().parts()) slopes_.push_back({nullptr, 1, part.element->field_count(), false});
  if (laws == LawsBy::lanes)
    if (const auto kernel = lanes::slope_kernel()) group(*kernel, drops);
  std::size_t singles = 0, longest = 0;
  for (std::size_t b = 0; b < slopes_.size(); ++b) {
    const auto count = static_cast<std::size_t>(slopes_[b].fields + liquid_inputs);
    longest = std::max(longest, count);
    if (slopes_[b].in_lanes) continue;
    alone_.push_back(static_cast<int>(b));
    singles += count;
  }
  row_.resize(longest);
  found_.resize(singles);
  const double* next = found_.data();
  for (int part : alone_) {
    Slopes& slopes = slopes_[static_cast<std::size_t>(part)];
    slopes.first = next;
    next += slopes.fields + liquid_inputs;
  }
  static constexpr double none = 0.0;  // laws in the lanes don't look at temperature
  for (const Slopes& part : slopes_)
    by_liquid_.push_back({part.at(part.fields), part.at(part.fields + 1), part.in_lanes ? &none : part.at(part.fields + 2)});
}

void SlopeField::group(const lanes::SlopeKernel& kernel, const DropField& drops) {
  width_ = static_cast<std::size_t>(kernel.width);
  const auto names = lanes::law_names();
  std::size_t numbers = 0, points = 0, weights = 0;
  for (int law = 0; law < static_cast<int>(names.size()); ++law) {
    const lanes::SlopeShape shape = lanes::slope_shape(law);
    Group group{kernel, law, static_cast<std::size_t>(shape.inputs), static_cast<std::size_t>(shape.rows), numbers, points, weights, 0, {}};
    for (int b = 0; b < static_cast<int>(slopes_.size()); ++b)
      if (plan_.element(b).kind() == names[static_cast<std::size_t>(law)]) group.parts.push_back(b);
    if (group.parts.empty()) continue;
    group.packs = (group.parts.size() + width_ - 1) / width_;
    numbers += group.packs * width_ * group.inputs;
    points += group.packs * width_ * group.rows;
    weights += group.packs * width_;
    groups_.push_back(std::move(group));
  }
  number_ = slope_ = lanes::Aligned(numbers);
  point_ = lanes::Aligned(points);
  weight_ = lanes::Aligned(weights);
  for (const Group& group : groups_)
    for (std::size_t i = 0; i < group.parts.size(); ++i) {
      const std::size_t pack = i / width_ * width_, lane = i % width_;
      const int part = group.parts[i];
      const std::size_t point = group.first_point + pack * group.rows + lane;
      seats_.push_back({part, drops.place_of(part), group.first_weight + i, point, point + (group.rows - 1) * width_,
                        group.first_number + pack * group.inputs + lane, group.inputs});
      Slopes& slopes = slopes_[static_cast<std::size_t>(part)];
      slopes = {&slope_[seats_.back().number], width_, slopes.fields, true};
    }
}

void SlopeField::take_numbers(const Seat& seat) {
  plan_.element(seat.part).fields(row_.data());
  row_[seat.inputs - 2] = plan_.liquid_in(seat.part).density.value();
  row_[seat.inputs - 1] = plan_.liquid_in(seat.part).viscosity.value();
  double* to = &number_[seat.number];
  for (std::size_t i = 0; i < seat.inputs; ++i, to += width_) *to = row_[i];
}

void SlopeField::take_points(const FlowSystem& system, const Adjoint& adjoint) {
  const DropField::Part* const drops = system.field().parts().data();
  const double *const flow = system.flows().data(), *const pressure = system.pressures().data();
  double *const weights = weight_.data(), *const points = point_.data();
  for (const Seat& seat : seats_) {
    weights[seat.weight] = adjoint.residual(seat.part)[0];
    if (seat.drop >= 0) {
      const DropField::Part& drop = drops[seat.drop];
      points[seat.flow] = flow[drop.flow];
      if (drop.has_opening) points[seat.point] = pressure[drop.from] - pressure[drop.to] + drop.head;
    } else {
      const FlowSystem::Point point = system.point(seat.part);
      for (std::size_t place = seat.point, i = 0; place <= seat.flow; place += width_, ++i) points[place] = point[i];
    }
  }
}

void SlopeField::evaluate(const Group& group, std::size_t pack, std::size_t packs) {
  const std::size_t first = pack * width_, number = group.first_number + first * group.inputs;
  group.kernel.evaluate(group.law, static_cast<int>(packs), &number_[number], &point_[group.first_point + first * group.rows],
                    &weight_[group.first_weight + first], &slope_[number]);
}

void SlopeField::evaluate_needed(const Group& group, const std::vector<char>& needed) {
  for (std::size_t pack = 0; pack < group.packs; ++pack) {
    const std::size_t end = std::min((pack + 1) * width_, group.parts.size());
    for (std::size_t i = pack * width_; i < end; ++i)
      if (needed[static_cast<std::size_t>(group.parts[i])]) {
        evaluate(group, pack, 1);
        break;
      }
  }
}

void SlopeField::find(const FlowSystem& system, const Adjoint& adjoint, const std::vector<char>* needed) {
  if (plan_.renewals() != seen_) {
    for (const Seat& seat : seats_)
      if (plan_.renewed_at(seat.part) > seen_) take_numbers(seat);
    seen_ = plan_.renewals();
  }
  take_points(system, adjoint);
  for (const Group& group : groups_) {
    if (needed != nullptr) evaluate_needed(group, *needed);
    else evaluate(group, 0, group.packs);
  }
  for (int part : alone_)
    if (needed == nullptr || (*needed)[static_cast<std::size_t>(part)]) ask(part, system, adjoint);
}

void SlopeField::ask(int part, const FlowSystem& system, const Adjoint& adjoint) {
  const FlowSystem::Point point = system.point(part);
  const double* const weight = adjoint.residual(part).data();
  double* const out = found_.data() + (slopes_[static_cast<std::size_t>(part)].first - found_.data());
  if (laws_ == LawsBy::lanes) plan_.element(part).weighed_slopes(point.data(), weight, out);
  else ask_by_number(part, point.data(), weight, out);
}

void SlopeField::ask_by_number(int part, const double* point, const double* weight, double* out) const {
  const Element& element = plan_.element(part);
  const auto flows = static_cast<std::size_t>(plan_.branches()[static_cast<std::size_t>(part)].flows);
  Adjoint::Weights change{};
  const auto weighed = [&] {
    double sum = 0.0;
    for (std::size_t f = 0; f < flows; ++f) sum += weight[f] * change[f];
    return sum;
  };
  for (int field = 0; field < element.field_count(); ++field, ++out) {
    element.residual_by_field(point, field, change);
    *out = weighed();
  }
  for (int input = 0; input < liquid_inputs; ++input, ++out) {
    auto liquid = plan_.liquid_in(part).as<Dual<1>>();
    const auto mark = [](auto& quantity) {
      quantity = std::decay_t<decltype(quantity)>::from_value(Dual<1>(quantity.value().value, 0));
    };
    if (input == 0) mark(liquid.density);
    if (input == 1) mark(liquid.viscosity);
    if (input == 2) mark(liquid.temperature);
    element.residual_by_liquid(point, liquid, change.data());
    *out = weighed();
  }
}

}  // namespace flarenut::analysis
