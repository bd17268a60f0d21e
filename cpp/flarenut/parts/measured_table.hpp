#pragma once
/// Measured table: any passive part known by a bench test, as points of flow and pressure drop.
///
/// What it is: the points joined by a smooth curve f that keeps their rise (`autodiff/monotone_curve.hpp`), through
/// zero flow at zero drop, and the same backwards.
///
///   Δp = (ρ/ρ_rated) (ν/ν_rated)² · f( Q · ν_rated/ν )          ν = μ/ρ,  Q = q/ρ
///
/// A test made with one liquid says what another will do, at the flow of equal Reynolds number (similarity): thicker
/// oil at a flow reads the table at a lower flow, where it is nearer to laminar. With the test liquid it is f itself.
/// Past the last point the curve goes on as f_end + slope·e + f_end (e/Q_end)², e the excess: joined without a kink,
/// square law in the long run (and exactly it where the points follow one). Before the first point the line to zero
/// starts with the slope of the straight line to that point. A floor of 10⁻⁶ · f_end/Q_end keeps a slope where the
/// curve lies flat. `beyond_data` says when the curve is used past its last point.
///
/// Assumes: a rigid, passive part that is the same both ways; a Newtonian liquid; nothing that opens or shuts.
/// Range: that of the points. Sign: positive flow from port 0 to port 1.
/// Source: similarity of incompressible flow (O. Reynolds 1883); the run-on is a convention (common practice, no source).

#include "flarenut/autodiff/monotone_curve.hpp"
#include "flarenut/parts/local_loss.hpp"

namespace flarenut::parts {

/// The points, at rising flow.
struct MeasuredTablePoints {
  std::vector<double> flow;
  std::vector<double> pressure_drop;
};

template <Number N = double>
struct MeasuredTableSpec : MeasuredTablePoints {
  using Fixed = MeasuredTablePoints;

  DynamicViscosity<N> rating_viscosity{};  ///< of the test liquid
  Density<N> rating_density{};             ///< of the test liquid

  static constexpr auto fields() {
    using S = MeasuredTableSpec;
    return std::tuple{
        Field<S, DynamicViscosity<N>>{"rating_viscosity", &S::rating_viscosity, 1e-5, 100.0, "Pa s",
                                      "viscosity of the test liquid"},
        Field<S, Density<N>>{"rating_density", &S::rating_density, 1.0, 2e4, "kg/m3", "density of the test liquid"},
    };
  }
  static constexpr auto columns() {
    using S = MeasuredTableSpec;
    return std::tuple{
        Column<S>{"flow", &S::flow, "m3/s", "flows of the test, rising"},
        Column<S>{"pressure_drop", &S::pressure_drop, "Pa", "pressure drops of the test, rising"},
    };
  }
  void check(std::string_view part) const;
};

/// The curve through the points, odd in flow, with its run-on. Plain SI numbers.
class MeasuredDrop {
 public:
  explicit MeasuredDrop(const MeasuredTablePoints& points);

  template <Number T>
  T operator()(const T& flow) const {
    // Backwards by the mirror: a digit is worth as much near zero as elsewhere.
    const bool back = value_of(flow) < 0.0;
    const T size = back ? -flow : flow;
    T drop = curve_(size) + floor_ * size;
    if (value_of(size) > last_flow_) {
      const T excess = size - last_flow_;
      drop = drop + run_on_ * (excess * excess);
    }
    return back ? -drop : drop;
  }
  double last_flow() const { return last_flow_; }

 private:
  MonotoneCurve curve_;
  double last_flow_, run_on_, floor_;
};

template <Number N = double>
class MeasuredTable {
 public:
  template <Number M>
  using Spec = MeasuredTableSpec<M>;
  static constexpr std::string_view kind = "measured table";
  static constexpr Shape shape{};

  MeasuredTable(const MeasuredTableSpec<N>& spec, const LiquidState<N>& liquid) : curve_(spec) {
    const N thicker = (liquid.viscosity / spec.rating_viscosity).value();
    to_table_ = 1.0 / (spec.rating_density * thicker);
    to_drop_ = PressureDifference<N>::from_value(thicker * thicker * (spec.rating_density / liquid.density).value());
  }

  template <Number M>
  PressureDifference<Mixed<N, M>> drop(const MassFlow<M>& flow) const {
    return curve_(table_flow(flow)) * to_drop_;
  }

  std::array<MassFlow<>, 1> start_flow() const {
    return {MassFlow<>::from_value(0.5 * curve_.last_flow() / value_of(to_table_.value()))};
  }
  std::array<Length<>, 2> bores() const { return {}; }
  bool beyond_data(const PartState<double>& state) const;

 private:
  /// Volume flow at which the test liquid has the Reynolds number of this mass flow.
  template <Number M>
  auto table_flow(const MassFlow<M>& flow) const {
    return (flow * to_table_).value();
  }

  MeasuredDrop curve_;
  decltype(1.0 / Density<N>{}) to_table_;
  PressureDifference<N> to_drop_;
};

}  // namespace flarenut::parts
