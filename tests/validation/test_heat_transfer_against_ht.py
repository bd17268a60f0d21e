"""A second judge of heat transfer: the open library `ht` (PyPI). Air is judged in test_fluids_against_coolprop.py.

Each test names the correlation compared. Where both implement the same equation they must agree to round-off or to the digits that
published constants leave open; where equations differ, the bound says by how much and why.
"""

import doctest
import math
from pathlib import Path

import ht
import numpy as np
import pytest

from flarenut._core import InputError, fluids
from flarenut._core import heat_transfer as ours

LAW = ours.Arrangement
NTUS = np.geomspace(0.01, 20, 15).tolist()
RATIOS = [0.0, 0.1, 0.5, 0.9, 1.0]
NAMES = {LAW.counterflow: "counterflow", LAW.parallel_flow: "parallel", LAW.cross_flow_unmixed: "crossflow",
         LAW.cross_flow_first_mixed: "crossflow, mixed Cmin", LAW.cross_flow_second_mixed: "crossflow, mixed Cmax",
         LAW.shell_and_tube: "S&T"}


# Exchangers.

@pytest.mark.parametrize("arrangement", NAMES, ids=lambda a: a.name)
def test_effectiveness(arrangement):
    """ht.effectiveness_from_NTU; for neither stream mixed it integrates Mason's form, the engine sums the series."""
    for ntu in NTUS:
        for ratio in RATIOS if arrangement != LAW.cross_flow_unmixed else RATIOS[1:]:
            if ratio == 0.0 and "mixed" in NAMES[arrangement]:
                continue  # their form divides by it
            theirs = ht.effectiveness_from_NTU(ntu, ratio, NAMES[arrangement])
            assert ours.effectiveness(arrangement, ntu, ratio) == pytest.approx(theirs, rel=1e-7), (ntu, ratio)


def test_usual_approximation_for_cross_flow():
    """ht.effectiveness_from_NTU, 'crossflow approximate'; and how far it lies from the series."""
    for ntu in NTUS:
        for ratio in RATIOS[1:]:
            theirs = ht.effectiveness_from_NTU(ntu, ratio, "crossflow approximate")
            assert ours.cross_flow_unmixed_approximation(ntu, ratio) == pytest.approx(theirs, rel=1e-12)
            assert theirs == pytest.approx(ours.effectiveness(LAW.cross_flow_unmixed, ntu, ratio), rel=0.04)


def test_both_streams_mixed():
    """ht.temperature_effectiveness_basic, subtype 'crossflow, mixed 1&2'."""
    for ntu in NTUS:
        for ratio in RATIOS[1:]:
            theirs = ht.temperature_effectiveness_basic(R1=ratio, NTU1=ntu, subtype="crossflow, mixed 1&2")
            assert ours.effectiveness(LAW.cross_flow_mixed, ntu, ratio) == pytest.approx(theirs, rel=1e-9)


def test_shells_in_series():
    """ht.effectiveness_from_NTU, 'S&T' with n_shell_tube, NTU of the whole."""
    for shells in (2, 3):
        for ntu in NTUS:
            for ratio in (0.1, 0.5, 0.9):
                one = ours.effectiveness(LAW.shell_and_tube, ntu / shells, ratio)
                theirs = ht.effectiveness_from_NTU(ntu, ratio, "S&T", n_shell_tube=shells)
                assert ours.effectiveness_in_series(shells, one, ratio) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize("arrangement", NAMES, ids=lambda a: a.name)
def test_ntu_from_effectiveness(arrangement):
    """ht.NTU_from_effectiveness."""
    for ratio in (0.2, 0.7):
        for effectiveness in (0.05, 0.3, 0.5):
            theirs = ht.NTU_from_effectiveness(effectiveness, ratio, NAMES[arrangement])
            assert ours.ntu_from_effectiveness(arrangement, effectiveness, ratio) == pytest.approx(theirs, rel=1e-6)


