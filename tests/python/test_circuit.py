"""Circuits written in Python: against the same in a file, against themselves written anew, against hand sums; and what is refused."""

import re
from importlib.resources import files
from math import pi, sqrt
from pathlib import Path

import pytest

import flarenut as fn
from flarenut.circuit.file import read


def demonstration():
    """The demonstration's file by hand in Python, call by call."""
    def chart(volts, points):
        return {"volts": volts, "flow": "L/h", "pressure": "psi", "points": points}

    car = fn.Circuit("the same by hand", fluid="E85", invented=True)
    car.tank("cell", level="9 in", vent="0 psi", position=["0 ft", "0 ft", "0 ft"])
    car.junction("rail", position=["8 ft", "0 ft", "20 in"], bore="11 mm")
    car.run("feed", "cell", "rail", [
        fn.strainer("0.3 psi at 100 gph", name="pump sock"),
        fn.electric_pump([chart(11.0, [[0, 98], [90, 80], [165, 60], [232, 40], [290, 20], [340, 0]]),
                          chart(12.0, [[0, 117], [120, 100], [215, 80], [290, 60], [348, 40], [398, 20], [440, 0]]),
                          chart(13.5, [[0, 142], [130, 120], [235, 100], [318, 80], [382, 60], [435, 40], [480, 20], [520, 0]])],
                         check_valve=True, name="pump"),
        fn.hose("-8", "11 ft", spec="ptfe", bends=[90, 90, 45], name="feed hose"),
        fn.filter("1.2 psi at 100 gph", loading=1.5, name="fuel filter"),
        fn.elbow("-8", angle=90, form="swept"),
        fn.hose("-8", "3 ft", spec="ptfe", bends=[90], name="engine bay hose")])
    car.run("return", "rail", "cell", [
        fn.bypass_regulator("43.5 psi", reference="manifold", wide_open="30 psi at 400 L/h", name="regulator"),
        fn.elbow("-6", angle=90, form="forged"),
        fn.hose("-6", "12 ft", spec="ptfe", bends=[90, 90], name="return hose"),
        fn.opening("-6", name="return port")])
    car.injectors("injector bank", "rail", to="manifold", count=6, flow="1000 cc/min at 3 bar")
    car.case("idle", volts=13.5, duty="3 %", manifold="18 inHg vacuum", fluid_temperature="30 C")
    car.case("full power", volts=13.5, duty="85 %", manifold="10 psi boost", fluid_temperature="35 C")
    car.case("hot restart", volts=11.5, duty="3 %", manifold="0 psi", fluid_temperature="55 C", tank_level="2 in")
    return car


def pressures(answer):
    return {case: list(answer[case].solution.pressure) for case in answer}


def test_a_file_and_python_give_the_same_answers_to_the_last_bit():
    from_file = read(files("flarenut").joinpath("demo/return_style_e85.toml").read_text(), "demo").circuit
    ours, theirs = demonstration().solve(), from_file.solve()
    assert pressures(ours) == pressures(theirs)
    assert [one.text() for one in ours.findings] == [one.text() for one in theirs.findings]


# ---- changes: against the same circuit written anew ----

def water_works(size="-6", length="10 ft", points=((0, 80), (200, 60), (400, 20)), level="1 m", pressure="0 psi", demand="1 gpm", rise=None,
                bends=(), sense=None, form="forged"):
    works = fn.Circuit("works", fluid="water")
    works.tank("drum", level=level)
    works.fixed("outfall", pressure)
    works.junction("draw", demand=demand)
    works.run("feed", "drum", "draw", [
        fn.electric_pump([[f"{q} L/h", f"{p} psi"] for q, p in points], name="pump"),
        fn.hose(size, length, spec="ptfe", bends=list(bends), rise=rise, name="hose"), fn.elbow("-6", form=form, name="bend")])
    works.run("on", "draw", "outfall", [fn.reducing_regulator("10 psi", wide_open="1 psi at 2 gpm", senses=sense, name="regulator"),
                                        fn.orifice("2 mm", name="jet")])
    return works


