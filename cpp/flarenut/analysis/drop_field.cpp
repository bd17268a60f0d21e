#include "flarenut/analysis/drop_field.hpp"

#include <algorithm>

namespace flarenut::analysis {
namespace {

/// Fewer parts of a kind than this are asked one by one.
constexpr std::size_t fewest_in_lanes = 3;

}  // namespace

DropField::DropField(const Plan& plan, LawsBy laws)
    : plan_(plan), place_of_(plan.branches().size(), -1), member_(plan.branches().size(), {-1, -1}) {
  std::size_t places = 0;
  if (laws == LawsBy::lanes)
    if (const lanes::Kernel best = lanes::kernels().front(); best.fast) group(best);
  for (const Group& group : groups_) places += static_cast<std::size_t>(group.packs * group.kernel.width);
  const int spare = plan.unknown_count();
  for (std::size_t b = 0; b < plan.branches().size(); ++b) {
    const network::Branch& branch = plan.branches()[b];
    const network::Element& element = plan.element(static_cast<int>(b));
    if (!element.drops()) continue;
    Part part{};
    part.branch = static_cast<int>(b);
    part.flow = branch.first_flow;
    part.from = branch.junction[0];
    part.to = branch.junction[1];
    part.row_from = branch.unknown[0] < 0 ? spare : branch.unknown[0];
    part.row_to = branch.unknown[1] < 0 ? spare : branch.unknown[1];
    part.has_limit = branch.has_limit;
    part.has_opening = element.has_opening();
    const auto [group, member] = member_[b];
    if (group >= 0) {
      part.place = groups_[static_cast<std::size_t>(group)].first_place + static_cast<std::size_t>(member);
    } else {
      part.place = places++;
      alone_.push_back(parts_.size());
    }
    place_of_[b] = static_cast<int>(parts_.size());
    parts_.push_back(part);
  }
  at = drop = slope = lanes::Aligned(places);
}

void DropField::group(const lanes::Kernel& kernel) {
  const auto names = lanes::law_names();
  std::size_t places = 0, numbers = 0, longest = 0;
  for (int law = 0; law < static_cast<int>(names.size()); ++law) {
    Group group{kernel, law, 0, lanes::numbers_of_law(law), places, numbers, {}};
    for (std::size_t b = 0; b < plan_.branches().size(); ++b) {
      const network::Element& element = plan_.element(static_cast<int>(b));
      if (element.kind() == names[static_cast<std::size_t>(law)] && element.drops() && element.bundle_size() == group.numbers)
        group.branches.push_back(static_cast<int>(b));
    }
    if (group.branches.size() < fewest_in_lanes) continue;
    group.packs = (static_cast<int>(group.branches.size()) + kernel.width - 1) / kernel.width;
    for (std::size_t i = 0; i < group.branches.size(); ++i)
      member_[static_cast<std::size_t>(group.branches[i])] = {static_cast<int>(groups_.size()), static_cast<int>(i)};
    places += static_cast<std::size_t>(group.packs * kernel.width);
    numbers += static_cast<std::size_t>(group.packs * kernel.width * group.numbers);
    longest = std::max(longest, static_cast<std::size_t>(group.numbers));
    groups_.push_back(std::move(group));
  }
  number_ = lanes::Aligned(numbers);
  row_.resize(longest);
}

/// Brings the numbers of a prepared part into its lane. Those of the first also fill the lanes that stay empty.
void DropField::bundle(const Group& group, std::size_t member) {
  const auto width = static_cast<std::size_t>(group.kernel.width);
  plan_.element(group.branches[member]).bundle(row_.data());
  const auto put = [&](std::size_t where) {
    double* to = &number_[group.first_number + where / width * width * static_cast<std::size_t>(group.numbers) + where % width];
    for (int i = 0; i < group.numbers; ++i, to += width) *to = row_[static_cast<std::size_t>(i)];
  };
  put(member);
  if (member != 0) return;
  for (std::size_t empty = group.branches.size(); empty < static_cast<std::size_t>(group.packs) * width; ++empty) put(empty);
}

void DropField::renew() {
  if (plan_.renewals() == seen_) return;
  const bool heads_moved = plan_.heads_at() > seen_;
  for (Part& part : parts_) {
    if (heads_moved) {
      const network::Branch& branch = plan_.branches()[static_cast<std::size_t>(part.branch)];
      part.head = branch.head[0] - branch.head[1];
    }
    if (plan_.renewed_at(part.branch) <= seen_) continue;
    if (part.has_opening) part.opening_squared = plan_.element(part.branch).opening_squared();
    const auto [group, member] = member_[static_cast<std::size_t>(part.branch)];
    if (group >= 0) bundle(groups_[static_cast<std::size_t>(group)], static_cast<std::size_t>(member));
  }
  seen_ = plan_.renewals();
}

void DropField::evaluate() {
  for (const Group& group : groups_) {
    const std::size_t place = group.first_place;
    group.kernel.drops(group.law, group.packs, &number_[group.first_number], &at[place], &drop[place], &slope[place]);
  }
  for (std::size_t i : alone_) {
    const std::size_t place = parts_[i].place;
    plan_.element(parts_[i].branch).linearise_drop(at[place], drop[place], slope[place]);
  }
}

}  // namespace flarenut::analysis
