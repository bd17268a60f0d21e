"""
Liquids and the standard atmosphere, in SI.
"""
from __future__ import annotations
import builtins
import collections.abc
import typing
class Law:
    """
    How one property follows temperature.
    """
    def at(self, temperature: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Value at a temperature [K], in SI.
        """
    @property
    def constants(self) -> dict[str, float]:
        """
        Fitted constants by the letters of the law's formula; empty for tables and polynomials.
        """
class Property:
    """
    A law with its data range, its band and who says so.
    """
    def __init__(self, law: Law, least: typing.SupportsFloat | typing.SupportsIndex, most: typing.SupportsFloat | typing.SupportsIndex, band: typing.SupportsFloat | typing.SupportsIndex, band_per_kelvin: typing.SupportsFloat | typing.SupportsIndex, source: str, how: str, cold_caution: str = '') -> None:
        """
        Data from `least` to `most` [K]; bands are fractions.
        """
class LiquidRecord:
    """
    All coefficients of one liquid.
    """
    def __init__(self, name: str, properties: collections.abc.Sequence[Property], viscosity_is_kinematic: bool, modulus_per_pressure: typing.SupportsFloat | typing.SupportsIndex, viscosity_per_pressure: typing.SupportsFloat | typing.SupportsIndex, least: typing.SupportsFloat | typing.SupportsIndex, most: typing.SupportsFloat | typing.SupportsIndex, stoichiometric_air_fuel_ratio: typing.SupportsFloat | typing.SupportsIndex | None = None, lower_heating_value: typing.SupportsFloat | typing.SupportsIndex | None = None, cold_reason: str = '', hot_reason: str = '', freezes: bool = False) -> None:
        """
        Outer limit from `least` to `most` [K], and why it ends there; lower heating value [J/kg].
        """
    def with_reid(self, reid: typing.SupportsFloat | typing.SupportsIndex) -> LiquidRecord:
        """
        The same gasoline at another Reid vapour pressure [Pa].
        """
class AlcoholBlend:
    """
    What turns a gasoline record into a blend with an alcohol.
    """
    def __init__(self, alcohol: LiquidRecord, volume_share: typing.SupportsFloat | typing.SupportsIndex, alcohol_molar_mass: typing.SupportsFloat | typing.SupportsIndex, gasoline_molar_mass: typing.SupportsFloat | typing.SupportsIndex, rule_band: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], rule: collections.abc.Sequence[str]) -> None:
        """
        Share by volume, 0 to 1; molar masses [kg/mol].
        """
    def fit_wilson(self, gasoline: LiquidRecord, lean: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], rich: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        """
        Fit to two blends, each (volume share, gasoline Reid [Pa], blend Reid [Pa]).
        """
    def gasoline_reid_for(self, gasoline: LiquidRecord, reid: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Reid vapour pressure [Pa] of the gasoline that gives the blend this one.
        """
    def reid(self, gasoline: LiquidRecord, gasoline_reid: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Reid vapour pressure of the blend [Pa].
        """
    @property
    def wilson(self) -> tuple[float, float]:
        """
        Wilson constants [K].
        """
class LiquidState:
    """
    Properties of a liquid at one temperature and pressure.
    """
    @property
    def bulk_modulus(self) -> float:
        """
        Isothermal [Pa]
        """
    @property
    def conductivity(self) -> float:
        """
        [W/(m K)]
        """
    @property
    def density(self) -> float:
        """
        [kg/m3]
        """
    @property
    def specific_heat(self) -> float:
        """
        [J/(kg K)]
        """
    @property
    def temperature(self) -> float:
        """
        [K]
        """
    @property
    def vapour_pressure(self) -> float:
        """
        Absolute [Pa]
        """
    @property
    def viscosity(self) -> float:
        """
        Dynamic [Pa s]
        """
class HeatState:
    """
    What an energy balance sees of a liquid at one temperature and pressure.
    """
    @property
    def conductivity(self) -> float:
        """
        [W/(m K)]
        """
    @property
    def enthalpy(self) -> float:
        """
        Above 0 degC and one atmosphere [J/kg]
        """
    @property
    def enthalpy_per_pressure(self) -> float:
        """
        Slope of enthalpy with pressure [J/kg per Pa]
        """
    @property
    def expansion(self) -> float:
        """
        By volume [1/K]
        """
    @property
    def specific_heat(self) -> float:
        """
        Slope of enthalpy with temperature [J/(kg K)]
        """
    @property
    def warming_per_pressure(self) -> float:
        """
        Warming per pressure lost without work or heat given [K/Pa]
        """
class RangeFinding:
    """
    A property asked for outside its data.
    """
    @builtins.property
    def band(self) -> float:
        """
        Relative uncertainty there.
        """
    @builtins.property
    def caution(self) -> str:
        """
        What the value rests on below the data; may be empty.
        """
    @builtins.property
    def data(self) -> tuple[float, float]:
        """
        [K]
        """
    @builtins.property
    def message(self) -> str:
        ...
    @builtins.property
    def property(self) -> str:
        ...
    @builtins.property
    def temperature(self) -> float:
        """
        [K]
        """
class PropertyDescription:
    """
    One property as a person reads it.
    """
    @builtins.property
    def band(self) -> float:
        """
        Relative uncertainty in the middle of the data.
        """
    @builtins.property
    def data(self) -> tuple[float, float]:
        """
        [K]
        """
    @builtins.property
    def how(self) -> str:
        ...
    @builtins.property
    def property(self) -> str:
        ...
    @builtins.property
    def source(self) -> str:
        ...
class Liquid:
    """
    A liquid: its properties are pure functions of temperature and pressure.
    """
    @typing.overload
    def __init__(self, record: LiquidRecord) -> None:
        ...
    @typing.overload
    def __init__(self, name: str, gasoline: LiquidRecord, blend: AlcoholBlend) -> None:
        ...
    def at(self, temperature: typing.SupportsFloat | typing.SupportsIndex, pressure: typing.SupportsFloat | typing.SupportsIndex = 101325.0) -> LiquidState:
        """
        State at a temperature [K] and absolute pressure [Pa].
        """
    def band(self, property: typing.SupportsInt | typing.SupportsIndex, temperature: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Relative uncertainty of a property, by its place in `property_names`, at [K].
        """
    def boiling_temperature(self, pressure: typing.SupportsFloat | typing.SupportsIndex) -> float | None:
        """
        Where it boils [K] under an absolute pressure [Pa]; None when not inside the outer limit.
        """
    def describe(self) -> list[PropertyDescription]:
        """
        One line for each property.
        """
    def heat_at(self, temperature: typing.SupportsFloat | typing.SupportsIndex, pressure: typing.SupportsFloat | typing.SupportsIndex = 101325.0) -> HeatState:
        """
        What an energy balance asks for at a temperature [K] and absolute pressure [Pa].
        """
    def range_findings(self, temperature: typing.SupportsFloat | typing.SupportsIndex) -> list[RangeFinding]:
        """
        Which properties are carried beyond their data at a temperature [K].
        """
    @property
    def freezes(self) -> bool:
        """
        Whether the cold end of the outer limit is its freezing point.
        """
    @property
    def lower_heating_value(self) -> float | None:
        """
        [J/kg], or None.
        """
    @property
    def name(self) -> str:
        ...
    @property
    def outer_limit(self) -> tuple[float, float]:
        """
        [K]
        """
    @property
    def record(self) -> LiquidRecord:
        ...
    @property
    def stoichiometric_air_fuel_ratio(self) -> float | None:
        """
        kg air per kg fuel, or None.
        """
class ViscosityIndexTable:
    """
    L and H of ASTM D2270 over viscosity at 100 degC [mm2/s].
    """
    def __init__(self, viscosity_100: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], low: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], high: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
class GlycolColumn:
    """
    The laws of glycol in water at one share by volume.
    """
    def __init__(self, volume_share: typing.SupportsFloat | typing.SupportsIndex, density: Law, viscosity: Law, specific_heat: Law, conductivity: Law) -> None:
        """
        Share from 0 to 1; viscosity is dynamic.
        """
class SaturationState:
    """
    Liquid and vapour of a refrigerant side by side.
    """
    @property
    def latent_heat(self) -> float:
        """
        [J/kg]
        """
    @property
    def liquid_density(self) -> float:
        """
        [kg/m3]
        """
    @property
    def pressure(self) -> float:
        """
        Absolute [Pa]
        """
    @property
    def temperature(self) -> float:
        """
        [K]
        """
    @property
    def vapour_density(self) -> float:
        """
        [kg/m3]
        """
class Saturation:
    """
    A refrigerant along its boiling curve.
    """
    def __init__(self, name: str, pressure: Law, liquid_density: Law, vapour_density: Law, least: typing.SupportsFloat | typing.SupportsIndex, most: typing.SupportsFloat | typing.SupportsIndex) -> None:
        """
        Range from `least` to `most` [K].
        """
    def at(self, temperature: typing.SupportsFloat | typing.SupportsIndex) -> SaturationState:
        """
        State at a temperature [K].
        """
    def temperature(self, pressure: typing.SupportsFloat | typing.SupportsIndex) -> float:
        """
        Temperature [K] at which it boils under an absolute pressure [Pa].
        """
    @property
    def range(self) -> tuple[float, float]:
        """
        [K]
        """
class AirState:
    """
    Properties of dry air at one temperature and pressure.
    """
    @property
    def conductivity(self) -> float:
        """
        [W/(m K)]
        """
    @property
    def density(self) -> float:
        """
        [kg/m3]
        """
    @property
    def expansion(self) -> float:
        """
        By volume [1/K]
        """
    @property
    def kinematic_viscosity(self) -> float:
        """
        [m2/s]
        """
    @property
    def prandtl(self) -> float:
        """
        Viscosity times specific heat over conductivity.
        """
    @property
    def specific_heat(self) -> float:
        """
        At constant pressure [J/(kg K)]
        """
    @property
    def temperature(self) -> float:
        """
        [K]
        """
    @property
    def thermal_diffusivity(self) -> float:
        """
        [m2/s]
        """
    @property
    def viscosity(self) -> float:
        """
        Dynamic [Pa s]
        """
def aerated_modulus(liquid_modulus: typing.SupportsFloat | typing.SupportsIndex, air_per_liquid: typing.SupportsFloat | typing.SupportsIndex, pressure: typing.SupportsFloat | typing.SupportsIndex, exponent: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Bulk modulus [Pa] with free air: volume of air per liquid at one atmosphere, absolute pressure [Pa], 1 slow to 1.4 fast.
    """
def air_at(temperature: typing.SupportsFloat | typing.SupportsIndex, pressure: typing.SupportsFloat | typing.SupportsIndex = 101325.0) -> AirState:
    """
    Dry air: temperature [K], 200 to 1000; pressure [Pa absolute], above 0 to 1 MPa.
    
    ValueError outside. Equations of Lemmon and others 2000 and 2004, linear in density, and NASA TP-2002-211556; within 0.03 % at one
    atmosphere, 0.4 % to 1 MPa.
    
    >>> from flarenut._core.fluids import air_at
    >>> air = air_at(313.15)
    >>> round(air.density, 3), round(air.conductivity, 4), round(air.prandtl, 3)
    (1.127, 0.0274, 0.706)
    """
def antoine_mmhg(a: typing.SupportsFloat | typing.SupportsIndex, b: typing.SupportsFloat | typing.SupportsIndex, c: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    Antoine constants of log10(p/mmHg) = a - b/(c + t/degC).
    """
def boiling_line(boiling_temperature: typing.SupportsFloat | typing.SupportsIndex, heat_over_r_t: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    Vapour pressure from one boiling point [K] at one atmosphere and the heat of vaporisation over R T.
    """
def constant_liquid(name: str, density: typing.SupportsFloat | typing.SupportsIndex, viscosity: typing.SupportsFloat | typing.SupportsIndex, vapour_pressure: typing.SupportsFloat | typing.SupportsIndex = 0.0, specific_heat: typing.SupportsFloat | typing.SupportsIndex | None = None, conductivity: typing.SupportsFloat | typing.SupportsIndex | None = None, bulk_modulus: typing.SupportsFloat | typing.SupportsIndex | None = None) -> Liquid:
    """
    Liquid that does not change: density [kg/m3], dynamic viscosity [Pa s], the rest SI.
    """
def exponential(reference: typing.SupportsFloat | typing.SupportsIndex, value: typing.SupportsFloat | typing.SupportsIndex, rate: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    value * exp(-rate (T - reference)); reference [K], rate [1/K].
    """
def glycol_coolant(name: str, volume_share: typing.SupportsFloat | typing.SupportsIndex, columns: collections.abc.Sequence[GlycolColumn], freezing_share: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], freezing_temperature: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], mass_share: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], glycol_molar_mass: typing.SupportsFloat | typing.SupportsIndex, water_vapour_pressure: Law, bulk_modulus: Law, data_most: typing.SupportsFloat | typing.SupportsIndex, hottest: typing.SupportsFloat | typing.SupportsIndex, lean_band: typing.SupportsFloat | typing.SupportsIndex, source: str) -> Liquid:
    """
    Glycol and water at a share by volume, 0 to 1; temperatures [K], molar mass [kg/mol].
    """