@pytest.mark.parametrize("first, second", [(180.0, 400.0), (400.0, 180.0), (250.0, 250.0)])
def test_exchange(first, second):
    """ht.effectiveness_NTU_method: heat and outlet temperatures from UA and both inlets."""
    hot, cold, conductance = 383.15, 353.15, 120.0
    theirs = ht.effectiveness_NTU_method(mh=first, mc=second, Cph=1.0, Cpc=1.0, subtype="counterflow", Thi=hot, Tci=cold, UA=conductance)
    mine = ours.exchange(LAW.counterflow, conductance, first, second)
    assert ours.heat_moved(LAW.counterflow, conductance, first, second, hot, cold) == pytest.approx(theirs["Q"], rel=1e-9)
    assert mine.heat_per_inlet_difference * (hot - cold) == pytest.approx(theirs["Q"], rel=1e-9)
    assert hot - mine.first_share * (hot - cold) == pytest.approx(theirs["Tho"], rel=1e-9)
    assert cold + mine.second_share * (hot - cold) == pytest.approx(theirs["Tco"], rel=1e-9)
    assert ours.conductance_from_heat(LAW.counterflow, mine.heat_per_inlet_difference, first, second) == pytest.approx(conductance)


# Inside tubes.

def test_laminar():
    """ht.conv_internal: laminar_T_const, laminar_Q_const, laminar_entry_thermal_Hausen, laminar_entry_Seider_Tate."""
    assert ours.laminar_nusselt_constant_wall == pytest.approx(ht.conv_internal.laminar_T_const(), rel=1e-3)  # theirs 3.66
    assert ours.laminar_nusselt_constant_flux == pytest.approx(ht.conv_internal.laminar_Q_const(), rel=1e-3)
    for reynolds in (1.0, 100.0, 2000.0):
        for prandtl in (0.7, 50.0, 1000.0):
            for ratio in (0.001, 0.02, 0.2):
                graetz = reynolds * prandtl * ratio
                theirs = ht.conv_internal.laminar_entry_thermal_Hausen(Re=reynolds, Pr=prandtl, L=1.0, Di=ratio)
                assert ours.hausen_nusselt(graetz, 3.66) == pytest.approx(theirs, rel=1e-12)
                assert ours.tube_nusselt(reynolds, prandtl, ratio) == pytest.approx(theirs, rel=1e-3)
                theirs = ht.conv_internal.laminar_entry_Seider_Tate(Re=reynolds, Pr=prandtl, L=1.0, Di=ratio, mu=2.0, mu_w=3.0)
                assert ours.sieder_tate_laminar_nusselt(graetz, 2 / 3) == pytest.approx(theirs, rel=1e-12)


def test_hausen_against_combined_entry():
    """ht.conv_internal.laminar_entry_Baehr_Stephan: thermal and velocity entry together. Oils within 9 %; coolant near an inlet does up to 10 %
    better than the engine says, air up to a third."""
    worst = {}
    for prandtl in (0.7, 10.0, 1000.0):
        shares = [ours.hausen_nusselt(g) / ht.conv_internal.laminar_entry_Baehr_Stephan(Re=1000.0, Pr=prandtl, L=1.0, Di=g / 1000 / prandtl)
                  for g in np.geomspace(1.0, 1000.0, 25)]
        worst[prandtl] = min(shares) - 1, max(shares) - 1
    assert worst[1000.0] == pytest.approx((-0.01, 0.09), abs=0.01)
    assert worst[10.0] == pytest.approx((-0.10, 0.015), abs=0.01)
    assert worst[0.7] == pytest.approx((-0.31, -0.015), abs=0.01)


def test_rectangles():
    """ht.conv_internal.Nu_laminar_rectangular_Shan_London (constant flux); the wall-temperature form lies below it everywhere."""
    for aspect in np.linspace(0, 1, 11):
        theirs = ht.conv_internal.Nu_laminar_rectangular_Shan_London(aspect)
        assert ours.rectangle_nusselt_constant_flux(aspect) == pytest.approx(theirs, rel=1e-12)
        assert ours.rectangle_nusselt_constant_wall(aspect) < theirs


