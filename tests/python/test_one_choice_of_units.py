"""Who asks for one system of units gets it everywhere, and one unit for pressures and flows in every sentence, table and ladder."""

import re
import warnings

import matplotlib
import pytest

matplotlib.use("Agg")

import flarenut as fn  # noqa: E402
from flarenut.results.finding import Finding  # noqa: E402
from flarenut.units import Quantity, in_one, settled  # noqa: E402

NUMBER = r"(?<![\w.])-?\d[\d.,]* ?"
US = r"(?:psi[gad]?|inHg|in|ft|thou|gal/h|gal/min|gph|gpm|lb/h|F|ft/s|mph|hp|gal|lb|in3)"
METRIC = r"(?:bar[ga]?|mbar|[kM]?Pa[ga]?|mm|cm|m|L/h|L/min|kg/h|C|m/s|km/h|kW|mL|L|kg)"
FOREIGN = {"metric": US, "us": METRIC}
SYSTEMS = ("us", "metric")


def foreign(text, system):
    """What a text says in the units of the other system."""
    words = FOREIGN[system]
    return [match[0] for match in re.finditer(rf"{NUMBER}{words}\b|\[{words}[^\]]*\]", text)]


def mixed(text):
    """Metric units of pressure, and units of flow, that a text has more than one of."""
    found = []
    for family in (r"(?:\d |\[)(bar|kPa)[ga]?\b", r"(?:\d |\[)((?:gal|L)/(?:h|min))\b"):
        units = set(re.findall(family, text))
        found += sorted(units) if len(units) > 1 else []
    return found


def fuel(system, written):
    """Invented. Written in one system, to be shown in another."""
    us = written == "us"
    car = fn.Circuit("two tongues (invented)", fluid="E10", invented=True, units=system)
    car.tank("tank", level="6 in" if us else "150 mm", height="-4 in" if us else "-100 mm")
    car.junction("rail", height="24 in" if us else "600 mm")
    car.run("feed", "tank", "rail", [
        fn.strainer("0.4 psi at 100 gph" if us else "0.03 bar at 400 L/h", name="sock"),
        fn.formula_pump("110 psi" if us else "7.6 bar", "140 gph" if us else "530 L/h", through="58 psi at 75 gph" if us else "4 bar at 284 L/h", name="pump"),
        fn.hose("-6", "14 ft" if us else "4.2 m", spec="ptfe", name="feed hose")])
    car.run("return", "rail", "tank", [
        fn.bypass_regulator("58 psi" if us else "4 bar", reference="manifold", wide_open="30 psi at 120 gph" if us else "2 bar at 450 L/h", name="regulator"),
        fn.hose("-4", "14 ft" if us else "4.2 m", spec="ptfe", name="return hose")])
    car.injectors("bank", "rail", count=4, flow="650 cc/min at 3 bar")
    car.case("idle", volts=13.5, duty=0.03, fluid_temperature="80 F" if us else "27 C")
    car.case("hot", volts=13.5, duty=0.03, fluid_temperature="130 F" if us else "55 C")
    return car


def oil(system):
    """Invented; its drive ends early, and its case in cold air has no answer."""
    made = fn.Circuit("short of a cooler (invented)", fluid="SAE 10W-40", invented=True, units=system)
    made.tank("sump", level="5 in", temperature="found", heat="3 kW", heat_capacity="10 kJ/K")
    made.run("round", "sump", "gallery", [fn.displacement_pump("5 cc/rev", speed="1000 rpm", name="pump"), fn.tube(bore="12 mm", length="2 m", name="pipe")])
    made.run("back", "gallery", "sump", [fn.tube(bore="12 mm", length="2 m", name="back pipe")])
    made.case("idle", air_temperature="20 C")
    return made


