"""The same circuit in other hardware: each choice against the circuit written out so by hand, and differences by subtraction."""

import csv
from math import pi

import flarenut as fn
import numpy
import pytest
from flarenut.circuit import CircuitError
from flarenut.studies.hardware_choices_view import _beside, _signed
from hardware_example import PRICES, car

INCH = 0.0254


@pytest.fixture(scope="module")
def prices(tmp_path_factory):
    file = tmp_path_factory.mktemp("prices") / "mine.csv"
    file.write_text(PRICES + "hose -6 ptfe*,7.0,ft,EUR,0.1 lb,0.0001 in\nhose end -6 *,10,each,EUR,50 g,1 in\n", encoding="utf-8")
    return fn.prices(file)


@pytest.fixture(scope="module")
def study(prices):
    return fn.hardware_choices(car(), "pump hose", {"smaller": {"size": "-6"}, "rubber": {"spec": "medium-pressure", "standard": "MIL-H-8794"}, "no such": {"size": "-7"}},
                               prices=prices)


def test_a_choice_is_the_circuit_changed_by_hand(study):
    other = car()
    other.change("pump hose", size="-6", ends=["-6 37 flare female", "-6 37 flare female, 90 deg"])
    answer = other.solve()
    for case in answer:
        assert study["smaller"].pressures["rail", case].si == pytest.approx(answer[case].at("rail").gauge.si, rel=1e-9)
        change = answer[case].at("rail").gauge.si - car().solve()[case].at("rail").gauge.si
        assert study.change("smaller", "rail", case).si == pytest.approx(change, abs=1e-3)
    assert study.change("smaller", "rail", "idle").si < 0.0  # the narrower hose loses more


def test_the_circuit_itself_comes_first_and_stays_as_it_is(study):
    assert [choice.name for choice in study.choices] == ["as written", "smaller", "rubber", "no such"]
    made = car()
    before = made.compiled().pieces["pump hose"].given
    fn.hardware_choices(made, "pump hose", [{"size": "-6"}])
    assert made.compiled().pieces["pump hose"].given == before
    assert study.change("as written", "rail", "idle").si == 0.0


def test_ends_of_the_lines_size_take_the_new_one(study):
    bill = study["smaller"].bill
    assert bill.count("hose end -6 37 flare female for ptfe, MIL-H-27267") == 1 == bill.count("hose end -6 * for ptfe, MIL-H-27267, 90 deg")
    assert bill.count("adapter *") == study.choices[0].bill.count("adapter *") + 2  # pump -8 to -6, and -6 to the filter's -8


def test_what_was_said_of_the_line_as_written_goes_with_it(study):
    assert [row.item for row in study["smaller"].bill.rows if "pump hose" in row.where and row.group == "Hose"] == ["hose -6 ptfe, MIL-H-27267"]
    assert [row.item for row in study["rubber"].bill.rows if "pump hose" in row.where and row.group == "Hose"] == ["hose -8 medium-pressure, MIL-H-8794"]
    other = fn.hardware_choices(car(), "pump hose", [{"spec": "medium-pressure"}])
    assert other["medium-pressure"].words["pump hose"]["standard"] is None and "standard of the line as written goes with it" in other.text(width=200)
    measured = car()
    measured.change("pump hose", bore="9 mm")
    found = fn.hardware_choices(measured, "pump hose", [{"size": "-10"}, {"bends": [90]}])
    assert found["-10"].bill.volumes[measured.name, "feed"].si > found.choices[0].bill.volumes[measured.name, "feed"].si
    assert found["[90]"].bill.volumes[measured.name, "feed"].si == pytest.approx(found.choices[0].bill.volumes[measured.name, "feed"].si)  # a bend is no other hose


