"""
Heat-transfer correlations of the engine: plain numbers in SI.
"""
from __future__ import annotations
import collections.abc
import enum
import flarenut._core.fluids
import typing
class Arrangement(enum.Enum):
    """
    How the two streams of an exchanger run past each other.
    """
    counterflow = ...
    cross_flow_first_mixed = ...
    cross_flow_mixed = ...
    cross_flow_second_mixed = ...
    cross_flow_unmixed = ...
    parallel_flow = ...
    shell_and_tube = ...
class Exchange:
    """
    What an exchanger does at one pair of capacity rates.
    """
    @property
    def first_share(self) -> float:
        """
        Share of that difference by which the first stream changes, 0 to 1.
        """
    @property
    def heat_per_inlet_difference(self) -> float:
        """
        Heat per degree between the inlets [W/K].
        """
    @property
    def second_share(self) -> float:
        """
        The same of the second stream.
        """
def conductance_from_heat(arrangement: Arrangement, heat_per_inlet_difference: typing.SupportsFloat | typing.SupportsIndex, first_capacity_rate: typing.SupportsFloat | typing.SupportsIndex, second_capacity_rate: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    UA [W/K] from a rating: heat over the difference of the inlet temperatures.
    
    heat_per_inlet_difference [W/K], 0 and up; capacity rates at the rating [W/K], above 0. ValueError otherwise, and where the
    arrangement cannot move that heat.
    
    >>> from flarenut._core.heat_transfer import Arrangement, conductance_from_heat
    >>> round(conductance_from_heat(Arrangement.counterflow, 50.0, 100.0, 100.0), 6)
    100.0
    """
def core_of_rating(liquid: flarenut._core.fluids.Liquid, *, heat: typing.SupportsFloat | typing.SupportsIndex, liquid_flow: typing.SupportsFloat | typing.SupportsIndex, liquid_inlet: typing.SupportsFloat | typing.SupportsIndex, air_inlet: typing.SupportsFloat | typing.SupportsIndex, face_speed: typing.SupportsFloat | typing.SupportsIndex, face_area: typing.SupportsFloat | typing.SupportsIndex, passage_bore: typing.SupportsFloat | typing.SupportsIndex, passage_length: typing.SupportsFloat | typing.SupportsIndex, inside_area: typing.SupportsFloat | typing.SupportsIndex | None = None, inside_share: typing.SupportsFloat | typing.SupportsIndex = 0.5, enhancement: typing.SupportsFloat | typing.SupportsIndex = 1.0, fouling: typing.SupportsFloat | typing.SupportsIndex = 0.0, speed_exponent: typing.SupportsFloat | typing.SupportsIndex = 0.6) -> dict[str, float]:
    """
    Numbers of an "air core" that gives a rating back: cpp/flarenut/heat/core_rating.hpp.
    
    liquid as `flarenut.fluids` makes it (its `.liquid`); heat [W] given up; liquid_flow [m3/s] at liquid_inlet [K]; air_inlet [K]; face_speed [m/s];
    face_area [m2]; passage_bore and passage_length [m]; inside_area [m2], or the share of the resistance that lies inside at the rating:
    then area and enhancement are found, the area as 7 times the face where that will do. The rating is of a clean core; fouling comes on top.
    InputError naming the field where the rating asks for more than flows and passages can do.
    
    >>> import flarenut as fn
    >>> from flarenut._core.heat_transfer import core_of_rating
    >>> oil = fn.fluid("SAE 10W-40").liquid
    >>> core = core_of_rating(oil, heat=8e3, liquid_flow=20 / 6e4, liquid_inlet=383.0, air_inlet=303.0, face_speed=5.0, face_area=0.06,
    ...                       passage_bore=3e-3, passage_length=0.3)
    >>> 100 < core["outside_conductance"] < 1000
    True
    """
def critical_diameter(conductivity: typing.SupportsFloat | typing.SupportsIndex, outside_coefficient: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Outside diameter [m] of greatest loss of a sleeve; conductivity [W/(m K)], outside_coefficient [W/(m2 K)] above 0.
    """
def cross_flow_unmixed_approximation(ntu: typing.SupportsFloat | typing.SupportsIndex, capacity_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Effectiveness of cross flow, neither stream mixed, by the usual approximation; for comparison.
    
    ntu 0 and up, capacity_ratio 0 to 1; ValueError outside. Within 4 % of the exact series.
    
    >>> from flarenut._core.heat_transfer import cross_flow_unmixed_approximation
    >>> round(cross_flow_unmixed_approximation(2.0, 0.5), 4)
    0.7388
    """
def cylinder_cross_flow_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Nu of wind across a line, on its outside diameter (Churchill and Bernstein 1977).
    
    reynolds 0 and up (Re Pr above 0.2 in the source), prandtl above 0; ValueError below. Film properties. 20 to 30 % scatter.
    
    >>> from flarenut._core.heat_transfer import cylinder_cross_flow_nusselt
    >>> round(cylinder_cross_flow_nusselt(1e4, 0.7), 1)
    53.3
    """
def cylinder_natural_nusselt(rayleigh: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Nu of still air round a horizontal line, on its outside diameter (Churchill and Chu 1975).
    
    rayleigh up to 1e12, either sign (warmer or colder than the air); prandtl above 0; ValueError otherwise.
    
    >>> from flarenut._core.heat_transfer import cylinder_natural_nusselt
    >>> round(cylinder_natural_nusselt(1e5, 0.7), 2), cylinder_natural_nusselt(-1e5, 0.7) == cylinder_natural_nusselt(1e5, 0.7)
    (7.76, True)
    """
def dittus_boelter_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex, heated: bool = True) -> float:
    """
    0.023 Re^0.8 Pr^0.4, or ^0.3 when cooled; Re above 1e4; for comparison.
    """
def effectiveness(arrangement: Arrangement, ntu: typing.SupportsFloat | typing.SupportsIndex, capacity_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Heat moved over the most any exchanger could move, 0 to 1.
    
    ntu = UA/Cmin, 0 and up; capacity_ratio = Cmin/Cmax, 0 to 1; "first" in the arrangement is the stream of the smaller
    capacity rate. ValueError outside. Kays and London 1964; equations in cpp/flarenut/correlations/effectiveness.hpp.
    
    >>> from flarenut._core.heat_transfer import Arrangement, effectiveness
    >>> round(effectiveness(Arrangement.cross_flow_unmixed, 2.0, 0.5), 4)
    0.7324
    """
def effectiveness_in_series(count: typing.SupportsFloat | typing.SupportsIndex, of_one: typing.SupportsFloat | typing.SupportsIndex, capacity_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Effectiveness of like units, the streams running against each other from unit to unit.
    
    count 1 and up; of_one, the effectiveness of each, 0 to 1; capacity_ratio 0 to 1. ValueError outside.
    
    >>> from flarenut._core.heat_transfer import Arrangement, effectiveness, effectiveness_in_series
    >>> shell = effectiveness(Arrangement.shell_and_tube, 0.8, 0.5)
    >>> round(effectiveness_in_series(2, shell, 0.5), 4)
    0.6946
    """
def exchange(arrangement: Arrangement, conductance: typing.SupportsFloat | typing.SupportsIndex, first_capacity_rate: typing.SupportsFloat | typing.SupportsIndex, second_capacity_rate: typing.SupportsFloat | typing.SupportsIndex) -> Exchange:
    """
    Heat and outlet shares of an exchanger.
    
    conductance UA and capacity rates (mass flow times specific heat) [W/K], all 0 and up; ValueError below. Defined where
    either stream stands still, smooth where the rates cross.
    
    >>> from flarenut._core.heat_transfer import Arrangement, exchange
    >>> cooler = exchange(Arrangement.cross_flow_unmixed, 90.0, 200.0, 600.0)  # oil, air
    >>> oil, air = 110.0, 30.0
    >>> round(oil - cooler.first_share * (oil - air), 1), round(cooler.heat_per_inlet_difference * (oil - air))
    (82.7, 5467)
    """
def exchanger_of_rating(first: flarenut._core.fluids.Liquid, second: flarenut._core.fluids.Liquid, *, heat: typing.SupportsFloat | typing.SupportsIndex, first_flow: typing.SupportsFloat | typing.SupportsIndex, second_flow: typing.SupportsFloat | typing.SupportsIndex, first_inlet: typing.SupportsFloat | typing.SupportsIndex, second_inlet: typing.SupportsFloat | typing.SupportsIndex, first_bore: typing.SupportsFloat | typing.SupportsIndex, first_length: typing.SupportsFloat | typing.SupportsIndex, second_bore: typing.SupportsFloat | typing.SupportsIndex, second_length: typing.SupportsFloat | typing.SupportsIndex, first_area: typing.SupportsFloat | typing.SupportsIndex | None = None, second_area: typing.SupportsFloat | typing.SupportsIndex | None = None, first_enhancement: typing.SupportsFloat | typing.SupportsIndex = 1.0, second_enhancement: typing.SupportsFloat | typing.SupportsIndex = 1.0, first_share: typing.SupportsFloat | typing.SupportsIndex = 0.5, arrangement: typing.SupportsFloat | typing.SupportsIndex = 0.0) -> dict[str, float]:
    """
    Numbers of a "liquid exchanger" that gives a rating back: cpp/flarenut/heat/exchanger_rating.hpp.
    
    first, second: liquids as `flarenut.fluids` makes them (their `.liquid`); heat [W] from the hotter to the colder; flows [m3/s] at the inlet
    temperatures [K]; bores and lengths of the passages [m]; areas [m2] where known. A side without one has that of the other; with neither it is
    found from the enhancement given on the side of the thicker liquid. Enhancements are found. first_share of the resistance on the first side; arrangement 0 counterflow to 6, as in liquid_exchanger.hpp.
    InputError naming the field where the rating asks for more than flows and passages can do.
    
    >>> import flarenut as fn
    >>> from flarenut._core.heat_transfer import exchanger_of_rating
    >>> made = exchanger_of_rating(fn.fluid("SAE 10W-40").liquid, fn.fluid("water").liquid, heat=8e3, first_flow=20 / 6e4, second_flow=40 / 6e4,
    ...                            first_inlet=393.0, second_inlet=353.0, first_bore=4e-3, first_length=0.15, second_bore=4e-3, second_length=0.15)
    >>> 0.01 < made["first_area"] < 5.0
    True
    """
def film_resistance(coefficient: typing.SupportsFloat | typing.SupportsIndex, diameter: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Resistance [m K/W] of a film [W/(m2 K)] on a cylinder of a diameter [m], both above 0.
    """
def flat_tube_hydraulic_diameter(width: typing.SupportsFloat | typing.SupportsIndex, height: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Hydraulic diameter [m] of a flat tube with round ends, height [m] above 0, width [m] not below it.
    """
def fouling_resistance(per_area: typing.SupportsFloat | typing.SupportsIndex, diameter: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Resistance [m K/W] of dirt [m2 K/W], 0 and up, on a cylinder of a diameter [m] above 0.
    """
def gnielinski_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex, darcy_factor: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Turbulent Nu far from the inlet (Gnielinski 1976). ValueError below Re 1000.
    """
def hausen_nusselt(graetz: typing.SupportsFloat | typing.SupportsIndex, developed: typing.SupportsFloat | typing.SupportsIndex = 3.6568) -> float:
    """
    Mean laminar Nu over a length that begins cold (Hausen 1943). graetz = Re Pr D/L, 0 and up; ValueError below.
    """
def heat_moved(arrangement: Arrangement, conductance: typing.SupportsFloat | typing.SupportsIndex, first_capacity_rate: typing.SupportsFloat | typing.SupportsIndex, second_capacity_rate: typing.SupportsFloat | typing.SupportsIndex, first_inlet: typing.SupportsFloat | typing.SupportsIndex, second_inlet: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Heat [W] that passes from the first stream to the second.
    
    conductance UA and capacity rates [W/K], 0 and up; inlet temperatures [K], 0 and up. ValueError below.
    
    >>> from flarenut._core.heat_transfer import Arrangement, heat_moved
    >>> round(heat_moved(Arrangement.counterflow, 120.0, 180.0, 400.0, 383.15, 353.15), 1)
    2408.8
    """
def layer_resistance(inner_diameter: typing.SupportsFloat | typing.SupportsIndex, outer_diameter: typing.SupportsFloat | typing.SupportsIndex, conductivity: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Resistance [m K/W] of a layer between two diameters [m], the outer not below the inner; conductivity [W/(m K)] above 0.
    """
def line_conductance_per_length(inside_coefficient: typing.SupportsFloat | typing.SupportsIndex, bore: typing.SupportsFloat | typing.SupportsIndex, layers: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]], outside_coefficient: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    UA per metre of line [W/(m K)].
    
    Film coefficients [W/(m2 K)] and bore [m] above 0; layers from the bore out, each (outside diameter [m], conductivity
    [W/(m K)]), diameters not falling. ValueError otherwise.
    
    >>> from flarenut._core.heat_transfer import line_conductance_per_length
    >>> bare = line_conductance_per_length(500.0, 0.008, [(0.012, 0.2)], 12.0)
    >>> sleeved = line_conductance_per_length(500.0, 0.008, [(0.012, 0.2), (0.018, 0.06)], 12.0)
    >>> round(bare, 3), round(sleeved, 3)
    (0.383, 0.339)
    """
def line_heat_per_inlet_difference(conductance: typing.SupportsFloat | typing.SupportsIndex, capacity_rate: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Heat [W/K] a line gives up per degree between its inlet and its surroundings; conductance and capacity_rate [W/K], 0 and up.
    """
def mixed_nusselt(forced: typing.SupportsFloat | typing.SupportsIndex, natural: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex = 4.0) -> float:
    """
    Nu of wind and rising air together, both above 0; exponent 4 across a line, 3 along a wall (Incropera, from memory).
    """
def ntu_from_effectiveness(arrangement: Arrangement, effectiveness: typing.SupportsFloat | typing.SupportsIndex, capacity_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    NTU that gives an effectiveness.
    
    effectiveness and capacity_ratio 0 to 1. ValueError outside, and where the arrangement cannot reach it.
    
    >>> from flarenut._core.heat_transfer import Arrangement, ntu_from_effectiveness
    >>> round(ntu_from_effectiveness(Arrangement.counterflow, 0.5, 1.0), 6)
    1.0
    """
def petukhov_friction_factor(reynolds: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Darcy factor of a smooth bore, (0.790 ln Re - 1.64)^-2 (Petukhov 1970). ValueError below Re 1000.
    """
def petukhov_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex, darcy_factor: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Turbulent Nu (Petukhov 1970), Re above 1e4; for comparison.
    """
def radiation_coefficient(emissivity: typing.SupportsFloat | typing.SupportsIndex, surface: typing.SupportsFloat | typing.SupportsIndex, surroundings: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Radiation of a grey surface as a film coefficient [W/(m2 K)].
    
    emissivity 0 to 1; surface and surroundings [K], 0 and up; ValueError outside. Times their difference it is exact.
    
    >>> from flarenut._core.heat_transfer import radiation_coefficient
    >>> round(radiation_coefficient(0.9, 373.15, 298.15), 2)
    7.82
    """
def rayleigh_number(expansion: typing.SupportsFloat | typing.SupportsIndex, difference: typing.SupportsFloat | typing.SupportsIndex, size: typing.SupportsFloat | typing.SupportsIndex, kinematic_viscosity: typing.SupportsFloat | typing.SupportsIndex, diffusivity: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    g beta dT L^3/(nu alpha). expansion [1/K], difference [K], size [m], kinematic_viscosity and diffusivity [m2/s] above 0.
    """
def rectangle_hydraulic_diameter(width: typing.SupportsFloat | typing.SupportsIndex, height: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Hydraulic diameter of a rectangle [m], sides [m].
    """
def rectangle_nusselt_constant_flux(aspect: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Developed laminar Nu of a rectangle, one heat flux along (Shah and London 1978). aspect short over long side, 0 to 1.
    """
def rectangle_nusselt_constant_wall(aspect: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Developed laminar Nu of a rectangle, wall at one temperature (Shah and London 1978). aspect short over long side, 0 to 1.
    """
def remaining_difference(conductance: typing.SupportsFloat | typing.SupportsIndex, capacity_rate: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Share of its distance to the surroundings that a stream keeps along a line, exp(-UA/C).
    
    conductance UA and capacity_rate C [W/K], 0 and up; ValueError below. At rest 0.
    
    >>> from flarenut._core.heat_transfer import remaining_difference
    >>> round(remaining_difference(6.0, 12.0), 4), remaining_difference(6.0, 0.0)
    (0.6065, 0.0)
    """
def sieder_tate_laminar_nusselt(graetz: typing.SupportsFloat | typing.SupportsIndex, viscosity_ratio: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    1.86 Gz^(1/3) (mu/mu_wall)^0.14 (Sieder and Tate 1936); for comparison. graetz 0 and up, viscosity_ratio above 0.
    """
def sieder_tate_turbulent_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex, viscosity_ratio: typing.SupportsFloat | typing.SupportsIndex = 1.0) -> float:
    """
    0.027 Re^0.8 Pr^(1/3) (mu/mu_wall)^0.14 (Sieder and Tate 1936); Re above 1e4; for comparison.
    """
def swapped(arrangement: Arrangement) -> Arrangement:
    """
    The same arrangement with its two streams named the other way round.
    """
def tube_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex, bore_over_length: typing.SupportsFloat | typing.SupportsIndex = 0.0, viscosity_ratio: typing.SupportsFloat | typing.SupportsIndex = 1.0, developed: typing.SupportsFloat | typing.SupportsIndex = 3.6568) -> float:
    """
    Mean Nusselt number h D/k of a length of bore, from rest to Re 5e6.
    
    reynolds and bore_over_length 0 and up; prandtl, viscosity_ratio (of the stream over that at the wall) and developed (Nu of
    long laminar flow) above 0. ValueError otherwise. Hausen 1943, Gnielinski 1976, blended from Re 2300 to 4000.
    
    >>> from flarenut._core.heat_transfer import tube_nusselt
    >>> [round(tube_nusselt(re, 6.0, 0.01), 1) for re in (0, 1000, 10000)]
    [3.7, 6.1, 78.5]
    """
def turned_round(arrangement: Arrangement) -> Arrangement:
    """
    The arrangement after one stream has reversed: counterflow and parallel flow change places.
    """
def wall_forced_nusselt(reynolds: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Nu of wind along a flat wall, on its length (VDI Heat Atlas, from memory). reynolds 0 to 1e7, prandtl 0.6 to 2000.
    """
def wall_natural_nusselt(rayleigh: typing.SupportsFloat | typing.SupportsIndex, prandtl: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Nu of still air along a standing wall, on its height (Churchill and Chu 1975). rayleigh of either sign, prandtl above 0.
    """
laminar_convection_limit: float = 2300.0
laminar_nusselt_constant_flux: float = 4.363636363636363
laminar_nusselt_constant_wall: float = 3.6568
stefan_boltzmann: float = 5.670374419e-08
turbulent_convection_limit: float = 4000.0