def texts_of(ax):
    """Every text of a picture, those of its panels too."""
    figure = ax.figure
    return "\n".join(one.get_text() for one in figure.findobj(matplotlib.text.Text) if one.get_visible() and one.get_text())


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("asked", ["of the circuit", "in the call"])
def test_one_choice_reaches_tables_findings_studies_and_pictures(system, asked):
    other = SYSTEMS[1 - SYSTEMS.index(system)]
    given = {} if asked == "of the circuit" else {"units": system}
    car = fuel(None if given else system, other)
    answer = car.solve()
    shown = {"table": answer.table(**given), "line sizes": fn.line_sizes(car, "return hose", ["-4", "-6"], **given)}
    shown["hardware"] = fn.hardware_choices(car, "return hose", [{"size": "-6"}], **given)
    shown["pressures"] = texts_of(fn.pressure_ladder(answer, **given))
    shown["sizes"] = texts_of(fn.size_picture(fn.line_sizes(car, "return hose", ["-4", "-6", "-8"], **given)))
    shown["compared"] = fn.compare({"as it is": oil(None if given else system), "other": oil(None if given else system)}, **given)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        lines = fn.pump_and_system(car, drives=["11 V", "13.5 V"])
        swept = fn.sweep(car, {"duty": [0.1, 0.5], "return hose.size": ["-4", "-6"]}, "idle", ["rail.gauge"])
    shown["pump"] = texts_of(fn.pump_picture(lines, **given))
    shown["swept"] = texts_of(fn.demand_picture(swept, **given))
    shown["sizes as data"] = texts_of(fn.size_picture(fn.line_sizes(car, "return hose", ["-4", "-6"], **given).to_dataset()))
    if not given:
        shown["findings"] = "\n".join(map(repr, answer.findings))
    for name, one in shown.items():
        text = re.sub(r"-\d+ ptfe|650 cc/min at 3 bar", "", str(one))
        assert not foreign(text, system), (name, foreign(text, system))
    assert any("boils" in repr(one) for one in answer.findings)  # a sentence with pressures and an example among them


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_drive_keeps_its_units_in_all_that_is_said_of_it(system):
    drive = fn.over_time(oil(None), [("1 min", "idle"), ("20 min", {"sump.heat": "90 kW", "air_temperature": "68 F"})], start="40 C", units=system)
    assert not drive.complete
    told = [str(drive), repr(drive.findings), repr(drive.temperature("sump")), repr(drive.series("pump.rise")), drive.why_not, *drive.events(),
            repr(drive.moment("10 s").findings), str(drive.moment("10 s").findings), texts_of(fn.time_picture(drive))]
    for text in told:
        assert not foreign(text.replace("sump heat 90 kW", ""), system), (system, foreign(text, system), text[:200])


@pytest.mark.parametrize("made_in", SYSTEMS)
def test_a_drive_of_one_system_ends_early_in_that_of_its_reader(made_in):
    """The oil is known up to 160 C, 320 F; the row's air of 68 F is 20 C."""
    drive = fn.over_time(oil(None), [("1 min", "idle"), ("20 min", {"sump.heat": "90 kW", "air_temperature": "68 F"})], start="40 C", units=made_in)
    told = drive.to_dict()
    (ends,) = [one for one in told["findings"] if one["code"] == "not solved"]
    for system, hottest, air in (("us", "320 F", "68 F"), ("metric", "160 C", "20 C")):
        for text in (ends["text"][system], drive.events(system)[-1], drive.why_not_in(system)):
            assert hottest in text and f"air temperature {air}" in text and not foreign(text.replace("sump heat 90 kW", ""), system), text
    for both in (told["why_not"], drive.to_dataset().attrs["why_not"]):
        assert "320 F (160 C)" in both and "sump heat 90 kW, air temperature 68 F" in both


def test_an_answer_that_is_not_there_says_why_in_one_system():
    made = oil("metric")
    made.change("sump", heat="200 kW", heat_loss="10 W/K")
    case = made.solve("idle")["idle"]
    assert not case.converged and "160 C" in case.cause and "320 F" not in case.cause
    assert "320 F" in case.findings[0].text("us") and "160 C" not in case.findings[0].text("us")
    assert "320 F (160 C)" in oil_without_a_choice().cause


def oil_without_a_choice():
    made = oil(None)
    made.change("sump", heat="200 kW", heat_loss="10 W/K")
    return made.solve("idle")["idle"]


@pytest.mark.parametrize("system", SYSTEMS)
def test_pressures_and_flows_have_one_unit_in_every_sentence_and_table(system):
    answer = fuel(system, "us").solve()
    table = answer.table()
    assert not mixed("\n".join(row.heading for _, rows in table.sections for row in rows))
    for severity, text in table.findings:
        assert not mixed(text), text
    assert not mixed(texts_of(fn.pressure_ladder(answer)))
    sizes = str(fn.line_sizes(fuel(system, "us"), "return hose", ["-4", "-6"]))
    assert not mixed("\n".join(line for line in sizes.splitlines() if line.rstrip().endswith("]")))