def test_volume_weight_and_cost_by_hand():
    tables = {"a": {"size": "1/2 in"}, "b": {"material": "6061-T6"}}
    bench = fn.Circuit("bench", fluid="water")
    bench.tank("high", level="1 m")
    bench.run("line", "high", "ambient", [fn.tube("3/8 in", "40 in", wall="0.035 in", material="steel", ends=["-6 barb male"] * 2, name="tube")])
    from flarenut.hardware.prices import PriceRow, Prices

    own = Prices([PriceRow("tube 3/8*steel*", 4.0, "m"), PriceRow("tube 1/2*", 6.0, "m"), PriceRow("tube 3/8*6061*", 7.0, "m"), PriceRow("support clamp*", 1.0, weight=0.01)])
    found = fn.hardware_choices(bench, "tube", tables, prices=own, at="high")
    length = 40 * INCH

    def metal(outside, wall, density):
        return pi / 4 * ((outside * INCH) ** 2 - ((outside - 2 * wall) * INCH) ** 2) * density * length

    assert found["a"].bill.total.volume.si == pytest.approx(pi / 4 * (0.43 * INCH) ** 2 * length)
    # 1/2 in wants a clamp every 23 in, 3/8 in steel every 20 and aluminium every 16.5: one clamp, one and two
    assert found.weight_change("a").si == pytest.approx(metal(0.5, 0.035, 7850) - metal(0.375, 0.035, 7850), rel=1e-6)
    assert found.weight_change("b").si == pytest.approx(metal(0.375, 0.035, 2700) - metal(0.375, 0.035, 7850) + 0.01, rel=1e-6)
    assert found.cost_change("a") == pytest.approx((6 - 4) * length) and found.cost_change("b") == pytest.approx((7 - 4) * length + 1.0)


def test_what_nobody_knows_alike_falls_out_of_a_difference_and_what_differs_does_not(study, prices):
    assert study.choices[0].bill.total.unweighed and study.weight_change("smaller") is not None  # all that changes is weighed
    assert study.weight_change("rubber") is None and study.cost_change("rubber") is None  # that hose is in no price file
    cost = study["smaller"].bill.total.cost - study.choices[0].bill.total.cost
    assert study.cost_change("smaller") == pytest.approx(cost)
    assert "(?): not known" in study.text(width=200)


def test_a_choice_that_cannot_be_had_says_why(study):
    assert study["no such"].answer is None and "no hose -7" in study["no such"].refusal
    assert study.change("no such", "rail", "idle") is None
    assert "no such: refused: pump hose: no hose -7" in study.text(width=300)


def test_several_lines_change_alike():
    found = fn.hardware_choices(car(), ["pump hose", "engine hose"], [{"size": "-10"}])
    assert found["-10"].bill.count("hose -10 ptfe*") == 3  # and the suction hose
    assert fn.hardware_choices(car(), "pump hose", [{"size": "-10"}])["-10"].bill.count("hose -10 ptfe*") == 2


def test_fitted_choices_count_their_adapters_in_pressure_too():
    bench = fn.Circuit("bench", fluid="gasoline class A")
    bench.fixed("supply", pressure="60 psi")
    bench.junction("rail", demand="300 L/h")
    bench.run("feed", "supply", "rail", [fn.hose("-8", "5 ft", spec="ptfe", ends=["-8 37 flare female"] * 2, name="hose")],
              meets=["-8 37 flare male", "-8 37 flare male"])
    bare, fit = (fn.hardware_choices(bench, "hose", [{"size": "-6"}], fit=fit) for fit in (False, True))
    left = [one["-6"].answer["as written"].at("rail").total.si for one in (fit, bare)]  # static pressure also rises where the bore widens
    assert left[0] < left[1]
    assert fit.choices[0].pressures["rail", "as written"].si == pytest.approx(bare.choices[0].pressures["rail", "as written"].si)  # nothing to put in
    assert not [row for row in fit["-6"].bill.rows if row.group == "Adapters still wanted"]
    assert fit["-6"].bill.count("adapter *") == bare["-6"].bill.count("adapter *") == 2