CHANGES = {
    "size": ("hose", {"size": "-4"}, {"size": "-4"}, True), "bends where there were none": ("hose", {"bends": [90, 45]}, {"bends": (90, 45)}, True),
    "two words": ("hose", {"size": "-8", "length": "20 ft"}, {"size": "-8", "length": "20 ft"}, True),
    "level": ("drum", {"level": "2 m"}, {"level": "2 m"}, True), "pressure": ("outfall", {"pressure": "-2 psi"}, {"pressure": "-2 psi"}, True),
    "demand": ("draw", {"demand": "0.5 gpm"}, {"demand": "0.5 gpm"}, True), "form": ("bend", {"form": "swept"}, {"form": "swept"}, True),
    "curve of as many points": ("pump", {"curves": [["0 L/h", "90 psi"], ["150 L/h", "70 psi"], ["450 L/h", "5 psi"]]},
                                {"points": ((0, 90), (150, 70), (450, 5))}, True),
    "curve of more points": ("pump", {"curves": [["0 L/h", "90 psi"], ["100 L/h", "80 psi"], ["200 L/h", "60 psi"], ["450 L/h", "5 psi"]]},
                             {"points": ((0, 90), (100, 80), (200, 60), (450, 5))}, True),
    "heights": ("hose", {"rise": "4 ft"}, {"rise": "4 ft"}, False), "what is sensed": ("regulator", {"senses": "outfall"}, {"sense": "outfall"}, False),
}


@pytest.mark.parametrize("what", CHANGES)
def test_a_changed_circuit_answers_like_one_written_so(what):
    name, words, fresh, same_plan = CHANGES[what]
    works = water_works()
    plan, before = works.plan, pressures(works.solve())
    works.change(name, **words)
    after = pressures(works.solve())
    assert after == pressures(water_works(**fresh).solve())
    assert after != before
    assert (works.plan is plan) == same_plan


def test_a_change_can_be_taken_back_and_changes_add_up():
    works = water_works()
    before = pressures(works.solve())
    works.change("hose", bends=[90])
    works.change("hose", size="-8")
    assert pressures(works.solve()) == pressures(water_works(bends=[90], size="-8").solve())
    works.change("hose", bends=[], size="-6")
    assert pressures(works.solve()) == before


def test_a_length_that_moves_the_places_inside_a_run_moves_them():
    def riser(first):
        pipes = fn.Circuit("riser", fluid="water")
        pipes.tank("low")
        pipes.junction("top", height="2 m")
        pipes.run("riser", "low", "top", [fn.hose(bore="8 mm", length=first, name="first"), fn.hose(bore="8 mm", length="1 m")])
        return pipes

    changed = riser("1 m")
    changed.solve()
    changed.change("first", length="3 m")
    assert pressures(changed.solve()) == pressures(riser("3 m").solve())


REFUSED_CHANGES = [
    ("hose", {"length": "-3 ft"}), ("hose", {"size": "-8", "length": "0 ft"}), ("hose", {"lenght": "3 ft"}), ("hose", {"length": 3}), ("hose", {}),
    ("hsoe", {"size": "-4"}), ("drum", {"size": "-4"}), ("drum", {"level": "2 m", "vent": "3"}), ("drum", {"vent": "-40 psi", "level": "-1 m"}),
    ("outfall", {"pressure": "10 psia"}), ("hose", {"rise": "2 miles"}), ("regulator", {"senses": "nowhere"}), ("hose", {"roughness": "4 mm"}),
    ("pump", {"curves": [["0 L/h", "20 psi"], ["100 L/h", "80 psi"]]}), ("hose", {"bends": [90], "bend_radius": "1 mm"})]


