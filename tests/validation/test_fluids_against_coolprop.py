"""A second judge of fluids: the open library CoolProp (PyPI).

Water, air and refrigerants there are reference equations of state, evaluated afresh between the rows of our tables. Glycols
there are Melinder's correlations for plain glycol and water by mass (IIR 2010), independent of the inhibited-glycol tables
ours come from, so the bounds are how far the two differ, and lie within our stated bands.
"""

import pytest
from CoolProp import CoolProp as props

from flarenut.fluids import air, fluid, refrigerant
from flarenut.fluids.records import rows

ICE = 273.15
ATMOSPHERE = 101325.0


def at(letter, celsius, name, pascal=ATMOSPHERE):
    return props.PropsSI(letter, "T", celsius + ICE, "P", pascal, name)


# ---- water and air ---------------------------------------------------------------------------------------------

@pytest.mark.parametrize("celsius", [1, 7.5, 15, 22, 36, 55, 75, 95])
def test_water_between_its_rows(celsius):
    state, heat = fluid("water").liquid.at(celsius + ICE), fluid("water").liquid.heat_at(celsius + ICE)
    assert state.density == pytest.approx(at("D", celsius, "Water"), rel=1e-4)
    assert state.viscosity == pytest.approx(at("V", celsius, "Water"), rel=5e-3)
    assert heat.conductivity == pytest.approx(at("L", celsius, "Water"), rel=2e-3)
    assert heat.specific_heat == pytest.approx(at("C", celsius, "Water"), rel=1e-3)
    assert heat.expansion == pytest.approx(at("isobaric_expansion_coefficient", celsius, "Water"), rel=0.01, abs=3e-6)
    assert state.vapour_pressure == pytest.approx(props.PropsSI("P", "T", celsius + ICE, "Q", 0, "Water"), rel=2e-3)


def test_enthalpy_of_water_rises_as_its_equation_of_state_says():
    liquid = fluid("water").liquid
    for low, high in ((5, 20), (20, 80), (40, 95)):
        ours = liquid.heat_at(high + ICE).enthalpy - liquid.heat_at(low + ICE).enthalpy
        assert ours == pytest.approx(at("H", high, "Water") - at("H", low, "Water"), rel=5e-4)
    # With pressure, at one temperature: v (1 - alpha T) times 5 MPa, with the liquid's own volume shrinking a little.
    ours = liquid.heat_at(50 + ICE, 5e6).enthalpy - liquid.heat_at(50 + ICE).enthalpy
    assert ours == pytest.approx(at("H", 50, "Water", 5e6) - at("H", 50, "Water"), rel=0.01)


@pytest.mark.parametrize("pressure", [ATMOSPHERE, 143e3, 200e3])
def test_water_boils_where_its_equation_of_state_says(pressure):
    assert fluid("water").liquid.boiling_temperature(pressure) == pytest.approx(props.PropsSI("T", "P", pressure, "Q", 0, "Water"), abs=0.05)


AIR = {"density": "D", "viscosity": "V", "conductivity": "L", "specific_heat": "C", "expansion": "isobaric_expansion_coefficient"}


# Under 1 MPa the terms that are not linear in density begin to count: most where air is coldest.
@pytest.mark.parametrize("pascal, cold, warm", [(5e4, 3e-4, 3e-4), (ATMOSPHERE, 3e-4, 3e-4), (2e5, 3e-4, 3e-4), (3e5, 5e-4, 3e-4),
                                                (5e5, 1e-3, 4e-4), (1e6, 4e-3, 1.2e-3)])
@pytest.mark.parametrize("celsius", [-73.15, -60, -40, -15, 0, 5, 20, 37, 80, 110, 160, 200, 300, 500, 726])
def test_air(celsius, pascal, cold, warm):
    """Lemmon and others 2000, Lemmon and Jacobsen 2004, in full. Bounds as stated in fluids/air.hpp."""
    state = air(f"{celsius} C", f"{pascal} Paa")
    for word, letter in AIR.items():
        bound = (warm if celsius >= 0 else cold) * (6 if word == "expansion" else 1)  # a slope of density
        assert getattr(state, word).si == pytest.approx(at(letter, celsius, "Air", pascal), rel=bound), word
    assert state.kinematic_viscosity.si == pytest.approx(state.viscosity.si / state.density.si)


def test_thin_air_is_an_ideal_gas_with_the_constant_of_its_equation_of_state():
    theirs = props.PropsSI("gas_constant", "Air") / props.PropsSI("molar_mass", "Air")
    assert 1.0 / (air("20 C", "1 Paa").density.si * (20 + ICE)) == pytest.approx(theirs, rel=1e-4)


