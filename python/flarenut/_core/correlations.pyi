"""
Correlations of the engine: plain numbers in, plain numbers out.
"""
from __future__ import annotations
import typing
class BendShape:
    """
    A bend's loss, split by what it scales with: K = f (length + per f) + constant.
    """
    @property
    def constant(self) -> float:
        """
        Extra loss that does not.
        """
    @property
    def length_over_bore(self) -> float:
        """
        The bend's own length in bores.
        """
    @property
    def per_friction_factor(self) -> float:
        """
        Extra loss that scales with the Darcy factor.
        """
class JunctionShape:
    """
    A three-legged fitting; legs in the order run1, run2, branch.
    """
    @property
    def area(self) -> typing.Annotated[list[float], "FixedSize(3)"]:
        """
        Bore area of each leg [m2].
        """
    @property
    def recovery(self) -> typing.Annotated[list[float], "FixedSize(3)"]:
        ...
    @property
    def turn_cosine(self) -> typing.Annotated[list[float], "FixedSize(3)"]:
        """
        Of the pair that leaves leg k out, at index k.
        """
    @property
    def viscous(self) -> typing.Annotated[list[float], "FixedSize(3)"]:
        """
        K1 of each leg.
        """
class JunctionDrops:
    """
    Differences of total pressure over density between legs.
    """
    @property
    def run1_to_branch(self) -> float:
        """
        [m2/s2]
        """
    @property
    def run1_to_run2(self) -> float:
        """
        [m2/s2]
        """