def test_a_choice_that_screws_in_and_does_not_seal_is_stopped():
    bench = fn.Circuit("bench", fluid="water")
    bench.fixed("supply", pressure="10 psi")
    bench.run("feed", "supply", "ambient", [fn.hose("-8", "5 ft", spec="ptfe", ends=["-8 O-ring boss male", ""], name="hose")], meets=["-8 O-ring boss female", ""])
    found = fn.hardware_choices(bench, "hose", {"flare": {"ends": ["-8 37 flare male", ""]}}, at="supply")
    assert found.choices[0].dangers == [] and [one.severity for one in found["flare"].dangers] == ["stop"]
    assert found["flare"].worst in found["flare"].dangers and "STOP: flare: " in found.text(width=300)


def test_places_are_those_that_are_fed_or_asked_for():
    assert fn.hardware_choices(car(), "pump hose", [{"size": "-6"}]).places == ("rail",)
    found = fn.hardware_choices(car(), "pump hose", [{"size": "-6"}], at=["rail in", "rail"])
    assert found.places == ("rail in", "rail") and "rail in pressure [psig]" in found.text()


def test_the_table_has_a_column_for_each_and_changes_in_brackets(study):
    table = study.table("us")
    assert table.cases == ["as written", "smaller", "rubber", "no such"]
    rows = {label: cells for _, label, cells in table.lines_of_rows() if cells}
    idle = study["smaller"].pressures["rail", "idle"].to("psi"), study.change("smaller", "rail", "idle").to("psi")
    assert rows["idle"][1] == f"{idle[0]:.1f} ({idle[1]:+.2f})" and rows["idle"][3] == "refused"
    assert rows["cost [EUR]"][1].startswith("at least ") and rows["parts dry [lb]"][2].endswith("(?)")
    assert "kg" in study.text("metric") and "barg" in study.text("metric")
    assert "<table" in study._repr_html_() and "smaller" in study.html()


def test_the_same_finding_of_several_is_said_once_with_the_worst():
    from flarenut.results import Finding
    from flarenut.studies.hardware_choices import HardwareChoice, HardwareChoices

    class Answer(dict):
        findings = ()

    def choice(name, hurt, where="regulator"):
        answer = Answer()
        answer.findings = [Finding("creep", "watch", where, "idle", f"over by {hurt}", hurt=hurt)]
        return HardwareChoice(name, {}, answer)

    made = HardwareChoices(car(), ["hose"], (), [], [choice("as written", 0.1), choice("-6", 0.4), choice("-10", 0.2), choice("-4", 0.3, "pump")], [], None, "us")
    assert [text for _, text in made.table().findings] == ["WATCH: -6 (worst), -10, as written: regulator, idle: over by 0.4.", "WATCH: -4: pump, idle: over by 0.3."]


def test_csv_says_the_same(study, tmp_path):
    study.to_csv(tmp_path / "choices.csv", "metric")
    rows = {row["choice"]: row for row in csv.DictReader((tmp_path / "choices.csv").read_text(encoding="utf-8").splitlines())}
    assert list(rows) == [choice.name for choice in study.choices]
    assert float(rows["smaller"]["rail pressure, idle [barg]"]) == pytest.approx(study["smaller"].pressures["rail", "idle"].to("bar"), rel=1e-6)
    assert float(rows["smaller"]["cost [EUR], change"]) == pytest.approx(study.cost_change("smaller"))
    assert rows["rubber"]["cost [EUR], change"] == "" and "no hose -7" in rows["no such"]["refused"]


@pytest.mark.parametrize("number, change, text", [(38.8, -0.2101, "38.8 (-0.21)"), (710.2, 65.6, "710 (+65.6)"), (1.234, 0.0002, "1.23 (0)"), (5.0, None, "5.00")])
def test_changes_have_one_more_decimal(number, change, text):
    assert _beside(number, change) == text and _signed(0.0, 2) == "0"