def test_turbulent():
    """ht.conv_internal: turbulent_Gnielinski, turbulent_Dittus_Boelter, turbulent_Sieder_Tate, turbulent_Petukhov_Kirillov_Popov."""
    for reynolds in (4e3, 1e4, 1e5, 1e6):
        for prandtl in (0.7, 5.0, 100.0):
            friction = ours.petukhov_friction_factor(reynolds)
            theirs = ht.conv_internal.turbulent_Gnielinski(Re=reynolds, Pr=prandtl, fd=friction)
            assert ours.gnielinski_nusselt(reynolds, prandtl, friction) == pytest.approx(theirs, rel=1e-12)
            assert ours.tube_nusselt(reynolds, prandtl) == pytest.approx(theirs, rel=1e-12)
            # Theirs writes the same entrance factor for another form; ours is 1 + (D/L)^(2/3).
            assert ours.tube_nusselt(reynolds, prandtl, 0.02) == pytest.approx(theirs * (1 + 0.02 ** (2 / 3)), rel=1e-12)
            for heated in (True, False):
                theirs = ht.conv_internal.turbulent_Dittus_Boelter(Re=reynolds, Pr=prandtl, heating=heated, revised=True)
                assert ours.dittus_boelter_nusselt(reynolds, prandtl, heated) == pytest.approx(theirs, rel=1e-12)
            theirs = ht.conv_internal.turbulent_Sieder_Tate(Re=reynolds, Pr=prandtl, mu=2.0, mu_w=3.0)
            assert ours.sieder_tate_turbulent_nusselt(reynolds, prandtl, 2 / 3) == pytest.approx(theirs, rel=1e-12)
            if reynolds >= 1e4:
                # Petukhov, Kirillov and Popov have 1.07 + 900/Re - 0.63/(1 + 10 Pr) where the short form has 1.07.
                theirs = ht.conv_internal.turbulent_Petukhov_Kirillov_Popov(Re=reynolds, Pr=prandtl, fd=friction)
                assert ours.petukhov_nusselt(reynolds, prandtl, friction) == pytest.approx(theirs, rel=0.09)


def test_smooth_friction():
    """fluids.friction.Colebrook, smooth: Petukhov's fit within 4 % at Re 4000, 2 % from 1e4 up."""
    from fluids import friction

    for reynolds in np.geomspace(4e3, 5e6, 10):
        assert ours.petukhov_friction_factor(reynolds) == pytest.approx(friction.Colebrook(reynolds, 0.0), rel=0.02 if reynolds > 1e4 else 0.04)


# Outside.

def test_wind_across_a_line():
    """ht.conv_external.Nu_cylinder_Churchill_Bernstein. The engine eases the corner at rest: 0.2 % at Re 0.3, nothing above 10."""
    for prandtl in (0.7, 5.0):
        for reynolds in np.geomspace(0.3, 4e6, 15):
            theirs = ht.conv_external.Nu_cylinder_Churchill_Bernstein(Re=reynolds, Pr=prandtl)
            assert ours.cylinder_cross_flow_nusselt(reynolds, prandtl) == pytest.approx(theirs, rel=1e-5 if reynolds > 10 else 2e-3)


def test_how_far_published_laws_of_wind_across_a_line_differ():
    """ht.conv_external: Zukauskas 1972, Whitaker 1972, Sanitjai and Goldstein 2004, in air, Re 100 to 1e5 (docs/theory)."""
    spread = []
    for reynolds in np.geomspace(100, 1e5, 15):
        mine = ours.cylinder_cross_flow_nusselt(reynolds, 0.7)
        for law in (ht.conv_external.Nu_cylinder_Zukauskas, ht.conv_external.Nu_cylinder_Whitaker,
                    ht.conv_external.Nu_cylinder_Sanitjai_Goldstein):
            spread.append(law(Re=reynolds, Pr=0.7) / mine - 1)
    assert (min(spread), max(spread)) == pytest.approx((-0.13, 0.24), abs=0.01)