def test_numbers_of_one_sentence_are_told_in_one_unit():
    """0.2 bar beside 3 bar, not 20 kPa beside it; a vacuum keeps its dial."""
    found = Finding("x", "watch", "valve", "idle", "{value} over {opens}, more than {limit}", Quantity(2e4, "pressure_difference"),
                    Quantity(1e4, "pressure_difference"), numbers={"opens": Quantity(3e5, "pressure_gauge")})
    assert found.sentence("metric") == "0.200 bar over 3.00 barg, more than 0.100 bar"
    deep = Finding("x", "watch", "pump", "idle", "{value}, beyond {limit}", Quantity(-3e4, "pressure_gauge"), Quantity(-1e4, "pressure_gauge"))
    assert deep.sentence("us") == "8.86 inHg vacuum, beyond 2.95 inHg vacuum"


def test_a_file_says_its_units_once(tmp_path):
    text = '[circuit]\nname = "invented"\nfluid = "water"\nunits = "metric"\n[tank.drum]\nlevel = "1 m"\n[[run]]\nname = "line"\nfrom = "drum"\nto = "ambient"\n' \
           'parts = [{part = "hose", size = "-8", length = "10 ft", spec = "full-size"}]\n'
    (tmp_path / "wash.toml").write_text(text)
    wash = fn.load(tmp_path / "wash.toml")
    assert wash.units == "metric" and wash.copy().units == "metric"
    assert "barg" in str(wash.solve()) and "psi" not in str(wash.solve()) and "kPa" not in str(wash.solve())
    with pytest.raises(fn.CircuitError, match="write 'us' or 'metric'"):
        fn.Circuit("wash", fluid="water", units="imperial")


def test_what_is_no_pair_of_units_stays():
    assert in_one("320 F (160 C)", "us") == "320 F" and in_one("15 V (12 of them)", "us") == "15 V (12 of them)"
    assert in_one("320 F (160 C)", None) == "320 F (160 C)"
    assert settled(None) == "us" and settled("imperial") == "imperial"  # whoever shows refuses it


@pytest.mark.parametrize("system, letterless", [("metric", "bar"), ("us", "psi")])
def test_pressures_of_a_dataset_have_one_unit_so_that_a_margin_stands_beside_its_limit(system, letterless):
    pytest.importorskip("xarray")
    names = ["rail.gauge", "pump.suction_margin", "pump.suction_inlet", "return hose.drop", "pump.suction_vacuum", "feed hose.inlet.absolute"]
    answer = fn.sweep(fuel(system, "us"), {"volts": [12, 13]}, "idle", names, units=system)
    units = {name: answer[name].attrs["units"] for name in [*names, "pump.suction_limit", "margin_to_boiling"]}
    assert units.pop("pump.suction_vacuum") == {"metric": "bar", "us": "inHg"}[system]
    assert {unit.removesuffix("g").removesuffix("a") for unit in units.values()} == {letterless}, units
    assert units["pump.suction_inlet"] == letterless + "g" and units["pump.suction_margin"] == units["pump.suction_limit"] == letterless
    si = fn.in_units(answer, "si")["pump.suction_limit"].values
    assert answer["pump.suction_limit"].values * {"metric": 1e5, "us": 6894.757293168}[system] == pytest.approx(si, rel=1e-9)


def test_flows_of_a_dataset_have_one_unit():
    """By themselves 18 L/h and 30 L/min would be told in two."""
    xarray = pytest.importorskip("xarray")
    attrs = {"units": "m**3/s", "kind": "volume_flow"}
    flows = xarray.Dataset({"idle.flow": ("case", [5e-6], attrs), "full.flow": ("case", [5e-4], attrs)}, attrs={"unit_system": "si"})
    told = fn.in_units(flows, "metric")
    assert {told[name].attrs["units"] for name in told} == {"L/h"} and told["full.flow"].values[0] == pytest.approx(1800.0, rel=1e-9)


@pytest.mark.parametrize("system", SYSTEMS)
def test_a_reading_printed_alone_is_in_the_units_of_its_circuit(system):
    case = fuel(system, SYSTEMS[1 - SYSTEMS.index(system)]).solve()["idle"]
    part, pump = case.part("return hose"), case.part("pump")
    alone = [case.at("rail"), case.at("rail").gauge, case.at("rail").absolute, case.at("rail").gauge.absolute, case.at("rail").total, case.at("rail").velocity,
             case.at("rail").temperature, case.at("rail").against(case.at("tank")), part, part.drop, part.flow, part.mass_flow, part.inlet, part.velocity, part.heat,
             pump.suction, pump.suction.margin, pump.power, case.ambient, case.feed, case.feed.shares[0].loss, case.losses("feed"), case.run("feed").drop]
    for one in alone:
        assert str(one) and not foreign(str(one), system) and not foreign(repr(one), system), one
        if hasattr(one, "show"):
            assert one.show() == str(one) == one.show(system) and one == Quantity(one.si, one.kind)
    assert not mixed(str(case.feed)) and "ByCase" not in str(case.at("rail"))