@pytest.mark.parametrize("call, said", [
    (lambda: fn.hardware_choices(car(), "pump hoze", [{"size": "-6"}]), "did you mean 'pump hose'"), (lambda: fn.hardware_choices(car(), "pump", [{"size": "-6"}]), "no standard sizes"),
    (lambda: fn.hardware_choices(car(), [], [{"size": "-6"}]), "no line to change"), (lambda: fn.hardware_choices(car(), "pump hose", []), "no choices"),
    (lambda: fn.hardware_choices(car(), "pump hose", ["-6"]), "no choices"), (lambda: fn.hardware_choices(car(), "pump hose", [{"sise": "-6"}]), "did you mean 'size'"),
    (lambda: fn.hardware_choices(car(), "pump hose", {"as written": {"size": "-6"}}), "choose another name"),
    (lambda: fn.hardware_choices(car(), "pump hose", [{"size": "-6"}], at="rial"), "did you mean 'rail"),
    (lambda: fn.hardware_choices(car(), "pump hose", [{"size": "-6"}], units="both"), "'us' or 'metric'"),
    (lambda: fn.hardware_choices(car(), "pump hose", [{"size": "-6"}])["-8"], "no choice '-8'")])
def test_wrong_calls_are_told(call, said):
    with pytest.raises(CircuitError, match=said):
        call()


def test_a_size_that_is_none_is_a_choice_that_cannot_be_had():
    assert "size" in fn.hardware_choices(car(), "pump hose", [{"size": "big"}])["big"].refusal


# ---- which findings come and go ----

def two_cases(bench):
    bench.case("low", **{"supply.pressure": "500 psi"})
    bench.case("high", **{"supply.pressure": "600 psi"})
    return bench


def test_findings_that_come_and_go_are_told_once_over_all_cases_with_the_worst_margin(tmp_path):
    """SAE 100R6 in -8 bears 400 psi, SAE 100R14 in -8 more than 600 (ratings of the catalogue): 600 psi is 50 % over the one, in the worst of two cases."""
    made = two_cases(bench(fn.hose("-8", "5 ft", spec="ptfe", standard="SAE 100R14", name="hose")))
    found = fn.hardware_choices(made, "hose", {"weak": {"spec": "push-on", "standard": "SAE 100R6"}}, at="end")
    key = ("over working pressure", "hose")
    assert len([one for one in found["weak"].findings if one.code == key[0]]) == 2  # one in each case
    assert list(found.gained("weak")) == [key, ("liquid and line", "hose")] and found.gained("weak")[key].hurt == pytest.approx(600 / 400 - 1, abs=0.01) and not found.lost("weak")
    rows = {label: cells for _, label, cells in found.table().lines_of_rows() if cells}
    assert rows["findings"] == ["none", "1 FIX, 1 WATCH"] and rows["over working pressure: hose"] == ["–", "new FIX, 50 %"]
    back = fn.hardware_choices(two_cases(bench(fn.hose("-8", "5 ft", spec="push-on", standard="SAE 100R6", name="hose"))), "hose",
                               {"strong": {"spec": "ptfe", "standard": "SAE 100R14"}}, at="end")
    assert list(back.lost("strong")) == [key, ("liquid and line", "hose")] and not back.gained("strong")
    assert {label: cells for _, label, cells in back.table().lines_of_rows()}["over working pressure: hose"] == ["FIX, 50 %", "gone"]
    back.to_csv(tmp_path / "back.csv")
    row = list(csv.DictReader((tmp_path / "back.csv").read_text(encoding="utf-8").splitlines()))[1]
    assert row["findings lost"] == "FIX, 50 %: over working pressure: hose; WATCH: liquid and line: hose" and row["findings gained"] == ""


