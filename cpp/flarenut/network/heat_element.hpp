#pragma once
/// The adaptor between typed heat laws (`heat/heat_law.hpp`) and the plain numbers of the solver: the heat side of `Element`.

#include <array>
#include <memory>
#include <string_view>
#include <vector>

#include "flarenut/heat/heat_law.hpp"
#include "flarenut/network/element.hpp"

namespace flarenut::network {

/// One stream at a point. Properties carry their slope with the stream's mean temperature [per K].
struct StreamPoint {
  double flow = 0.0;   ///< magnitude [kg/s]
  double inlet = 0.0;  ///< [K]
  bool forward = true;
  const fluids::LiquidState<Dual<1>>* liquid = nullptr;
  const fluids::HeatState<Dual<1>>* heat = nullptr;
};

/// A number that a heat law gives, with its slopes with flow [per kg/s], inlet and mean temperature [per K] of each stream.
struct HeatSlopes {
  double value = 0.0;
  std::array<double, 2> by_flow{}, by_inlet{}, by_mean{};
};

/// What a heat law says at a point.
struct HeatLinearisation {
  HeatSlopes heat;                         ///< into the stream; of two: from the first into the second [W]
  std::array<HeatSlopes, 2> mean_share{};  ///< of each stream
};

class HeatElement {
 public:
  virtual ~HeatElement() = default;
  virtual std::unique_ptr<HeatElement> clone() const = 0;
  virtual std::string_view kind() const = 0;
  virtual int streams() const = 0;  ///< 1 or 2

  // Numbers of the spec, in SI, by field index.
  virtual int field_count() const = 0;
  virtual double field(int index) const = 0;
  virtual void set_field(int index, double value) = 0;  ///< takes effect at the next `prepare`
  virtual std::vector<double> column(int index) const = 0;
  virtual void set_column(int index, std::vector<double> values) = 0;
  virtual KindInfo info() const = 0;  ///< `shape` says nothing here
  virtual void validate(std::string_view name) const = 0;
  /// Numbers of its part that it works with, by field name, in the order that `lend` takes them.
  virtual std::vector<std::string_view> borrowed() const = 0;
  virtual void lend(int index, double value) = 0;

  /// Builds the law from its numbers and what stands around. Must precede the calls below.
  virtual void prepare(const heat::Surroundings& around) = 0;
  /// `stream` points to as many points as there are streams.
  virtual void linearise(const StreamPoint* stream, HeatLinearisation& out) const noexcept = 0;
  /// Whether heat can leave the plumbing here, and the temperature it then tends to [K]: NaN where it cannot, as between two streams.
  virtual double sink() const noexcept = 0;
  /// True when the point lies outside the law's measured data.
  virtual bool beyond_data(const StreamPoint* stream) const = 0;
};

/// Names of all registered kinds of heat laws.
std::vector<std::string_view> heat_kind_names();
/// A heat law of that kind with preset numbers. InputError naming the nearest kinds when there is none.
std::unique_ptr<HeatElement> make_heat_element(std::string_view kind);

}  // namespace flarenut::network
