#pragma once
/// Many junctions or many lines at once, kept as the columns they came in: a street of a large network takes some tens of
/// bytes instead of a thousand, and no names. Row i of the rows "leg" is called "leg[i]", counted from nought.

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "flarenut/parts/line.hpp"

namespace flarenut::network {

/// The names of a set of rows.
struct RowNames {
  std::string prefix;
  int first = 0;  ///< index of row 0 among all junctions, or among all parts
  int count = 0;

  bool holds(int index) const { return index >= first && index < first + count; }
  std::string name(int row) const { return prefix + '[' + std::to_string(row) + ']'; }
  /// The row of that name, or nothing.
  std::optional<int> row(std::string_view name) const;
};

/// Columns that copies of a network have in common until one of them changes a number.
template <class Rows>
class Shared {
 public:
  explicit Shared(Rows rows) : rows_(std::make_shared<Rows>(std::move(rows))) {}
  const Rows& operator*() const { return *rows_; }
  const Rows* operator->() const { return rows_.get(); }
  Rows& own() {
    if (rows_.use_count() != 1) rows_ = std::make_shared<Rows>(*rows_);
    return *rows_;
  }

 private:
  std::shared_ptr<Rows> rows_;
};

/// One number of every row; a single one where all rows have the same.
class RowColumn {
 public:
  RowColumn() = default;
  explicit RowColumn(std::vector<double> values) : values_(std::move(values)) {}
  double operator[](int row) const { return values_.size() == 1 ? values_[0] : values_[static_cast<std::size_t>(row)]; }
  std::size_t size() const { return values_.size(); }
  /// Changes one row, writing all of them out first when they were one.
  void set(int row, int count, double value);
  std::size_t bytes() const { return values_.capacity() * sizeof(double); }

 private:
  std::vector<double> values_;
};

/// Free junctions.
struct JunctionRows {
  RowNames names;
  RowColumn demand;                            ///< [kg/s]
  std::vector<std::array<double, 3>> position; ///< [m]; none: all at the origin
};

/// Lines, each from junction `from[i]` to junction `to[i]`.
struct LineRows {
  static constexpr int fields = std::tuple_size_v<decltype(parts::LineSpec<>::fields())>;

  RowNames names;
  std::vector<int> from, to;
  std::array<RowColumn, fields> numbers;  ///< in the order of LineSpec's fields
  int liquid = 0;

  parts::LineSpec<> spec(int row) const;
};

}  // namespace flarenut::network