def test_what_fitting_leaves_open_is_told_of_each_choice():
    made = bench(fn.hose("-8", "5 ft", spec="ptfe", name="hose"), meets=["-8 37 flare male", ""])
    found = fn.hardware_choices(made, "hose", [{"size": "-6"}], at="end", fit=True)
    assert [len(choice.open) for choice in found.choices] == [1, 1] and found["-6"].bill.open
    text = found.text(width=200)
    assert "still open" in text and "Still open, as written, -6: hose to end: nothing is said of what 'end' offers there." in text
    assert "still open" not in fn.hardware_choices(made, "hose", [{"size": "-6"}], at="end").text()


# ---- what goes with the line as written, and what does not ----

def bench(line, **meets):
    made = fn.Circuit("bench", fluid="water")
    made.fixed("supply", pressure="700 psi")
    made.junction("end", demand="1 L/min")
    made.run("feed", "supply", "end", [line], **meets)
    return made


def over_pressure(found, name):
    return [(one.severity, round(one.limit.to("psi"))) for one in found[name].findings if one.code == "over working pressure"]


@pytest.mark.parametrize("words", [{"spec": "push-on", "standard": "SAE 100R6"}, {"standard": "SAE 100R6"}])
def test_a_standard_stays_in_another_size_and_tells_what_that_bears(words):
    """SAE 100R6: 400 psi in -6, as in -8 (ratings of the catalogue): 700 psi is over both."""
    found = fn.hardware_choices(bench(fn.hose("-8", "5 ft", name="hose", **words)), "hose", [{"size": "-6"}], at="end")
    assert found["-6"].refusal == ""
    for name in ("as written", "-6"):
        (severity, limit), = over_pressure(found, name)
        assert severity == "stop" and limit == 400


def test_a_standard_goes_where_another_specification_or_standard_is_chosen():
    made = bench(fn.hose("-8", "5 ft", spec="push-on", standard="SAE 100R6", name="hose"))
    found = fn.hardware_choices(made, "hose", {"spec": {"spec": "ptfe"}, "both": {"spec": "ptfe", "standard": "SAE 100R14"}, "same": {"spec": "push-on"}}, at="end")
    assert found["spec"].words["hose"] == {"spec": "ptfe", "standard": None}
    assert over_pressure(found, "both") == [] and found["both"].words["hose"]["standard"] == "SAE 100R14"
    assert "standard" not in found["same"].words["hose"] and over_pressure(found, "same") == over_pressure(found, "as written")


def test_a_makers_pressure_is_not_that_of_another_size_and_the_table_says_so():
    made = bench(fn.hose("-8", "5 ft", spec="push-on", maker_pressure="750 psi", name="hose"))
    found = fn.hardware_choices(made, "hose", [{"size": "-6"}, {"size": "-6", "maker_pressure": "900 psi"}, {"bends": [90]}], at="end")
    assert found["-6"].words["hose"]["maker_pressure"] is None
    assert found["-6 900 psi"].words["hose"]["maker_pressure"] == "900 psi" and "maker_pressure" not in found["[90]"].words["hose"]
    assert "750 psi is its maker's figure for the line as written: find that of -6, and say it" in found.text(width=300)


def test_ends_of_a_tubes_own_dash_take_the_new_size_by_inches_too():
    made = bench(fn.tube("1/2 in", "5 ft", wall="0.035 in", ends=["-8 37 flare female", "-6 37 flare female"], name="tube"))
    found = fn.hardware_choices(made, "tube", [{"size": "3/8 in"}, {"size": "10 mm", "wall": "1 mm"}], at="end")
    assert [str(end) for end in found["3/8 in"].words["tube"]["ends"]] == ["-6 37 flare female"] * 2
    assert [str(end) for end in found["10 mm 1 mm"].words["tube"]["ends"]] == ["-8 37 flare female", "-6 37 flare female"]  # no dash of its own


def test_a_bore_measured_on_the_hose_as_written_is_not_that_of_another():
    made = bench(fn.hose("-8", "5 ft", bore="11 mm", ends=["barb -8 female, bore 11 mm", "-8 37 flare female, bore 9 mm"], name="hose"))
    found = fn.hardware_choices(made, "hose", {"family": {"spec": "full-size"}, "longer": {"length": "6 ft"}}, at="end")
    assert found["family"].words["hose"]["bore"] is None and found["family"].words["hose"]["ends"][0].bore is None
    assert found["family"].words["hose"]["ends"][1].bore == 0.009 and found["longer"].words["hose"] == {"length": "6 ft"}