def test_still_air():
    """ht.conv_free_immersed: Nu_horizontal_cylinder_Churchill_Chu and Nu_vertical_plate_Churchill."""
    for prandtl in (0.7, 5.0):
        for rayleigh in np.geomspace(0.1, 1e12, 14):
            tolerance = 1e-4 if rayleigh > 0.5 else 1e-3
            theirs = ht.conv_free_immersed.Nu_horizontal_cylinder_Churchill_Chu(Pr=prandtl, Gr=rayleigh / prandtl)
            assert ours.cylinder_natural_nusselt(rayleigh, prandtl) == pytest.approx(theirs, rel=tolerance)
            theirs = ht.conv_free_immersed.Nu_vertical_plate_Churchill(Pr=prandtl, Gr=rayleigh / prandtl)
            assert ours.wall_natural_nusselt(rayleigh, prandtl) == pytest.approx(theirs, rel=tolerance)


def test_how_far_published_laws_of_still_air_differ():
    """ht.conv_free_immersed: Morgan 1975 and Kuehn and Goldstein 1976, in air, Ra 1e3 to 1e7 (docs/theory)."""
    spread = []
    for rayleigh in np.geomspace(1e3, 1e7, 12):
        mine = ours.cylinder_natural_nusselt(rayleigh, 0.7)
        for law in (ht.conv_free_immersed.Nu_horizontal_cylinder_Morgan, ht.conv_free_immersed.Nu_horizontal_cylinder_Kuehn_Goldstein):
            spread.append(law(Pr=0.7, Gr=rayleigh / 0.7) / mine - 1)
    assert (min(spread), max(spread)) == pytest.approx((-0.15, 0.20), abs=0.01)


def test_wind_along_a_wall():
    """ht.conv_external: Nu_horizontal_plate_laminar_Baehr and Nu_horizontal_plate_turbulent_Schlichting, the two parts."""
    for prandtl in (0.7, 5.0):
        for reynolds in (10.0, 1e3, 1e5, 1e6, 1e7):
            laminar = ht.conv_external.Nu_horizontal_plate_laminar_Baehr(Re=reynolds, Pr=prandtl)
            turbulent = ht.conv_external.Nu_horizontal_plate_turbulent_Schlichting(Re=reynolds, Pr=prandtl)
            # Slow wind in gases: their turbulent part turns singular, ours is held.
            tolerance = 1e-3 if reynolds > 1e4 else 0.10
            assert ours.wall_forced_nusselt(reynolds, prandtl) == pytest.approx(math.hypot(laminar, turbulent), rel=tolerance)


def test_radiation():
    """ht.radiation.q_rad."""
    for surface, surroundings in ((400.0, 300.0), (260.0, 300.0)):
        mine = ours.radiation_coefficient(0.8, surface, surroundings) * (surface - surroundings)
        assert mine == pytest.approx(ht.radiation.q_rad(0.8, surface, surroundings), rel=3e-6)  # their constant is of 2014


def test_layers():
    """ht.conduction: R_cylinder and cylindrical_heat_transfer."""
    for inner, outer in ((0.008, 0.012), (0.05, 0.0501)):
        theirs = ht.conduction.R_cylinder(inner, outer, 0.3, 1.0)
        assert ours.layer_resistance(inner, outer, 0.3) == pytest.approx(theirs, rel=1e-10)
    for layers in ([], [(0.012, 0.2)], [(0.012, 0.2), (0.018, 0.06)]):
        diameters = [0.008, *(outer for outer, _ in layers)]
        thicknesses = [(outer - inner) / 2 for inner, outer in zip(diameters, diameters[1:])]
        theirs = ht.conduction.cylindrical_heat_transfer(Ti=380.0, To=300.0, hi=500.0, ho=12.0, Di=0.008, ts=thicknesses,
                                                         ks=[conductivity for _, conductivity in layers])
        assert ours.line_conductance_per_length(500.0, 0.008, layers, 12.0) == pytest.approx(theirs["UA"], rel=1e-10)