def isentropic_modulus(isothermal_modulus: typing.SupportsFloat | typing.SupportsIndex, temperature: typing.SupportsFloat | typing.SupportsIndex, expansion: typing.SupportsFloat | typing.SupportsIndex, density: typing.SupportsFloat | typing.SupportsIndex, specific_heat: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Fast bulk modulus [Pa] from the slow one, SI.
    """
def lubricant_density(density_15: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    ASTM D1250 lubricating oils, from density at 15 degC [kg/m3].
    """
def mineral_oil_bulk_modulus(viscosity_20: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    Hayward, from kinematic viscosity at 20 degC [m2/s].
    """
def oil(name: str, viscosities: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]], density_15: typing.SupportsFloat | typing.SupportsIndex, pour_point: typing.SupportsFloat | typing.SupportsIndex | None = None, source: str = 'given by the user', how: str = 'given by the user', grade_band: typing.SupportsFloat | typing.SupportsIndex = 0.0, density_band: typing.SupportsFloat | typing.SupportsIndex = 0.0, cold_samples: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]] = [], cold_caution: str = '', cold_reason: str = '') -> Liquid:
    """
    Oil from (temperature [K], kinematic viscosity [m2/s]) points and density at 15 degC [kg/m3].
    """
def petroleum_conductivity(specific_gravity: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    Cragoe, from specific gravity.
    """
def petroleum_density(density_15: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    ASTM D1250 refined products, from density at 15 degC [kg/m3].
    """
def petroleum_specific_heat(specific_gravity: typing.SupportsFloat | typing.SupportsIndex) -> Law:
    """
    Cragoe, from specific gravity.
    """
def polynomial(reference: typing.SupportsFloat | typing.SupportsIndex, coefficients: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> Law:
    """
    Sum of c_i (T - reference)^i; reference [K].
    """
def refined_stock(reid: typing.SupportsFloat | typing.SupportsIndex, distillation_slope: typing.SupportsFloat | typing.SupportsIndex = 3.0) -> Law:
    """
    AP-42 vapour pressure of gasoline from its Reid vapour pressure [Pa].
    """
def refutas(mass_share: typing.SupportsFloat | typing.SupportsIndex, first: typing.SupportsFloat | typing.SupportsIndex, second: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Kinematic viscosity [mm2/s] of two liquids mixed.
    """
def standard_pressure(altitude: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Ambient pressure [Pa] of the U.S. Standard Atmosphere 1976 at an altitude [m].
    """
def standard_temperature(altitude: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Air temperature [K] of the U.S. Standard Atmosphere 1976 at an altitude [m].
    """
def table(scale: str, temperatures: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], values: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], what: str) -> Law:
    """
    Monotone cubic through points: temperatures [K], values in SI.
    """
def trapped_pressure_rise(modulus: typing.SupportsFloat | typing.SupportsIndex, expansion: typing.SupportsFloat | typing.SupportsIndex, warming: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Pressure rise [Pa] of a liquid shut in and warmed by `warming` [K].
    """
def viscosity_100_from_index(table: ViscosityIndexTable, viscosity_40: typing.SupportsFloat | typing.SupportsIndex, index: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Kinematic viscosity at 100 degC [mm2/s] from that at 40 degC [mm2/s] and the index.
    """
def viscosity_40_from_index(table: ViscosityIndexTable, viscosity_100: typing.SupportsFloat | typing.SupportsIndex, index: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    Kinematic viscosity at 40 degC [mm2/s] from that at 100 degC [mm2/s] and the index.
    """
def viscosity_index(table: ViscosityIndexTable, viscosity_40: typing.SupportsFloat | typing.SupportsIndex, viscosity_100: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    ASTM D2270 index from kinematic viscosities [mm2/s].
    """
def vogel(temperatures: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], viscosities: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> Law:
    """
    Vogel through three points: temperatures [K], dynamic viscosities [Pa s].
    """
def walther(first_temperature: typing.SupportsFloat | typing.SupportsIndex, first_viscosity: typing.SupportsFloat | typing.SupportsIndex, second_temperature: typing.SupportsFloat | typing.SupportsIndex, second_viscosity: typing.SupportsFloat | typing.SupportsIndex, thin: bool) -> Law:
    """
    ASTM D341 through two points: temperatures [K], kinematic viscosities [m2/s]; thin below 2 mm2/s.
    """
property_names: tuple[str, ...] = ('density', 'viscosity', 'specific heat', 'conductivity', 'bulk modulus', 'vapour pressure')
