#pragma once
/// The adaptor between a part's typed laws and the plain numbers of the solver.
///
/// `Element` is what the plan holds: a part with its type erased, speaking SI doubles. `ElementOf<Part>` writes
/// one for any part from its laws alone, with slopes from dual numbers, so that a part's author writes no
/// Jacobian and no binding. Nothing hydraulic is decided here.
///
/// A point is a plain array: pressures at the ports, sensed pressures, then flows.

#include <array>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "flarenut/parts/part.hpp"

namespace flarenut::network {

using fluids::LiquidState;
using parts::Shape;

inline constexpr int most_flows = 2;
inline constexpr int most_pressures = 6;
inline constexpr int most_ports = 3;
/// Of a liquid, a part's laws may follow its density, its viscosity and its temperature.
inline constexpr int liquid_inputs = 3;

/// Residuals of a part's laws at a point, with slopes. Row-major: by_pressure[f * pressures + i].
struct Linearisation {
  std::array<double, most_flows> residual{};
  std::array<double, most_flows * most_flows> by_flow{};
  std::array<double, most_flows * most_pressures> by_pressure{};
};

/// What a field of a part's spec is called and allowed to be.
struct FieldInfo {
  std::string_view name, unit, meaning;
  double least, most, preset;
  bool drives;
};
struct ColumnInfo {
  std::string_view name, unit, meaning;
};

/// Everything a person or a binding needs to know about a kind of part.
struct KindInfo {
  std::string_view kind;
  Shape shape;
  std::vector<FieldInfo> fields;
  std::vector<ColumnInfo> columns;
};

class Element {
 public:
  virtual ~Element() = default;
  virtual std::unique_ptr<Element> clone() const = 0;

  virtual std::string_view kind() const = 0;
  virtual Shape shape() const = 0;
  /// inflow[port][flow]: +1 where the flow leaves the part into the port's junction, −1 where it enters the part.
  virtual int inflow(int port, int flow) const = 0;
  /// Whether liquid stands between the part and its i-th junction (ports, then senses); gas has no weight here.
  virtual bool wet(int i) const = 0;

  // Numbers of the spec, in SI, by field index.
  virtual int field_count() const = 0;
  virtual double field(int index) const = 0;
  virtual void set_field(int index, double value) = 0;  ///< takes effect at the next `prepare`
  virtual double exchange_field(int index, double value) = 0;  ///< sets it and tells what it was
  virtual std::vector<double> column(int index) const = 0;
  virtual void set_column(int index, std::vector<double> values) = 0;
  virtual KindInfo info() const = 0;
  /// Throws InputError when a number is out of range.
  virtual void validate(std::string_view name) const = 0;

  /// Builds the part from its numbers and its liquid. Must precede the calls below.
  virtual void prepare(const LiquidState<>& liquid) = 0;

  virtual void linearise(const double* point, Linearisation& out) const noexcept = 0;
  /// Whether the law is opening² · (p₀ − p₁) = drop(flow), with an opening that is given; then these tell it in short.
  virtual bool drops() const = 0;
  virtual bool has_opening() const = 0;  ///< or it is 1
  virtual double opening_squared() const noexcept = 0;
  virtual void linearise_drop(double flow, double& value, double& slope) const noexcept = 0;
  /// Whether drop = (μ²/ρ) G(q/μ).
  virtual bool is_similar() const = 0;
  /// Moves `proposed` nearer to `last` where a switching device must not jump. Returns whether it did.
  virtual bool limit(const double* last, double* proposed) const noexcept = 0;
  virtual bool has_limit() const = 0;
  /// Fills the flows (and, for devices, the pressures) a cold solve linearises at. Pressures come in as guesses.
  virtual void start(double* point) const noexcept = 0;
  /// Whether `start` looks at the pressures it is given; the others start at the same flows wherever they stand.
  virtual bool start_follows_pressure() const = 0;
  /// The prepared part as the row of doubles it is made of, for solvers that keep many of a kind side by side. None where
  /// it is made of anything else (a measured curve).
  virtual int bundle_size() const = 0;
  virtual void bundle(double* out) const noexcept = 0;
  /// Whether `validate` knows more than the range of each number; and that part of it.
  virtual bool has_check() const = 0;
  virtual void check(std::string_view name) const = 0;
  virtual Regime regime(const double* point) const = 0;
  /// True when the point lies outside the part's measured data: the law is then extrapolated.
  virtual bool beyond_data(const double* point) const = 0;
  /// True when pressure rise climbs with flow somewhere: several steady states are possible.
  virtual bool has_hump() const = 0;
  /// Bore at each port [m]; 0 where the part is so wide there that the dynamic head is nil.
  virtual std::array<double, most_ports> bores() const = 0;
  /// ∂residual/∂(field) at a point, for every flow: gradients.
  virtual void residual_by_field(const double* point, int field, std::span<double> out) const = 0;
  /// How the liquid moves each flow's law: the slope of its residual that the liquid's own slopes (with temperature, with density)
  /// make.
  virtual void residual_by_liquid(const double* point, const fluids::LiquidState<Dual<1>>& liquid, double* out) const noexcept = 0;
  /// Mass held at a port pressure, with its slope [kg, kg/Pa]; nothing for parts without a storage law.
  virtual std::optional<std::array<double, 2>> stored(const double* point) const = 0;
  /// All numbers of the spec by field index.
  virtual void fields(double* out) const noexcept = 0;
  /// Slopes of all residuals together, each times its weight, with every field, then with density, viscosity and temperature of the
  /// liquid: gradients with many numbers, one way through the laws for all of them.
  virtual void weighed_slopes(const double* point, const double* weight, double* out) const noexcept = 0;
};

}  // namespace flarenut::network
