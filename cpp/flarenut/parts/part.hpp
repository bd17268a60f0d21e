#pragma once
/// What a part is. Read this, then one part (`bypass_regulator.hpp` is the model), then write your own.
///
/// A **part** has ports (where junctions attach), one or more internal flows, and may sense the pressure of
/// further junctions through lines that carry no flow. It states laws about those and nothing else: a part
/// never sees junctions, indices, heights or the solver. Up to two laws, each stated once, as templates on
/// the number type (what passes heat is a law beside the part: `heat/heat_law.hpp`):
///
///   drop      what pressure the flow costs. Either `drop(flow)`, for a part whose loss depends on its flow
///             alone (with `opening_squared()` beside it where a given opening works on the pressure difference:
///             opening² · Δp = drop); or `mismatch(state)`, for everything else: a pressure that is zero when the law holds.
///             Both in **impedance form**: pressure as a function of flow. Never divide by an opening that can
///             be zero: multiply out (opening² · Δp − q|q|/C² instead of Δp − q|q|/(C·opening)²).
///   storage   `stored(pressure)`: the mass of liquid held at a pressure (swell, compression). Optional.
///
/// Rules every drop law obeys, and the law suite checks:
///   finite and sloped everywhere (zero flow, reverse flow, shut, wide open);
///   a mismatch falls when flow rises (∂mismatch/∂flow < 0, a floor at zero flow included), except where a
///   pump curve has a hump;
///   a passive part never makes energy.
///
/// Signs: flow is positive from port 0 towards the last port. Pressures are total and absolute, brought to the
/// height of port 0 by the network, so a law sees no gravity. Liquid stands at every port and in every sensing line, unless
/// the part says otherwise: `static constexpr bool wet(int i)`, by port, then by sense. Where it is not, only gas stands
/// between part and junction (an injector's tip, a reference hose), and the height of that junction counts for nothing.

#include <array>
#include <string>
#include <string_view>
#include <tuple>
#include <vector>

#include "flarenut/autodiff/smooth.hpp"
#include "flarenut/base/error.hpp"
#include "flarenut/base/regime.hpp"
#include "flarenut/fluids/liquid_state.hpp"
#include "flarenut/units/quantities.hpp"

namespace flarenut::parts {

using fluids::LiquidState;

/// How many ports, internal flows and sensed junctions a part has.
struct Shape {
  int ports = 2;
  int flows = 1;
  int senses = 0;
};

/// The pressures and flows a law is asked about.
template <Number N, int Ports = 2, int Flows = 1, int Senses = 0>
struct PartState {
  std::array<AbsolutePressure<N>, Ports> pressure{};
  std::array<MassFlow<N>, Flows> flow{};
  std::array<AbsolutePressure<N>, Senses> sensed{};