class TapPositions:
    """
    Where a meter's taps sit, in line bores from the plate.
    """
    def __init__(self, upstream_over_bore: typing.SupportsFloat | typing.SupportsIndex = 0.0, downstream_over_bore: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> None:
        """
        Corner taps unless told.
        """
    @property
    def downstream_over_bore(self) -> float:
        ...
    @property
    def upstream_over_bore(self) -> float:
        ...
class CoreLoss:
    """
    Drop of a core: viscous μ Q + inertial ρ Q|Q|.
    """
    def drop(self, flow: typing.SupportsFloat | typing.SupportsIndex, viscosity: typing.SupportsFloat | typing.SupportsIndex, density: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Drop [Pa] at a flow [m3/s], viscosity [Pa s] and density [kg/m3].
        """
    @property
    def inertial(self) -> float:
        """
        [1/m4]
        """
    @property
    def viscous(self) -> float:
        """
        [1/m3]
        """
class CorePoint:
    """
    One point of a core's bench test.
    """
    def __init__(self, drop: typing.SupportsFloat | typing.SupportsIndex, flow: typing.SupportsFloat | typing.SupportsIndex, viscosity: typing.SupportsFloat | typing.SupportsIndex, density: typing.SupportsFloat | typing.SupportsIndex) -> None:
        """
        drop [Pa], flow [m3/s], viscosity [Pa s], density [kg/m3].
        """
    @property
    def density(self) -> float:
        """
        [kg/m3]
        """
    @property
    def drop(self) -> float:
        """
        [Pa]
        """
    @property
    def flow(self) -> float:
        """
        [m3/s]
        """
    @property
    def viscosity(self) -> float:
        """
        [Pa s]
        """
def bend_excess_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, f_re: typing.SupportsFloat | typing.SupportsIndex, bend: BendShape) -> float:
    """
    K Re of a bend over and above the friction of its own length.
    """
def bend_loss_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, f_re: typing.SupportsFloat | typing.SupportsIndex, bend: BendShape) -> float:
    """
    K Re of a bend, its own length included.
    """
def bend_shape(angle_radians: typing.SupportsFloat | typing.SupportsIndex, radius_over_bore: typing.SupportsFloat | typing.SupportsIndex) -> BendShape:
    """
    A formed bend (Rennels and Hudson 2012). angle_radians [rad].
    """
def choking_pressure_drop(inlet_pressure: typing.SupportsFloat | typing.SupportsIndex, vapour_pressure: typing.SupportsFloat | typing.SupportsIndex, critical_factor: typing.SupportsFloat | typing.SupportsIndex, recovery_factor: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Largest drop [Pa] that still adds flow (IEC 60534-2-1); absolute pressures [Pa].
    """
def colebrook_white(reynolds: typing.SupportsFloat | typing.SupportsIndex, relative_roughness: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy friction factor of the Colebrook-White equation (1939), iterated to round-off; turbulent flow only.
    """
def contracting_cone_factor(included_angle: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Share of the sudden loss (Crane TP 410). included_angle [rad].
    """
def contraction_times_reynolds(small_bore_reynolds: typing.SupportsFloat | typing.SupportsIndex, turbulent_loss: typing.SupportsFloat | typing.SupportsIndex, diameter_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re of a step into the smaller bore.
    """
def core_of_passages(passages: typing.SupportsFloat | typing.SupportsIndex, bore: typing.SupportsFloat | typing.SupportsIndex, length: typing.SupportsFloat | typing.SupportsIndex, end_loss: typing.SupportsFloat | typing.SupportsIndex, reynolds: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> CoreLoss:
    """
    From its round passages; bore and length [m]. Meets the friction law at that Reynolds number; laminar unless given.
    """
def core_of_point(point: CorePoint, viscous_share: typing.SupportsFloat | typing.SupportsIndex) -> CoreLoss:
    """
    From one point and the viscous share of its drop.
    """
def core_of_points(one: CorePoint, other: CorePoint) -> CoreLoss:
    """
    The sum that passes two points; a coefficient below zero or no number says that none does.
    """
def critical_pressure_ratio_factor(pressure_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    FF of IEC 60534-2-1, from vapour pressure over critical pressure.
    """
def curved_critical_reynolds(d_over_coil: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Reynolds number up to which flow in a coil stays laminar (Ito 1959).
    """
def curved_friction_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, relative_roughness: typing.SupportsFloat | typing.SupportsIndex, d_over_coil: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy factor times Reynolds number of a coil.
    """
def curved_laminar_ratio(dean: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Friction of a coil over that of a straight bore, laminar (White 1929).
    """
def curved_turbulent_ratio(x: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Friction of a coil over that of a straight bore, turbulent; x = Re (d/D)^2.
    """
def cv_from_valve_area(area_m2: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Cv [US gal/min at 1 psi] from Av [m2].
    """
def equivalent_length_times_reynolds(f_re: typing.SupportsFloat | typing.SupportsIndex, length_over_bore: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re of a fitting worth so many bores of straight tube.
    """
def expanding_cone_factor(included_angle: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Share of the sudden loss (Gibson 1912; Crane TP 410). included_angle [rad].
    """
def expansion_times_reynolds(small_bore_reynolds: typing.SupportsFloat | typing.SupportsIndex, turbulent_loss: typing.SupportsFloat | typing.SupportsIndex, diameter_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re of a step out of the smaller bore.
    """
def friction_factor(reynolds: typing.SupportsFloat | typing.SupportsIndex, relative_roughness: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy friction factor of a straight round bore.
    """
def friction_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, relative_roughness: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy factor times Reynolds number of a straight round bore; 64 at rest.
    """
def fully_rough_friction_factor(relative_roughness: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy factor at infinite Reynolds number (von Karman 1930).
    """
def gradual_contraction_loss(diameter_ratio: typing.SupportsFloat | typing.SupportsIndex, included_angle: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K on the smaller bore. included_angle [rad].
    """
def gradual_expansion_loss(diameter_ratio: typing.SupportsFloat | typing.SupportsIndex, included_angle: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K on the smaller bore. included_angle [rad].
    """
def ito_turbulent_friction_factor(reynolds: typing.SupportsFloat | typing.SupportsIndex, d_over_coil: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy factor of a smooth coil in turbulent flow (Ito 1959).
    """
def junction_drops(shape: JunctionShape, run1_flow: typing.SupportsFloat | typing.SupportsIndex, run2_flow: typing.SupportsFloat | typing.SupportsIndex, kinematic_viscosity: typing.SupportsFloat | typing.SupportsIndex) -> JunctionDrops:
    """
    Flows into the junction [m3/s]; kinematic_viscosity [m2/s].
    """
def kv_from_valve_area(area_m2: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Kv [m3/h at 1 bar] from Av [m2].
    """
def least_inlet_pressure(required: typing.SupportsFloat | typing.SupportsIndex, vapour: typing.SupportsFloat | typing.SupportsIndex, density: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Absolute pressure [Pa] that leaves a suction head [m] above a vapour pressure [Pa] at a density [kg/m3].
    """
def loss_from_valve_area(bore_area_m2: typing.SupportsFloat | typing.SupportsIndex, valve_area_m2: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K on the velocity head of a bore.
    """
def net_positive_suction_head(total: typing.SupportsFloat | typing.SupportsIndex, vapour: typing.SupportsFloat | typing.SupportsIndex, density: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    [m] from absolute pressures [Pa] and density [kg/m3].
    """
def orifice_meter_coefficient(line_reynolds: typing.SupportsFloat | typing.SupportsIndex, beta: typing.SupportsFloat | typing.SupportsIndex, line_bore_m: typing.SupportsFloat | typing.SupportsIndex, taps: TapPositions = ...) -> float:
    """
    Discharge coefficient of an orifice meter (ISO 5167-2:2003). line_bore_m [m].
    """
def orifice_permanent_loss(beta: typing.SupportsFloat | typing.SupportsIndex, discharge_coefficient: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K on the velocity head of the hole (ISO 5167-2:2003, permanent loss).
    """
def orifice_times_reynolds(hole_reynolds: typing.SupportsFloat | typing.SupportsIndex, permanent_loss: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re of a thin sharp-edged restrictor.
    """
def rounded_entrance_loss(radius_over_bore: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K of a rounded entrance (Crane TP 410).
    """
def sharp_orifice_coefficient(beta: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Discharge coefficient of a sharp plate at high Reynolds number.
    """
def short_tube_coefficient(ideal_reynolds: typing.SupportsFloat | typing.SupportsIndex, length_over_bore: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Discharge coefficient of a short tube (Lichtarowicz, Duggins and Markland 1965).
    """
def short_tube_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, length_over_bore: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re of a short tube between large spaces.
    """
def sudden_contraction_loss(diameter_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K on the smaller bore (Crane TP 410).
    """
def sudden_expansion_loss(diameter_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K on the smaller bore (Borda-Carnot).
    """
def tee_shape(run1_area: typing.SupportsFloat | typing.SupportsIndex, run2_area: typing.SupportsFloat | typing.SupportsIndex, branch_area: typing.SupportsFloat | typing.SupportsIndex, branch_angle: typing.SupportsFloat | typing.SupportsIndex) -> JunctionShape:
    """
    Areas [m2]; branch_angle [rad], the turn from run1 into the branch.
    """
def three_k_size_factor(nominal_bore_m: typing.SupportsFloat | typing.SupportsIndex, k_d: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    1 + Kd / (Dn/in)^0.3 (Darby 2001). nominal_bore_m [m].
    """
def three_k_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, nominal_bore_m: typing.SupportsFloat | typing.SupportsIndex, k_one: typing.SupportsFloat | typing.SupportsIndex, k_i: typing.SupportsFloat | typing.SupportsIndex, k_d: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re by the three-K method (Darby 2001). nominal_bore_m [m].
    """
def two_k_size_factor(bore_m: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    1 + 1 in / D (Hooper 1981). bore_m [m].
    """
def two_k_times_reynolds(reynolds: typing.SupportsFloat | typing.SupportsIndex, bore_m: typing.SupportsFloat | typing.SupportsIndex, k_one: typing.SupportsFloat | typing.SupportsIndex, k_infinity: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    K Re by the two-K method (Hooper 1981). bore_m [m].
    """
def valve_area_from_cv(cv: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Flow area Av [m2] from Cv [US gal/min at 1 psi].
    """
def valve_area_from_kv(kv: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Flow area Av [m2] from Kv [m3/h at 1 bar].
    """
entrance_viscous_constant: float = 160.0
exit_loss: float = 1.0
exit_viscous_constant: float = 18.84955592153876
laminar_friction_times_reynolds: float = 64.0
laminar_reynolds_limit: float = 2000.0
metres_per_inch: float = 0.0254
orifice_viscous_constant: float = 37.69911184307752
projecting_entrance_loss: float = 0.78
sharp_entrance_loss: float = 0.5
straight_on_loss: float = 0.4
turbulent_reynolds_limit: float = 4000.0
valve_water_density: float = 999.1
