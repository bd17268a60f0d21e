#include "flarenut/network/rows.hpp"

#include <charconv>

namespace flarenut::network {

std::optional<int> RowNames::row(std::string_view name) const {
  if (!name.starts_with(prefix) || name.size() < prefix.size() + 3 || name[prefix.size()] != '[' || name.back() != ']') return {};
  const std::string_view digits = name.substr(prefix.size() + 1, name.size() - prefix.size() - 2);
  if (digits.size() > 1 && digits.front() == '0') return {};
  int row = -1;
  const auto [end, trouble] = std::from_chars(digits.data(), digits.data() + digits.size(), row);
  if (trouble != std::errc() || end != digits.data() + digits.size() || row < 0 || row >= count) return {};
  return row;
}

void RowColumn::set(int row, int count, double value) {
  if (values_.size() == 1 && count > 1) {
    if (values_[0] == value) return;
    values_ = std::vector<double>(static_cast<std::size_t>(count), values_[0]);
  }
  values_[static_cast<std::size_t>(row)] = value;
}

parts::LineSpec<> LineRows::spec(int row) const {
  parts::LineSpec<> spec;
  std::size_t column = 0;
  std::apply([&](const auto&... field) {
    ((spec.*field.member = std::decay_t<decltype(spec.*field.member)>::from_value(numbers[column++][row])), ...);
  }, parts::LineSpec<>::fields());
  return spec;
}

}  // namespace flarenut::network