# ---- refrigerants ----------------------------------------------------------------------------------------------

NAMES = {"R-134a": "R134a", "R-1234yf": "R1234yf"}
# Near the critical point (94.7 C for R-1234yf, 101.1 for R-134a) liquid and vapour run together and heat falls steeply.
HEAT_BOUND = {"R-134a": ((60, 0.005), (90, 0.015)), "R-1234yf": ((60, 0.006), (90, 0.05))}


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("celsius", [-39, -25, -12.5, 2.5, 15, 27, 35, 55, 67, 75, 85])
def test_refrigerants_between_their_rows(name, celsius):
    state = refrigerant(name).at(f"{celsius} C")

    def theirs(letter, quality):
        return props.PropsSI(letter, "T", celsius + ICE, "Q", quality, NAMES[name])

    assert state.pressure.si == pytest.approx(theirs("P", 1), rel=1e-3)
    assert state.liquid_density.si == pytest.approx(theirs("D", 0), rel=2e-3 if celsius < 80 else 6e-3)
    assert state.vapour_density.si == pytest.approx(theirs("D", 1), rel=2e-3 if celsius < 80 else 1.1e-2)
    bound = next(b for most, b in HEAT_BOUND[name] if celsius <= most)
    assert state.latent_heat.si == pytest.approx(theirs("H", 1) - theirs("H", 0), rel=bound)


# ---- glycols ---------------------------------------------------------------------------------------------------

MELINDER = {"ethylene glycol": "MEG", "propylene glycol": "MPG"}


def by_mass(glycol, percent):
    """Mass share of a volume share, from the freezing table, joined straight."""
    table = [(float(r["vol_percent"]), float(r["mass_percent"])) for r in rows("glycol_freezing.csv") if r["glycol"] == glycol]
    below = max(p for p in table if p[0] <= percent)
    above = min(p for p in table if p[0] >= percent)
    way = 0 if above == below else (percent - below[0]) / (above[0] - below[0])
    return (below[1] + way * (above[1] - below[1])) / 100


@pytest.mark.parametrize("glycol", MELINDER)
@pytest.mark.parametrize("percent", [10, 15, 25, 30, 38, 45, 50, 57])
@pytest.mark.parametrize("celsius", [-10, 0, 20, 40, 60, 80, 95])
def test_glycols_lie_within_their_bands_of_an_independent_correlation(glycol, percent, celsius):
    made = fluid(f"{glycol} {percent} %")
    name = f"INCOMP::{MELINDER[glycol]}[{by_mass(glycol, percent):.4f}]"
    if celsius + ICE < made.liquid.outer_limit[0]:
        with pytest.raises(ValueError, match="ice begins to form"):
            made.at(f"{celsius} C")
        return
    try:
        theirs = {letter: at(letter, celsius, name, 1e6) for letter in "DVCL"}
    except ValueError:  # the correlation ends at its own freezing point
        assert celsius + ICE < made.liquid.outer_limit[0] + 3
        return
    state, heat = made.liquid.at(celsius + ICE), made.liquid.heat_at(celsius + ICE)
    for letter, word, ours in (("D", "density", state.density), ("V", "viscosity", state.viscosity),
                               ("C", "specific heat", heat.specific_heat), ("L", "conductivity", heat.conductivity)):
        assert ours == pytest.approx(theirs[letter], rel=made.band(word, f"{celsius} C")), word


@pytest.mark.parametrize("glycol", MELINDER)
@pytest.mark.parametrize("percent", [10, 20, 30, 40, 50, 57])
def test_glycols_freeze_where_an_independent_correlation_says(glycol, percent):
    theirs = props.PropsSI("T_freeze", "T", 300, "P", 1e6, f"INCOMP::{MELINDER[glycol]}[{by_mass(glycol, percent):.4f}]")
    assert fluid(f"{glycol} {percent} %").liquid.outer_limit[0] == pytest.approx(theirs, abs=3.0)


# ---- alcohols --------------------------------------------------------------------------------------------------

@pytest.mark.parametrize("name, theirs", [("ethanol", "Ethanol"), ("methanol", "Methanol")])
def test_alcohols_expand_and_warm_like_their_equations_of_state(name, theirs):
    made = fluid(name)
    for celsius in (-20, 10, 30, 50):
        heat = made.liquid.heat_at(celsius + ICE)
        assert heat.expansion == pytest.approx(at("isobaric_expansion_coefficient", celsius, theirs), rel=0.05)
        assert heat.specific_heat == pytest.approx(at("C", celsius, theirs), rel=made.band("specific heat", f"{celsius} C"))