@pytest.mark.parametrize("name, words", REFUSED_CHANGES)
def test_a_refused_change_changes_nothing(name, words):
    works = water_works()
    plan, before = works.plan, pressures(works.solve())
    with pytest.raises(fn.CircuitError) as refusal:
        works.change(name, **words)
    assert refusal.value.place and refusal.value.reason
    assert works.plan is plan and pressures(works.solve()) == before
    works._compiled = None  # and neither has what a new plan would be compiled from
    assert pressures(works.solve()) == before


# ---- hand sums ----

def test_a_tee_with_an_orifice_on_each_leg_divides_as_the_orifices_do():
    """Legs that are almost all orifice share the flow as C A does; areas 1 : 4 make flows 1 : 4. A wide tee costs next to nothing."""
    works = fn.Circuit("jets", fluid="water")
    works.fixed("supply", "3 bar")
    works.run("trunk", "supply", "fork", [fn.hose(bore="30 mm", length="0.1 m")])
    works.tee("split", "left", "right", "fork", bore="30 mm")
    for side, bore in (("left", "1 mm"), ("right", "2 mm")):
        works.run(side, side, "ambient", [fn.orifice(bore, discharge_coefficient=0.62, name=f"{side} jet")])
    answer = works.solve()["as written"]
    left, right = answer.part("left jet").mass_flow.si, answer.part("right jet").mass_flow.si
    assert right / left == pytest.approx(4.0, rel=1e-3)
    assert left + right == pytest.approx(answer.part("trunk hose").mass_flow.si, rel=1e-10)
    density = answer.liquid_in("left jet")["density"]
    assert left == pytest.approx(0.62 * pi / 4 * 1e-6 * sqrt(2 * density * 3e5), rel=0.01)  # C A sqrt(2 rho dp)


def test_a_regulator_may_sense_the_rail_instead_of_its_own_inlet():
    """It holds what it senses: with a lossy hose between, the rail stands at its setting and its own inlet below that."""
    def car(senses):
        system = fn.Circuit("sense", fluid="gasoline class A")
        system.tank("cell", level="8 in")
        system.run("feed", "cell", "rail", [fn.formula_pump("95 psi", "420 L/h", name="pump"), fn.hose("-6", "10 ft", spec="ptfe")])
        system.run("link", "rail", "log", [fn.hose("-6", "6 ft", spec="ptfe", name="link hose")])
        system.run("return", "log", "cell", [fn.bypass_regulator("43.5 psi", reference="ambient", senses=senses, band="0.2 psi",
                                                                 wide_open="5 psi at 400 L/h", name="regulator")])
        return system.solve()["as written"]

    near, far = car(None), car("rail")
    assert near.at("log").gauge.to("psi") == pytest.approx(43.5, abs=0.2)
    assert near.at("rail").gauge.to("psi") > 44.0
    assert far.at("rail").gauge.to("psi") == pytest.approx(43.5, abs=0.2)
    assert far.at("log").gauge.si == pytest.approx(far.at("rail").gauge.si - far.part("link hose").drop.si, rel=1e-6)


def test_a_demand_by_volume_is_drawn_at_15_degrees_and_a_demand_by_mass_as_it_is():
    works = fn.Circuit("draw", fluid="gasoline class A", fluid_temperature="50 C")
    works.fixed("supply", "3 bar")
    works.junction("a", demand="100 L/h")
    works.junction("b", demand="50 lb/h")
    works.run("one", "supply", "a", [fn.hose(bore="8 mm", length="1 m", name="one hose")])
    works.run("two", "a", "b", [fn.hose(bore="8 mm", length="1 m", name="two hose")])
    answer = works.solve()["as written"]
    by_volume = answer.part("one hose").mass_flow.si - answer.part("two hose").mass_flow.si
    assert by_volume == pytest.approx(0.1 / 3600 * fn.fluid("gasoline class A").at("15 C").density.si, rel=1e-9)
    assert answer.part("two hose").mass_flow.to("lb/h") == pytest.approx(50.0, rel=1e-9)


