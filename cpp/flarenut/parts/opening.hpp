#pragma once
/// Opening: the end of a line in a tank, a rail, a gallery or any space much wider than the line.
///
/// What it is: drawn from the tank, the stream has to turn into the line (entrance); let out into the tank, its whole
/// velocity head is lost, whatever the edge looks like (exit).
///
///   entrance   Δp = K · ρ V² / 2     K by the shape of the edge: the field `entrance_loss`
///   exit       Δp = ρ V² / 2         V in the line
///
/// with a viscous share and a smooth passage through zero flow as in `local_loss.hpp`.
///
///   entrance_loss   edge                                              source
///   0.78            tube standing into the tank, sharp                Crane Technical Paper 410
///   0.5             flush with the wall, sharp                        Crane Technical Paper 410
///   0.28 ... 0.04   rounded to 0.02 ... 0.15 of the bore              `correlations::rounded_entrance_loss`
///
/// Two kinds, alike but for their ports: `opening` has the tank at port 0 (a pick-up: positive flow is drawn from the
/// tank), `return opening` has it at port 1 (positive flow goes into the tank). Both work both ways.
///
/// Assumes: the tank at rest. Sign: positive flow from port 0 to port 1.
/// Source: `correlations/size_step.hpp`.

#include "flarenut/parts/local_loss.hpp"

namespace flarenut::parts {

template <Number N = double>
struct OpeningSpec {
  Length<N> bore{};  ///< inside diameter of the line's end
  Ratio<N> entrance_loss = Ratio<N>::from_value(N(correlations::sharp_entrance_loss));  ///< flush, sharp edge

  static constexpr auto fields() {
    using S = OpeningSpec;
    return std::tuple{
        Field<S, Length<N>>{"bore", &S::bore, 1e-4, 0.5, "m", "inside diameter of the line's end"},
        Field<S, Ratio<N>>{"entrance_loss", &S::entrance_loss, 0.0, 10.0, "",
                           "loss coefficient of drawing from the tank: sharp 0.5, standing in 0.78, rounded 0.04"},
    };
  }
};

/// What both kinds share. `tank_port` is the port in the tank.
template <Number N, int tank_port>
class OpeningLaw {
 public:
  template <Number M>
  using Spec = OpeningSpec<M>;
  static constexpr Shape shape{};
  static constexpr bool similar = true;

  OpeningLaw(const OpeningSpec<N>& spec, const LiquidState<N>& liquid)
      : bore_(without_slope<Length>(spec.bore)), start_(middling_flow(spec.bore, liquid)),
        loss_(tank_port == 0 ? Passage::into_small_bore : Passage::out_of_small_bore, spec.bore, N(0.0),
              spec.entrance_loss.value(), N(correlations::exit_loss), liquid) {}

  template <Number M>
  auto drop(const MassFlow<M>& flow) const {
    return loss_.drop(flow);
  }

  std::array<MassFlow<>, 1> start_flow() const { return {start_}; }
  /// The tank's side is so wide that its velocity head is nil.
  std::array<Length<>, 2> bores() const {
    std::array<Length<>, 2> bores{bore_, bore_};
    bores[tank_port] = Length<>{};
    return bores;
  }

 private:
  Length<> bore_;
  MassFlow<> start_;
  StepLoss<N> loss_;
};

template <Number N = double>
class Opening : public OpeningLaw<N, 0> {
 public:
  using OpeningLaw<N, 0>::OpeningLaw;
  static constexpr std::string_view kind = "opening";
};

template <Number N = double>
class ReturnOpening : public OpeningLaw<N, 1> {
 public:
  using OpeningLaw<N, 1>::OpeningLaw;
  static constexpr std::string_view kind = "return opening";
};

}  // namespace flarenut::parts
