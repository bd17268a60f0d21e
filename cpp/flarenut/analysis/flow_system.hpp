#pragma once
/// The equations of a plan at its present numbers, as Newton sees them: pressures of free junctions and flows.
///
/// Each part's law is linearised at a **point** of its own (port pressures, sensed pressures, flows). Usually that
/// is where the iterate stands; a switching device may be linearised elsewhere, nearer to where it was (device
/// limiting), and its line is then continued to the iterate. Each part's flow change is eliminated by its own
/// slope, which leaves one equation per free junction (the global gradient form of E. Todini and S. Pilati,
/// 1988, in "Computer applications in water supply"): mass leaving plus demand is zero.
///
///   r + ∂r/∂p Δp + ∂r/∂q Δq = 0  →  Δq = s + G Δp     s = −(∂r/∂q)⁻¹ r,  G = −(∂r/∂q)⁻¹ ∂r/∂p
///   Σ out (q + Δq) + demand = 0
///
/// After a full step the mass balance holds to round-off. So the linear solves themselves are not checked, as long as it does.
///
/// Parts with a plain law of flow are kept in a `DropField`; the others, with points and blocks of slopes, beside it.

#include <vector>

#include "flarenut/analysis/drop_field.hpp"
#include "flarenut/network/plan.hpp"
#include "flarenut/solver/fixed_lu.hpp"

namespace flarenut::analysis {

using network::Branch;
using network::Plan;

/// Extra terms that turn a steady step into a damped or a timed one.
struct Inertia {
  double junction = 0.0;  ///< added to each junction's slope: mass taken up per pressure and step [kg/(s Pa)]
  double branch = 0.0;    ///< fraction by which each part's flow slope is raised
};

class FlowSystem {
 public:
  static constexpr double branch_tolerance = 1e-10;  ///< of a bar, or of the flow scale
  static constexpr double mass_tolerance = 1e-12;    ///< of the largest flow
  static constexpr double pressure_scale = 1e5;      ///< 1 bar
  static constexpr double most_polish = 1.0;         ///< [Pa]

  /// `plan` must outlive this and keep its structure.
  explicit FlowSystem(Plan& plan, LawsBy laws = LawsBy::lanes);

  /// Sets the iterate to a cold start: each device where it expects to work.
  void start_cold();
  /// Sets the iterate to given pressures (all junctions) and flows, and linearises there.
  void start_at(const std::vector<double>& pressures, const std::vector<double>& flows);

  /// Whether this is the iterate, linearised where it stands, with the numbers that the plan has now.
  bool stands_at(const std::vector<double>& pressures, const std::vector<double>& flows) const;

  /// Takes over parts and given pressures that the plan has changed since, with the iterate as it is.
  void renew();

  /// Residuals and slopes of all parts at their points.
  void linearise();
  /// Linearises drops that stand far from what drives them where their own law has that flow: for what follows a square law and has been shut or
  /// opened wide since, which from where it stands would come down by halves.
  void foresee();
  /// True when the iterate satisfies every equation: no device limited, residuals and mass within tolerance. Where a shut seat is met in flow and
  /// not in pressure, one more step is asked for: what stands still behind it is held by its seepage alone.
  bool accepted() const;
  /// Newton's step from here. False when the matrix is singular.
  bool find_step(const Inertia& inertia = {});
  /// The same, damped as by an implicit time step: 1 is heavy, 0 is Newton's own.
  bool find_damped_step(double damping);
  /// Moves along the step; devices limit the points they will be linearised at.
  void take_step(double length = 1.0, bool limiting = true);
  /// Takes a step found elsewhere: changes of all junctions' pressures and of all flows.
  void take_step(const std::vector<double>& pressures, const std::vector<double>& flows, double length);
  /// One more step from an accepted iterate, where that was not exact to round-off. It is not judged again: residuals and slopes are those
  /// of where it set out, and stand for where it leads. A step longer than `most_polish` is left alone.
  void polish();
  /// Sum of squared scaled residuals at the iterate moved by `length` steps, without limiting. Leaves all as it was.
  double merit_at(double length);