# What comes in from Python.

def public(module):
    return {name: value for name, value in vars(module).items() if callable(value) and not isinstance(value, type)}


@pytest.mark.parametrize("function", [*public(ours).values(), fluids.air_at], ids=lambda f: f.__name__)
def test_examples_in_docstrings(function):
    found = doctest.DocTestParser().get_doctest(function.__doc__, {}, function.__name__, None, 0)
    assert doctest.DocTestRunner().run(found).failed == 0


@pytest.mark.parametrize("call, place, field", [
    (lambda: ours.effectiveness(LAW.counterflow, -1.0, 0.5), "effectiveness", "ntu"),
    (lambda: ours.effectiveness(LAW.counterflow, 1.0, 1.5), "effectiveness", "capacity_ratio"),
    (lambda: ours.exchange(LAW.counterflow, 10.0, -1.0, 5.0), "exchanger", "first_capacity_rate"),
    (lambda: ours.exchange(LAW.counterflow, math.nan, 1.0, 5.0), "exchanger", "conductance"),
    (lambda: ours.conductance_from_heat(LAW.parallel_flow, 60.0, 100.0, 100.0), "exchanger", "effectiveness"),
    (lambda: ours.tube_nusselt(-1.0, 5.0), "tube_nusselt", "reynolds"),
    (lambda: ours.tube_nusselt(100.0, 0.0), "tube_nusselt", "prandtl"),
    (lambda: ours.cylinder_cross_flow_nusselt(math.inf, 0.7), "cylinder_cross_flow_nusselt", "reynolds"),
    (lambda: ours.rectangle_nusselt_constant_wall(2.0), "rectangle_nusselt_constant_wall", "aspect"),
    (lambda: ours.flat_tube_hydraulic_diameter(0.001, 0.002), "flat_tube_hydraulic_diameter", "width"),
    (lambda: ours.line_conductance_per_length(500.0, 0.008, [(0.006, 0.2)], 10.0), "line", "layer outside diameter"),
    (lambda: ours.radiation_coefficient(1.5, 400.0, 300.0), "radiation_coefficient", "emissivity"),
    (lambda: fluids.air_at(40.0), "air", "temperature"),
    (lambda: fluids.air_at(300.0, -5.0), "air", "pressure"),
])
def test_wrong_numbers_are_named(call, place, field):
    with pytest.raises(InputError) as caught:
        call()
    assert (caught.value.place, caught.value.field) == (place, field)


def test_every_bound_correlation_is_judged_here_or_elsewhere():
    elsewhere = {
        "core_of_rating": "tests/cpp/heat/test_core_rating.cpp", "exchanger_of_rating": "tests/cpp/heat/test_liquid_exchanger.cpp",
        "swapped": "tests/cpp/correlations/test_exchange.cpp", "turned_round": "tests/cpp/correlations/test_exchange.cpp",
        "rectangle_hydraulic_diameter": "tests/cpp/correlations/test_internal_convection.cpp",
        "rayleigh_number": "tests/cpp/correlations/test_external_convection.cpp",
        "mixed_nusselt": "tests/cpp/correlations/test_external_convection.cpp",
        "critical_diameter": "tests/cpp/correlations/test_heat_path.cpp",
        "film_resistance": "test_heat_transfer_examples.py, HX14", "fouling_resistance": "test_heat_transfer_examples.py, HX14",
        "remaining_difference": "test_heat_transfer_examples.py, CV05",
        "line_heat_per_inlet_difference": "test_heat_transfer_examples.py, CV05",
    }
    text = Path(__file__).read_text(encoding="utf-8").split("def test_every_bound_correlation")[0]
    judged_here = {name for name in public(ours) if f"ours.{name}(" in text}
    assert judged_here | set(elsewhere) == set(public(ours))
    assert not judged_here & set(elsewhere)