# ---- what is refused ----

def started():
    car = fn.Circuit("car", fluid="water")
    car.tank("cell")
    car.junction("rail")
    car.run("feed", "cell", "rail", [fn.hose(bore="8 mm", length="1 m", name="hose")])
    return car


HOSE = {"bore": "8 mm", "length": "1 m"}
REFUSED_CALLS = {
    "a run twice": (lambda car: car.run("feed", "cell", "x", [fn.hose(**HOSE)]), "run 'feed'.*used twice"),
    "a junction twice": (lambda car: car.junction("rail"), "junction 'rail'.*used twice"),
    "a tank named like a junction": (lambda car: car.tank("rail"), "tank 'rail'.*used twice"),
    "injectors named like a junction": (lambda car: car.injectors("rail", "rail", count=1, flow="1 L/min"), "'rail'.*used twice"),
    "a junction named like a tee": (lambda car: (car.tee("t", "a", "b", "c", bore="9 mm"), car.junction("t")), "junction 't'.*used twice"),
    "a case twice": (lambda car: (car.case("idle"), car.case("idle")), "case 'idle'.*used twice"),
    "from a place to itself": (lambda car: car.run("loop", "rail", "rail", [fn.hose(**HOSE)]), "run 'loop'.*begins and ends at 'rail'"),
    "an empty run": (lambda car: car.run("gap", "rail", "cell", []), "run 'gap'.*no parts.*at least one"),
    "a text for a part": (lambda car: car.run("odd", "rail", "cell", [fn.hose(**HOSE), "hose"]), "run 'odd', part 2.*'hose' is not a part.*builder"),
    "a builder that was not called": (lambda car: car.run("odd", "rail", "cell", [fn.hose]), "part 1.*is not a part"),
    "no name for an end": (lambda car: car.run("odd", "rail", "", [fn.hose(**HOSE)]), "run 'odd'.*'to' is ''"),
    "a number for an end": (lambda car: car.run("odd", 5, "rail", [fn.hose(**HOSE)]), "run 'odd'.*'from' is 5"),
    "a taken name": (lambda car: car.junction("liquid"), "taken by the surroundings"),
    "no name": (lambda car: car.run("", "rail", "cell", [fn.hose(**HOSE)]), "a name is a text"),
    "a tee without bore": (lambda car: car.tee("t", "a", "b", "c"), "tee 't'.*needs its size or its bore"),
    "a bare count": (lambda car: car.injectors("bank", "rail", count="6", flow="1 L/min"), "injectors 'bank'.*count"),
    "too much duty": (lambda car: car.injectors("bank", "rail", count=6, flow="1 L/min", duty=1.2), "injectors 'bank'.*duty.*beyond 1.*per cent"),
    "a level without unit": (lambda car: car.tank("two", level=8), "level.*unit"),
    "a demand without unit": (lambda car: car.junction("two", demand=9), "demand.*unit"),
    "an absolute pressure": (lambda car: car.fixed("two", "20 psia"), "pressure.*gauge"),
}


@pytest.mark.parametrize("what", REFUSED_CALLS)
def test_a_refused_call_says_where_and_leaves_the_circuit_as_it_was(what):
    call, told = REFUSED_CALLS[what]
    car = started()
    before = pressures(car.solve())
    with pytest.raises(ValueError, match=told):
        call(car)
    if what not in ("a junction named like a tee", "a case twice"):  # whose first half is right
        assert list(car.junctions) == ["cell", "rail"] and list(car.runs) == ["feed"] and not car.multiport
        assert pressures(car.solve()) == before