  // What was found.
  const std::vector<double>& pressures() const { return pressure_; }
  const std::vector<double>& flows() const { return flow_; }
  double worst_residual() const { return worst_residual_; }  ///< scaled; accepted at 1e-10
  double mass_error() const { return mass_error_; }          ///< relative to the largest flow
  int worst_branch() const { return worst_branch_; }
  int worst_junction() const { return worst_junction_; }
  bool limited() const { return limited_count_ > 0; }
  bool linearised() const { return linearised_; }            ///< at the points of now
  int evaluations() const { return evaluations_; }
  /// Where a part is: its pressures, then its flows.
  using Point = std::array<double, network::most_pressures + network::most_flows>;
  Point point(int branch) const;
  network::Linearisation linearisation(int branch) const;
  /// The same, with residuals continued from the point of linearisation to the iterate.
  network::Linearisation linearisation_here(int branch) const;
  const DropField& field() const { return field_; }
  const std::vector<double>& imbalances() const { return imbalance_; }  ///< mass that leaves each unknown's junction, too much [kg/s]
  Plan& plan() { return plan_; }
  const Plan& plan() const { return plan_; }
  solver::FixedLU& matrix() { return matrix_; }
  const solver::FixedLU& matrix() const { return matrix_; }
  /// Fills and factorises the matrix at the present linearisation; also keeps each part's G and s.
  bool assemble(const Inertia& inertia = {});
  /// The matrix alone, for slopes.
  bool assemble_matrix();
  /// Slope of a part's flow with the pressure of its i-th junction.
  double flow_by_pressure(int branch, int flow, int i) const;

 private:
  /// A part's flow change: s + G Δp, once its own slope is eliminated.
  struct Gain {
    std::array<double, network::most_flows> shift{};
    std::array<double, network::most_flows * network::most_pressures> by_pressure{};
  };

  /// A part with a law of another form.
  struct Other {
    int branch;
    const network::Element* element;
    std::size_t first_point;
    int first_slot;
    network::Linearisation line;
    Gain gain;
  };

  /// What an error of a law is measured against: the residual that a bar and the flow scale together would make.
  static double scale_of(const Branch& branch, const network::Linearisation& line, int flow, double flow_scale);
  bool satisfied() const;
  bool pressures_are_met() const;
  void gather(const Branch& branch, double* point) const;
  void evaluate_laws();
  void measure();
  template <bool with_right_side>
  void gather_matrix(const Inertia& inertia);
  void assemble_other(Other& other, const Inertia& inertia);
  std::array<double, network::most_flows> residual_here(const Other& other) const;
  /// Residuals over their scales, then imbalances over the flow scale; `scale` takes the scales of the present slopes, or gives them.
  double sum_of_squares(std::vector<double>& scale, bool take) const;

  Plan& plan_;
  DropField field_;
  std::vector<Other> others_;
  std::vector<int> other_of_;     ///< by branch: place among the others; −1 for parts of the field
  std::vector<double> pressure_, flow_;
  std::vector<double> step_pressure_, step_flow_;
  std::vector<double> points_;    ///< of the others, and of parts of the field with a limit
  std::vector<std::size_t> first_point_;  ///< by branch; for those that have one
  std::vector<char> limited_;
  solver::FixedLU matrix_;
  std::vector<int> slots_;        ///< per port and pressure of the others: place in the matrix, or the spare one
  std::vector<int> diagonal_;
  // Of each unknown; one more for junctions of given pressure, so that nobody asks which kind its ends are.
  std::vector<double> right_side_, unknown_step_, imbalance_;
  bool careful_ = false;          ///< check each linear solve
  bool stepped_fully_ = false;    ///< the iterate came by a whole step
  bool linearised_ = false;       ///< at the points of now
  int stepped_since_ = 0;         ///< −1: pressures are not met yet, one more step is wanted; 1: it has been taken

  double worst_residual_ = 0.0, mass_error_ = 0.0;
  int worst_branch_ = 0, worst_junction_ = -1, limited_count_ = 0, evaluations_ = 0;
};

}  // namespace flarenut::analysis
