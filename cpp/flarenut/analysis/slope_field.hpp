#pragma once
/// How the laws of all parts, each weighed as an output weighs it, follow their numbers: the large part of a gradient.
///
/// Parts of the kinds that the lanes know by heart are worked out side by side, with all their numbers at once
/// (`lanes/slope_kernel.hpp`); the others one by one, in one way through their laws (`Element::weighed_slopes`).

#include <vector>

#include "flarenut/analysis/adjoint.hpp"
#include "flarenut/lanes/slopes.hpp"

namespace flarenut::analysis {

class SlopeField {
 public:
  /// With `LawsBy::parts`, parts are asked for one number after the other, which is the judge of all else.
  SlopeField(const Plan& plan, const DropField& drops, LawsBy laws);
  SlopeField(const SlopeField&) = delete;  // its places point into it
  SlopeField& operator=(const SlopeField&) = delete;

  /// Works out all parts, or those that are `needed` (by part), at the points of `system`.
  void find(const FlowSystem& system, const Adjoint& adjoint, const std::vector<char>* needed = nullptr);

  /// Where slopes with a part's fields stand, and with what is known of its liquid.
  const double* by_field(std::size_t part, int field) const { return slopes_[part].at(field); }
  struct ByLiquid {
    const double *density, *viscosity, *temperature;
  };
  const ByLiquid& by_liquid(std::size_t part) const { return by_liquid_[part]; }

 private:
  /// Slopes of a part: with its fields, then with density and viscosity of its liquid and, unless it is in the lanes, temperature.
  struct Slopes {
    const double* first;
    std::size_t stride;
    int fields;
    bool in_lanes;
    const double* at(int i) const { return first + static_cast<std::size_t>(i) * stride; }
  };
  /// Parts of one law, in packs.
  struct Group {
    lanes::SlopeKernel kernel;  ///< that works them out
    int law;
    std::size_t inputs, rows, first_number, first_point, first_weight, packs = 0;
    std::vector<int> parts;
  };
  /// Where a part in the lanes stands.
  struct Seat {
    int part, drop;  ///< the latter −1 for laws of other forms
    std::size_t weight, point, flow, number, inputs;  ///< of the point the first row, and the last
  };
  void group(const lanes::SlopeKernel& kernel, const DropField& drops);
  void take_numbers(const Seat& seat);
  void take_points(const FlowSystem& system, const Adjoint& adjoint);
  void evaluate(const Group& group, std::size_t pack, std::size_t packs);
  void evaluate_needed(const Group& group, const std::vector<char>& needed);
  void ask(int part, const FlowSystem& system, const Adjoint& adjoint);
  void ask_by_number(int part, const double* point, const double* weight, double* out) const;

  const Plan& plan_;
  LawsBy laws_;
  std::size_t width_ = 0;
  std::vector<Group> groups_;
  std::vector<Seat> seats_;
  std::vector<int> alone_;
  std::vector<Slopes> slopes_;
  std::vector<ByLiquid> by_liquid_;
  lanes::Aligned number_, point_, weight_, slope_;
  std::vector<double> row_, found_;
  std::int64_t seen_ = -1;
};

}  // namespace flarenut::analysis