  /// Pressure lost between the first port and the second, positive in the direction of flow.
  PressureDifference<N> pressure_drop() const { return pressure[0] - pressure[1]; }
};

/// The number type that comes out when a part built on `A` meets a state of `B`.
template <Number A, Number B>
using Mixed = std::conditional_t<IsDual<A>::value, A, B>;

/// One number of a spec, described once for validation, sweeps, gradients, bindings and documentation.
template <class Spec, class Quantity>
struct Field {
  std::string_view name;      ///< as users and files write it
  Quantity Spec::*member;     ///< where it lives
  double least, most;         ///< valid range in SI, ends included
  std::string_view unit;      ///< SI unit, for messages and documentation
  std::string_view meaning;   ///< one line for a person who turns wrenches
  bool drives = false;        ///< a source (volts, duty, speed): the solver may raise it from zero to get started
};

/// A column of measured numbers in a spec (a pump curve, a tested core).
template <class Spec>
struct Column {
  std::string_view name;
  std::vector<double> Spec::*member;
  std::string_view unit;
  std::string_view meaning;
};

/// Throws `InputError` naming part, field, value and limit when a field is not finite or out of range.
void require_in_range(std::string_view part, std::string_view field, double value, double least, double most,
                      std::string_view unit);

/// Checks every field of a spec, then whatever the spec itself knows about combinations (`check(part)`).
template <class Spec>
void validate(std::string_view part, const Spec& spec) {
  std::apply(
      [&](const auto&... field) {
        (require_in_range(part, field.name, value_of(si_value(spec.*field.member)), field.least, field.most,
                          field.unit),
         ...);
      },
      Spec::fields());
  if constexpr (requires { spec.check(part); }) spec.check(part);
}

/// The same spec on another number type: fields convert, columns and anything else in `Spec::Fixed` carry over.
template <template <class> class Spec, Number To>
Spec<To> lifted(const Spec<double>& spec) {
  Spec<To> result;
  if constexpr (requires { typename Spec<To>::Fixed; })
    static_cast<typename Spec<To>::Fixed&>(result) = static_cast<const typename Spec<double>::Fixed&>(spec);
  const auto from = Spec<double>::fields();
  const auto to = Spec<To>::fields();
  [&]<std::size_t... I>(std::index_sequence<I...>) {
    ((result.*(std::get<I>(to).member) =
          std::decay_t<decltype(result.*(std::get<I>(to).member))>::from_value(
              To(si_value(spec.*(std::get<I>(from).member))))),
     ...);
  }(std::make_index_sequence<std::tuple_size_v<decltype(from)>>{});
  return result;
}

/// Cross-section of a round bore.
template <Number N>
Area<N> bore_area(const Length<N>& bore) {
  return 0.78539816339744830962 * (bore * bore);  // π/4
}

/// Reynolds number of a round bore from mass flow: 4|q|/(πDμ).
template <Number Q, Number B>
auto reynolds_number(const MassFlow<Q>& flow, const Length<B>& bore, const DynamicViscosity<B>& viscosity) {
  using std::abs;
  return 1.27323954473516268615 * abs(flow.value()) / (bore.value() * viscosity.value());  // 4/π
}

/// A part whose drop follows Reynolds's similarity, Δp = (μ²/ρ) G(q/μ) with G of its shape alone, says `static constexpr bool
/// similar = true`: its slopes with viscosity and density then follow from that with flow, and the law suite holds it to its word.
template <class Part>
constexpr bool is_similar() {
  if constexpr (requires { Part::similar; }) return Part::similar;
  return false;
}

/// A part whose loss depends on its flow alone, with a given opening or without.
template <class Part, class N = Dual<1>>
concept Drops = requires(const Part& part, MassFlow<N> flow) { part.drop(flow); };
template <class Part>
concept HasOpening = requires(const Part& part) { part.opening_squared(); };

/// q|q| with its type, for the turbulent part of a loss.
template <Number N>
auto signed_square_flow(const MassFlow<N>& flow) {
  using Squared = decltype(flow * flow);
  return Squared::from_value(signed_square(flow.value()));
}

/// The flow at which the loss through an opening turns from linear to square law: Reynolds 10 on the diameter of
/// the area (common practice, no source; it only matters below a thousandth of usual flows). It keeps a slope at
/// zero flow.
template <Number N>
MassFlow<N> laminar_flow_floor(const Area<N>& area, const DynamicViscosity<N>& viscosity) {
  constexpr double reynolds = 10.0;
  return 0.88622692545275801365 * reynolds * (sqrt(area) * viscosity);  // (π/4) d μ Re, with d = √(4A/π)
}

/// Keeps the point of linearisation of a square-law flow within ten times its last size (or `scale`, when that is
/// larger): from near rest a square root would shoot far past the answer. Returns whether it acted: yes or no, or a mask of lanes.
template <Number N>
auto limit_flow_growth(const MassFlow<N>& last, MassFlow<N>& proposed, const MassFlow<N>& scale) {
  using std::abs;
  using std::copysign;
  const N most = 10.0 * larger(N(abs(last.value())), scale.value());
  const auto grows = !(abs(proposed.value()) <= most);
  if (all(!grows)) return grows;
  proposed = MassFlow<N>::from_value(
      choose(grows, [&] { return N(copysign(most, proposed.value())); }, [&] { return proposed.value(); }));
  return grows;
}

}  // namespace flarenut::parts