# ---- a hose of which nobody says what it bears ----

@pytest.mark.parametrize("fit", [False, True])
def test_a_hose_without_a_rating_is_not_judged_and_no_cure(fit, tmp_path):
    """SAE 100R6 in -8 bears 400 psi (ratings of the catalogue); 700 psi is 75 % over. Of a push-on hose without a standard nobody knows it."""
    made = bench(fn.hose("-8", "5 ft", spec="push-on", standard="SAE 100R6", name="hose"))
    found = fn.hardware_choices(made, "hose", {"plain": {"standard": None}, "strong": {"spec": "ptfe", "standard": "SAE 100R14"}}, at="end", fit=fit)
    key = ("over working pressure", "hose")
    assert key not in found.lost("plain") and key in found.lost("strong")
    assert found["plain"].worst.severity == "stop" and "nothing says that it is cured" in found["plain"].worst.text("us")
    assert ("rating unknown", "hose") in found.gained("plain") and ("rating unknown", "hose") not in found.gained("strong")
    rows = {label: cells for _, label, cells in found.table().lines_of_rows() if cells}
    assert "1 STOP not judged" in rows["findings"][1] and "not judged" not in rows["findings"][2]
    assert rows["over working pressure: hose"] == ["STOP, 75 %", "not judged", "gone"]
    assert rows["rating unknown: hose"] == ["–", "not judged", "–"] and "That is no cure" in found.text(width=300)
    found.to_csv(tmp_path / "found.csv")
    plain = list(csv.DictReader((tmp_path / "found.csv").read_text(encoding="utf-8").splitlines()))[1]
    assert "over working" not in plain["findings lost"] and "NOTE: rating unknown: hose" in plain["findings gained"]


def test_what_is_not_judged_as_written_either_is_nothing_new():
    found = fn.hardware_choices(bench(fn.hose("-8", "5 ft", spec="push-on", name="hose")), "hose", [{"size": "-6"}], at="end")
    assert not found.gained("-6") and found["-6"].carried == {} and "not judged" not in found.table().text(width=200).split("What to look at")[0]


def test_choices_as_a_dataset_have_the_numbers_of_the_table():
    xarray = pytest.importorskip("xarray", reason="a Dataset is made by xarray")
    car = fn.Circuit("choices (invented)", fluid="water", invented=True)
    car.tank("drum", level="1 m")
    car.run("line", "drum", "rail", [fn.formula_pump("30 psi", "200 gph", through="15 psi at 120 gph", name="pump"),
                                     fn.hose("-6", "10 ft", spec="ptfe", name="feed hose")])
    car.run("out", "rail", "ambient", [fn.orifice("4 mm", name="jet")])
    car.case("open")
    found = fn.hardware_choices(car, "feed hose", [{"size": "-4"}, {"size": "-8"}], at="rail")
    data = found.to_dataset()
    assert data.sizes == {"choice": 3, "place": 1, "case": 1} and data.attrs["unit_system"] == "si"
    for choice in found.choices:
        assert float(data["pressure"].sel(choice=choice.name, place="rail", case="open")) == choice.pressures["rail", "open"].si
        assert float(data["volume"].sel(choice=choice.name)) == choice.bill.total.volume.si
        assert float(data["findings_fix"].sel(choice=choice.name)) == sum(one.severity == "fix" for one in choice.once.values())
    assert numpy.isnan(data["cost"].values).all()  # no prices
    shown = fn.in_units(data, "us")["pressure"]
    assert shown.attrs["units"] == "psig" and shown.values == pytest.approx(data["pressure"].values / 6894.757293168361)
    assert isinstance(data, xarray.Dataset)