REFUSED_CIRCUITS = {
    "two parts of one name": (lambda car: car.run("back", "rail", "cell", [fn.hose(**HOSE, name="hose")]), "run 'back', part 1.*'hose' is used twice"),
    "a part named like a junction": (lambda car: car.run("back", "rail", "cell", [fn.hose(**HOSE, name="cell")]), "'cell' is used twice"),
    "an unknown junction to sense": (lambda car: car.run("back", "rail", "cell", [
        fn.bypass_regulator("40 psi", reference="manifold", senses="rial", name="regulator")]), "regulator.*no junction 'rial'.*did you mean 'rail'"),
    "an unknown reference": (lambda car: car.run("back", "rail", "cell", [fn.bypass_regulator("40 psi", reference="manifld", name="regulator")]),
                             "regulator.*no junction 'manifld' to sense"),
    "an island": (lambda car: car.run("far", "here", "there", [fn.hose(**HOSE)]), "no path to a fixed pressure"),
}


@pytest.mark.parametrize("what", REFUSED_CIRCUITS)
def test_a_circuit_that_cannot_be_solved_says_why(what):
    add, told = REFUSED_CIRCUITS[what]
    car = started()
    add(car)
    with pytest.raises(ValueError, match=told):
        car.solve()


def test_an_unknown_case_and_an_unknown_fluid_name_the_nearest():
    car = started()
    car.case("full power")
    with pytest.raises(fn.CircuitError, match="no case 'full pwer'.*did you mean 'full power'"):
        car.solve("full pwer")
    with pytest.raises(ValueError, match="gasoline class A"):
        fn.Circuit("car", fluid="gasolin class A")
    for words in ({"fluid_temperature": 60}, {"altitude": 1500}, {"fluid_temperature": "60 psi"}):
        with pytest.raises(ValueError, match="circuit: .*(unit|temperature)"):
            fn.Circuit("car", fluid="water", **words)


def test_pint_quantities_say_what_texts_say():
    pint = pytest.importorskip("pint")
    unit = pint.UnitRegistry()
    said, measured = started(), started()
    said.run("on", "rail", "ambient", [fn.hose(bore="8 mm", length="11 ft", rise="-18 in"), fn.orifice("1.2 mm")])
    measured.run("on", "rail", "ambient", [fn.hose(bore=8 * unit.mm, length=11 * unit.foot, rise=-18 * unit.inch), fn.orifice(1.2 * unit.mm)])
    said.case("c", tank_level="30 cm", fluid_temperature="40 C")
    measured.case("c", tank_level=30 * unit.cm, fluid_temperature=unit.Quantity(40, "degC"))
    assert pressures(said.solve())["c"] == pytest.approx(pressures(measured.solve())["c"], rel=1e-12)


def test_one_piece_may_be_written_once_and_used_twice():
    hose = fn.hose(**HOSE)
    car = started()
    car.run("a", "rail", "ambient", [hose, fn.orifice("2 mm"), hose])
    car.run("b", "rail", "ambient", [hose])
    parts = car.solve()["as written"].part_names
    assert [name for name in parts if " into " not in name and " out of " not in name] == ["hose", "a hose 1", "a orifice", "a hose 2", "b hose"]
    car.change("a hose 1", length="2 m")
    assert [car.solve()["as written"].number(f"{name}.length") for name in ("a hose 1", "a hose 2", "b hose")] == [2.0, 1.0, 1.0]


def test_the_guide_runs_as_it_is_printed(capsys):
    guide = (Path(__file__).resolve().parents[2] / "docs" / "guide" / "circuits.md").read_text(encoding="utf-8")
    here = {}
    for block in re.findall(r"```python\n(.*?)```", guide, re.DOTALL):
        exec(compile(block, "circuits.md", "exec"), here)  # noqa: S102 - our own text
    assert here["car"].solve().converged
    shown = [float(psi) for psi in re.findall(r"-\d ([0-9.]+) psi", capsys.readouterr().out)]
    assert len(shown) == 3 and shown == sorted(shown, reverse=True)  # a wider return, less pressure at idle
    with pytest.raises(ValueError) as refusal:
        here["car"].change("return hose", length="-3 ft")
    assert str(refusal.value) in guide
