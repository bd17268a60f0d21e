#pragma once
/// Air core: a finned core with liquid in its passages and air through its face. Radiator, oil cooler, transmission or fuel cooler.
///
///     1/UA = 1/(h A)_in + R_f/A_in + 1/G_out                                     [K/W]
///     G_out = G_ref · (ρ v/(ρ_ref v_ref))^n                                      [W/K]
///     Q = K(UA, C_liquid, C_air) (T_air − T_in),  cross flow, neither stream mixed   [W], into the liquid
///
/// (h A)_in: `passages.hpp`. v and C_air: `air_face.hpp`. G_out stands for film, fins and their efficiency together: nobody works it
/// out from a picture of louvres. It comes from a rating (`core_rating.hpp`), at the face speed of the rating. ρ_ref is air at 20 °C and
/// one atmosphere, 1.204 kg/m³: what counts for a film is mass through the face (Reynolds), so thin air in the mountains cools less. n is
/// 0.5 to 0.65 for louvred and plain fins (common practice, no source).
///
/// K and its shares: `correlations/exchange.hpp`; the mean: `mean_share.hpp`. K never exceeds what either stream can carry, so the
/// liquid never leaves colder than the air comes.
///
/// Assumes: air spread evenly over the face and each passage fed alike; all passes seen as one cross flow (several passes against the
/// air do a little better); steady state. Range: any flow, rest included; air 200 to 1000 K. Sign: heat into the liquid.

#include "flarenut/correlations/exchange.hpp"
#include "flarenut/correlations/mean_share.hpp"
#include "flarenut/heat/air_face.hpp"
#include "flarenut/heat/passages.hpp"

namespace flarenut::heat {

/// [kg/m³], dry air at 20 °C and one atmosphere.
inline constexpr double reference_air_density = 1.204;

template <Number N = double>
struct AirCoreSpec : AirFaceSpec<N> {
  Length<N> passage_bore{};    ///< hydraulic bore of one passage
  Length<N> passage_length{};  ///< way of the liquid through the core, all passes
  Area<N> inside_area{};       ///< wetted by the liquid; n round tubes: n π D L
  Ratio<N> enhancement = Ratio<N>::from_value(N(1.0));  ///< plain passage; turbulators in oil 2–5 (common practice, no source)
  Ratio<N> fouling{};          ///< of the inside [m² K/W]: 0 clean; scale and sludge 1e-4 to 4e-4 (handbook values from memory)
  ThermalConductance<N> outside_conductance{};  ///< film, fins and all at the reference speed; from a rating
  Velocity<N> reference_speed{};                ///< face speed of the rating
  Ratio<N> speed_exponent = Ratio<N>::from_value(N(0.6));  ///< common practice, no source

  static constexpr auto fields() {
    using S = AirCoreSpec;
    using L = Length<N>;
    return std::tuple_cat(
        AirFaceSpec<N>::air_fields(),
        std::tuple{
            Field<S, L>{"passage_bore", &S::passage_bore, 1e-4, 0.1, "m", "hydraulic bore of one passage"},
            Field<S, L>{"passage_length", &S::passage_length, 1e-3, 100.0, "m", "way of the liquid through the core, all passes"},
            Field<S, Area<N>>{"inside_area", &S::inside_area, 1e-4, 100.0, "m2", "area wetted by the liquid, all passages"},
            Field<S, Ratio<N>>{"enhancement", &S::enhancement, 0.1, 50.0, "", "how much better than a plain bore the passages do"},
            Field<S, Ratio<N>>{"fouling", &S::fouling, 0.0, 0.1, "m2 K/W", "resistance of dirt inside, on the wetted area"},
            Field<S, ThermalConductance<N>>{"outside_conductance", &S::outside_conductance, 1e-3, 1e6, "W/K",
                                            "film, fins and all at the reference speed"},
            Field<S, Velocity<N>>{"reference_speed", &S::reference_speed, 0.01, 100.0, "m/s", "face speed of the rating"},
            Field<S, Ratio<N>>{"speed_exponent", &S::speed_exponent, 0.0, 1.0, "", "power of the face speed that the outside follows"},
        });
  }
};

template <Number N = double>
class AirCore {
 public:
  template <Number M>
  using Spec = AirCoreSpec<M>;
  static constexpr std::string_view kind = "air core";
  static constexpr int streams = 1;

  AirCore(const AirCoreSpec<N>& spec, const Surroundings& around)
      : face_(spec, around), passages_(spec.passage_bore, spec.passage_length, spec.inside_area, spec.enhancement) {
    using std::exp;
    using std::log;
    const N mass_speed = face_.density().value() * face_.speed().value() / (reference_air_density * spec.reference_speed.value());
    const N outside = spec.outside_conductance.value() * exp(N(spec.speed_exponent.value() * log(mass_speed)));
    resistance_ = spec.fouling.value() / spec.inside_area.value() + 1.0 / outside;
  }

  template <Number M>
  PerDegree<Mixed<N, M>> per_degree(const Stream<M>& stream) const {
    using T = Mixed<N, M>;
    const T conductance = 1.0 / (1.0 / passages_.conductance(stream) + resistance_), liquid(stream.capacity_rate().value());
    const N air = face_.capacity_rate().value();
    const auto moved = correlations::exchange(correlations::Arrangement::cross_flow_unmixed, conductance, liquid, air);
    const auto shares = correlations::cross_mean_shares(conductance, moved);
    return {ThermalConductance<T>::from_value(moved.heat_per_inlet_difference), shares.first};
  }
  template <Number M>
  Warming<Mixed<N, M>> warming(const Stream<M>& stream) const { return warming_between(per_degree(stream), sink(), stream.inlet); }

  Temperature<N> sink() const { return face_.temperature(); }
  const AirFace<N>& face() const { return face_; }
  /// Mean temperature of the air behind the core.
  Temperature<N> air_outlet(const Stream<>& stream) const {
    return Temperature<N>::from_value(face_.temperature().value() - warming(stream).heat.value() / face_.capacity_rate().value());
  }

 private:
  AirFace<N> face_;
  Passages<N> passages_;
  N resistance_{};  ///< of dirt and of the outside [K/W]
};

}  // namespace flarenut::heat