def test_what_was_made_without_a_circuit_is_us_as_ever():
    assert str(Quantity(3e5, "pressure_gauge")) == "43.5 psig" and str(Quantity(3e5, "pressure_gauge", units="metric")) == "3.00 barg"


def test_findings_below_a_table_have_its_units():
    """Of a table that shows flows in L/min and pressures in bar, small ones too."""
    from importlib.resources import files

    car = fn.load(str(files("flarenut").joinpath("demo/oil_cooler_six.toml")))
    limits = fn.checks.Limits(suction_margin="200 kPa", oil_consumer_share="99 %")
    text = str(car.solve().with_findings(fn.checks.review(car.solve(), limits)).table("metric"))
    below = text.split("What to look at")[1]
    assert "suction margin" in below and re.search(r"of \d[\d.]* L/min the relief", below)
    assert not re.search(r"\d (kPa|L/h)\b", " ".join(below.split()))


@pytest.mark.parametrize("system, unit", [("metric", "L/h"), ("us", "gal/min")])
def test_findings_of_a_drive_have_the_units_of_its_whole_table_whatever_rows_are_shown(system, unit, tmp_path, capsys):
    """The pump moves 15 L/min, 4 gal/min, which its row has in L/h and gal/min; what the relief lets go is told in the same, though no row shows a flow."""
    from importlib.resources import files

    from flarenut.cli import main

    text = files("flarenut").joinpath("demo/oil_cooler_six.toml").read_text(encoding="utf-8").replace('units = "metric"', f'units = "{system}"')
    text = text.replace("[tank.sump]", '[tank.sump]\nheat_capacity = "16 kJ/K"')
    (tmp_path / "engine.toml").write_text(text + '\n[drive.cold]\ncases = [["20 s", "cold start"]]\noutputs = ["sump.temperature", "gallery.gauge"]\n')
    assert main(["drive", str(tmp_path / "engine.toml")]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert re.search(rf"of \d[\d.]* {unit} the relief lets all go but \d[\d.]* {unit}", told)


def test_both_pages_on_units_say_the_same():
    from pathlib import Path

    guide = Path(__file__).parents[2] / "docs/guide"
    told = [next(part for part in re.split(r"\n\n", (guide / page).read_text(encoding="utf-8")) if "handed on as data" in part) for page in ("units.md", "sweeps.md")]
    assert told[1].startswith(told[0].strip()) or told[0].strip() in told[1]


def test_values_in_both_systems_are_put_into_one_whatever_their_kind():
    from flarenut.units import KINDS, in_both

    for kind in KINDS:
        for si in (0.00123, 0.4, 3.0, 4567.0, -2e4 if kind == "pressure_gauge" else 2e4):
            told = in_both(si + 250.0 * (kind == "temperature"), kind)
            if "(" in told:
                one, other = told.removesuffix(")").split(" (")
                assert in_one(f"it is {told}, see 2 (3)", "us") == f"it is {one}, see 2 (3)" and in_one(told, "metric") == other, told


@pytest.mark.parametrize("own", ["'hose of 3 ft (0.914 m)'", "pump 12 psi (5 bar)", "row 2 (3 mm)", "'at 320 F (160 C)'"])
def test_what_a_builder_calls_his_own_is_left_as_it_is(own):
    for system in SYSTEMS:
        assert in_one(f"the builder's {own} would get hotter than 320 F (160 C)", system).startswith(f"the builder's {own} would get hotter than ")


@pytest.mark.parametrize("system", SYSTEMS)
def test_every_dataset_in_si_says_in_which_units_it_is_shown(system):
    pytest.importorskip("xarray")
    car, other = (fuel(system, system) for _ in range(2))
    made = [fn.hardware_choices(car, "return hose", [{"size": "-6"}]).to_dataset(), fn.line_sizes(car, "return hose", ["-4"]).to_dataset(),
            fn.compare({"a": car, "b": other}, at="rail").to_dataset(), fn.over_time(hot_oil(system), [("10 min", "idle")], every="5 min", start="20 C").to_dataset()]
    for data in made:
        assert data.attrs["shown_in"] == system and data.attrs.get("unit_system", "si") == "si"


def hot_oil(system):
    """As `oil`, with a loss."""
    made = oil(system)
    made.change("sump", heat_loss="20 W/K")
    return made
