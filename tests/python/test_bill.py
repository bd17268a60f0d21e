"""Bills: counts, lengths, weights, liquid and cost by hand sums and against the rows of the tube table; what nobody knows is said."""

import csv
from math import pi
from pathlib import Path

import flarenut as fn
import pytest
from flarenut.circuit import CircuitError
from flarenut.cli import main
from flarenut.hardware.items import between, seal_item, tee_item
from hardware_example import PRICES, car

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "docs" / "guide" / "examples"
TUBES = list(csv.DictReader((ROOT / "tests/data/hardware/tube_sizes.csv").read_text(encoding="utf-8").splitlines()))
INCH, FOOT, POUND = 0.0254, 0.3048, 0.45359237


@pytest.fixture
def prices(tmp_path):
    file = tmp_path / "mine.csv"
    file.write_text(PRICES, encoding="utf-8")
    return file


def alone(*parts, **more):
    made = fn.Circuit("bench", fluid="water")
    made.run("line", "one", "other", list(parts), **more)
    return made


def items(bill):
    return {row.item: row for row in bill.rows}


# ---- counting ----

def test_everything_is_counted_once():
    """Counted by hand in hardware_example.py."""
    found = {row.item: row.count for row in fn.bill(car()).rows}
    assert found == {
        "hose -10 ptfe": 1, "hose -8 ptfe, MIL-H-27267": 1, "hose -8 ptfe": 1, "hose -3 ptfe": 1, "hose -6 push-on": 1,
        "hose end -10 37 flare female for ptfe": 1, "hose end -10 37 flare female for ptfe, 45 deg": 1, "hose end -8 37 flare female for ptfe": 2,
        "hose end -8 37 flare female for ptfe, MIL-H-27267": 1, "hose end -8 37 flare female for ptfe, MIL-H-27267, 90 deg": 1,
        "hose end -3 for ptfe, form not said": 2, "tube 1/2 in x 0.035 in, 304 stainless annealed": 1,
        "tube 3/8 in x 0.035 in, 304 stainless annealed": 1, "tube nut and sleeve -8 37 flare": 2, "tube end 3/8 in x 0.035 in, form not said": 2,
        "adapter -8 O-ring boss male to -8 37 flare male": 1, "tee -8 37 flare male, all ends": 1,
        "adapter -8 37 flare male to -8 37 flare male": 1,  # wanted: hard line and engine hose meet nut to nut
        "support clamp for -8 ptfe, MIL-H-27267, outside not known": 2, "support clamp 1/2 in tube": 2, "support clamp 3/8 in tube": 5,
        "hose clamp for -6 push-on, outside not known": 2, "O-ring -8 O-ring boss": 1,
        "formula pump: pump": 1, "filter: fuel filter": 1, "bypass regulator: regulator": 1, "injector: bank": 6}


def test_hose_is_bought_by_the_length_it_is_cut_to():
    bill = fn.bill(car(), slack="5 %")
    row = items(bill)["hose -8 ptfe, MIL-H-27267"]
    assert row.length.to("in") == pytest.approx(60 * 1.05 - 1.86 - 2.62) and row.where == ("pump hose",)
    two = fn.bill(alone(fn.hose("-6", "10 in", spec="ptfe", name="a"), fn.hose("-6", "20 in", spec="ptfe", name="b")), slack="0 %")
    row = items(two)["hose -6 ptfe"]
    assert (row.count, row.where) == (2, ("a", "b")) and row.length.to("in") == pytest.approx(30.0)


@pytest.mark.parametrize("end, item", [
    ("-8 37 flare female", "tube nut and sleeve -8 37 flare"), ("-8 45 flare female", "tube nut -8 45 flare"), ("-3 inverted flare male", "tube nut -3 inverted flare"),
    ("M10x1 bubble flare male", "tube nut M10x1 bubble flare"), ("-8 barb male", None), ("3/8 quick-connect male", None)])
def test_what_a_tube_needs_at_its_end(end, item):
    rows = fn.bill(alone(fn.tube("1/2 in", "1 ft", wall="0.035 in", ends=[end, end], name="tube"))).rows
    ends = {row.item: row.count for row in rows if row.group == "Tube ends"}
    assert ends == ({item: 2} if item else {})


def test_banjos_have_a_bolt_and_two_washers_and_o_ring_ends_one_ring():
    """An eye sits between two washers on a hollow bolt of its port's thread."""
    from flarenut.catalog import end

    bill = items(fn.bill(alone(fn.hose("-3", "20 in", spec="ptfe", ends=["M10x1 banjo", "-3 37 flare female"], name="hose"))))
    assert bill["banjo bolt M10x1"].count == 1 and bill["banjo bolt M10x1"].group == "Fittings"
    assert bill["soft washer M10x1 banjo"].count == 2 and bill["hose end M10x1 banjo male for -3 ptfe"].count == 1
    assert seal_item(end("-6 O-ring boss male")) == ("O-ring -6 O-ring boss", 1)
    assert seal_item(end("-6 O-ring boss female")) is None and seal_item(end("3/8 NPT male")) is None
    both = fn.bill(alone(fn.adapter(["banjo M12x1.5", "-6 37 flare male"], name="fitting"), fn.hose("-6", "1 ft", spec="ptfe", ends=["-6 37 flare female", "banjo M14x1.5"])))
    assert [both.count(f"banjo bolt {thread}") for thread in ("M12x1.5", "M14x1.5", "M10x1")] == [1, 1, 0] and both.count("soft washer*") == 4
    assert fn.bill(alone(fn.filter("1 psi at 90 gph", ends=["banjo M12x1.5 female"] * 2, name="port"))).count("banjo bolt*") == 0  # the port has none


# ---- brake hose ----

def brakes():
    car = fn.Circuit("invented brakes", fluid="DOT 4")
    car.run("front", "master", "caliper", [
        fn.tube("3/16 in", "40 in", ends=["-3 inverted flare male", "M10x1 bubble flare male"], name="pipe"),
        fn.hose("-3", "15 in", spec="ptfe", standard="FMVSS 106", ends=["M10x1 bubble flare female", "banjo M10x1"], name="left hose"),
        fn.hose("-3", "17 in", spec="ptfe", standard="FMVSS 106", ends=["M10x1 bubble flare female", "banjo M10x1"], name="right hose")])
    return car


def test_a_brake_hose_is_bought_made_up_and_not_by_length(tmp_path):
    file = tmp_path / "mine.csv"
    file.write_text("item,price,unit\nhose *,9,ft\nhose end *,11,\nbrake hose *,40,\nright hose,44,\n", encoding="utf-8")
    bill = fn.bill(brakes(), file)
    made = "brake hose -3 ptfe, FMVSS 106, made up, M10x1 bubble flare female to M10x1 banjo male"
    rows = [row for row in bill.rows if row.group == "Brake hose, bought made up"]
    assert [(row.item, row.where, row.count, row.cost) for row in rows] == [(made, ("left hose",), 1, 40.0), (made, ("right hose",), 1, 40.0)]
    assert [row.length.to("in") for row in rows] == pytest.approx([15.0, 17.0])  # to order: no slack, nothing taken off
    assert [bill.count(item) for item in ("hose -3*", "hose end*", "banjo bolt M10x1", "soft washer M10x1 banjo")] == [0, 0, 2, 4]


def test_brake_hose_is_known_by_its_liquid_or_by_its_standard():
    for made in (alone(fn.hose("-3", "15 in", spec="ptfe", standard="FMVSS 106", name="hose")), brakes()):
        assert any(row.group == "Brake hose, bought made up" for row in fn.bill(made).rows)
    assert not any(row.group == "Brake hose, bought made up" for row in fn.bill(car()).rows)


def served(service, *parts):
    car = fn.Circuit("invented car", fluid="MIL-PRF-5606")
    car.run("front", "master", "caliper", parts, meets=["M10x1 bubble flare female"] * 2, service=service)
    return car


def test_a_hose_that_is_said_to_serve_brakes_is_ordered_made_up_in_any_liquid():
    hose = fn.hose("-3", "15 in", spec="ptfe", standard="SAE J1401", name="left hose", through="wall at 7 in")
    car = served("brakes", hose)
    bill = fn.bill(car)
    assert fn.cut_list(car)["left hose"].made_up and [bill.count(item) for item in ("brake hose*", "hose -3*", "hose end*")] == [1, 0, 0]
    made = fn.fitted(car)
    assert [str(end) for end in made.circuit.runs["front"].pieces[0].shop.ends] == ["M10x1 bubble flare male"] * 2 and "bulkhead" in made.open[0].what
    assert not fn.cut_list(served("other", fn.hose("-3", "15 in", spec="ptfe", name="left hose")))["left hose"].made_up


def test_no_union_of_another_flare_is_counted_for_brake_pipe():
    """Nobody can tell its union: a single flare of 37 degrees splits on double-wall pipe, and `fitted` leaves it open as well."""
    pipe = fn.tube("3/16 in", "40 in", wall="0.028 in", material="SAE J527", ends=["-3 inverted flare male"] * 2, name="pipe", through="firewall at 10 in")
    car = fn.Circuit("invented brakes", fluid="DOT 4")
    car.run("front", "master", "caliper", [pipe])
    for made in (car, served("brakes", pipe)):
        assert [row.item for row in fn.bill(made).rows if row.group == "Adapters still wanted" and "firewall" in row.where[0]] == ["bulkhead union, form not said"]


# ---- clamps ----

def test_clamps_go_by_the_outside_of_the_hose():
    """Two hoses of one dash and two outsides are two clamps; ranges of DIN 3017-1, from memory: 12 to 20 mm and 16 to 25 mm."""
    bill = fn.bill(alone(fn.hose("-6", "5 ft", spec="push-on", clamped=True, outside="15.9 mm", name="thin"),
                         fn.hose("-6", "5 ft", spec="push-on", clamped=True, outside="19.8 mm", name="thick"),
                         fn.hose("-6", "5 ft", spec="push-on", clamped=True, name="unknown")))
    clamps = {row.item: (row.count, row.where) for row in bill.rows if row.item.startswith("hose clamp")}
    assert clamps == {"hose clamp for 15.9 mm (0.626 in) outside, range 12 to 20 mm": (2, ("thin",)),
                      "hose clamp for 19.8 mm (0.78 in) outside, range 16 to 25 mm": (2, ("thick",)),
                      "hose clamp for -6 push-on, outside not known": (2, ("unknown",))}
    assert bill.count("support clamp for 15.9 mm (0.626 in) outside") == bill.count("support clamp for 19.8 mm (0.78 in) outside") == 2
    text = bill.text(width=400)
    assert "which nobody says of unknown: measure it" in text and "DIN 3017-1 worm-drive hose clamps, clamping ranges, from memory: verify before use" in text


def test_the_outside_of_a_hose_may_follow_from_its_standard():
    """MIL-H-8794, -6: 0.67 in (AC 43.13-1B, table 9-3), which is 17 mm."""
    hose = fn.hose("-6", "20 in", standard="MIL-H-8794", spec="medium-pressure", clamped=True, name="hose")
    assert fn.bill(alone(hose)).count("hose clamp for 17 mm (0.67 in) outside, range 12 to 20 mm") == 2
    with pytest.raises(CircuitError, match="measure across the outside"):
        fn.hose("-6", "20 in", spec="push-on", outside="9 mm")


def two_hoses():
    """Hose of two kinds with ends of one form."""
    ends = ["-6 37 flare female"] * 2
    return alone(fn.hose("-6", "20 in", spec="ptfe", standard="SAE 100R14", ends=ends, name="jumper"), fn.adapter(["-6 37 flare male"] * 2, name="union"),
                 fn.hose("-6", "30 in", spec="push-on", standard="SAE 30R9", ends=ends, name="return hose"))


def test_ends_of_one_hose_are_not_those_of_another(tmp_path):
    ptfe, push_on = "hose end -6 37 flare female for ptfe, SAE 100R14", "hose end -6 37 flare female for push-on, SAE 30R9"
    found = {row.item: (row.count, row.where) for row in fn.bill(two_hoses()).rows if row.group == "Hose ends"}
    assert found == {ptfe: (2, ("jumper",)), push_on: (2, ("return hose",))}
    file = tmp_path / "mine.csv"
    file.write_text("item,price,unit,cut_off\nhose * push-on*,4,ft,\nhose end *for ptfe*,14,each,1.5 in\nhose end *,9,,1 in\n", encoding="utf-8")
    bill = fn.bill(two_hoses(), file, slack="0 %")
    assert {row.item: row.cost for row in bill.rows if row.group == "Hose ends"} == {ptfe: 28.0, push_on: 18.0}  # no end by the foot
    assert [bill.cuts[name].cut.to("in") for name in ("jumper", "return hose")] == pytest.approx([20 - 3.0, 30 - 2.0])


@pytest.mark.parametrize("end, more, item", [
    ("-6 37 flare female", {"spec": "ptfe"}, "hose end -6 37 flare female for -8 ptfe"),
    ("-8 37 flare female, 45 deg", {"spec": "ptfe"}, "hose end -8 37 flare female for ptfe, 45 deg"),
    ("3/8 NPT male", {"bore": "11 mm"}, "hose end 3/8 NPT male for -8 hose"), ("-8 37 flare female", {"bore": "11 mm"}, "hose end -8 37 flare female"),
    ("", {"bore": "11 mm"}, "hose end -8, form not said")])
def test_an_end_says_size_and_kind_of_its_hose_where_they_are_known(end, more, item):
    assert fn.bill(alone(fn.hose("-8", "20 in", ends=[end, end], name="hose", **more))).count(item) == 2


def test_a_fitting_is_the_same_whichever_way_round_it_stands():
    from flarenut.catalog import end

    one, other = end("-8 O-ring boss male"), end("-6 37 flare male, bore 7 mm")
    assert between("adapter", [one, other]) == between("adapter", [other, one]) == "adapter -8 O-ring boss male to -6 37 flare male"
    assert tee_item([one, other, None]) == tee_item([other, one, None]) != tee_item([one, None, other])


def test_fittings_without_ends_are_named_by_their_size():
    parts = [fn.elbow("-8", 45), fn.straight(bore="9 mm"), fn.reducer("-8", "-6"), fn.hose("-6", "20 in", spec="ptfe")]
    found = [row.item for row in fn.bill(alone(*parts)).rows if row.group == "Fittings"]
    assert found == ["elbow -8, 45 deg, form not said", "straight 9 mm bore, form not said", "reducer -8 to -6"]


def test_what_is_no_part_to_buy_is_left_out():
    bill = fn.bill(alone(fn.pickup("8 mm"), fn.passage("8 mm", "1 m"), fn.opening("8 mm")))
    assert bill.rows == () and bill.total.volume.si == pytest.approx(pi / 4 * 0.008 ** 2 * 1.0)


def test_adapters_that_joints_want_are_counted_apart():
    bench = alone(fn.filter(drop="1 psi at 100 gph", ends=["-6 O-ring boss female", "-6 O-ring boss female"], name="filter"),
                  fn.hose("-6", "20 in", spec="ptfe", ends=["-6 37 flare female"] * 2, name="hose"), meets=["", "3/8 NPT female"])
    wanted = [row for row in fn.bill(bench).rows if row.group == "Adapters still wanted"]
    assert [(row.item, row.where) for row in wanted] == [
        ("adapter -6 O-ring boss male to -6 37 flare male", ("filter to hose",)), ("adapter 3/8 NPT male to -6 37 flare male", ("hose to other",))]
    assert items(fn.bill(bench))["O-ring -6 O-ring boss"].count == 1
    assert "none of these is in the circuit" in fn.bill(bench).text(width=200)


def test_a_wall_that_a_line_passes_wants_its_union_and_the_ends_beside_it():
    """Of a clamped hose one barbed union and two clamps; of others a flared union and two ends. `fitted` puts them in, and they are wanted no more."""
    for words, wanted in (({"clamped": True}, {"bulkhead union -6 barb male to -6 barb male": 1, "hose clamp for -6 push-on, outside not known": 2}),
                          ({}, {"bulkhead union -6 37 flare male to -6 37 flare male": 1, "hose end -6 37 flare female for push-on": 2})):
        bench = alone(fn.hose("-6", "6 ft", spec="push-on", through="firewall at 3 ft", name="hose", **words))
        assert {row.item: row.count for row in fn.bill(bench).rows if row.group == "Adapters still wanted"} == wanted
        assert not [row for row in fn.bill(fn.fitted(bench)).rows if row.group == "Adapters still wanted"]
    assert fn.bill(alone(fn.hose("-6", "6 ft", spec="push-on", through="firewall at 3 ft, grommet"))).count("bulkhead*") == 0


# ---- weight and liquid ----

@pytest.mark.parametrize("material, column", [("304 stainless", "stainless"), ("steel", "steel"), ("6061-T6", "aluminium")])
def test_weight_and_liquid_of_tube_are_those_of_the_table(material, column):
    """Rows of the tube table (computed from density and size by its author), to the five figures it prints; densities of 2700, 7850, 8000 kg/m3."""
    assert len(TUBES) > 20
    for row in TUBES:
        bench = alone(fn.tube(row["od"], "1 m", wall=f"{row['wall_mm']} mm", material=material, name="tube"))
        bill = fn.bill(bench)
        (tube,) = [one for one in bill.rows if one.group == "Tube"]
        assert tube.weight.si == pytest.approx(float(row[f"weight_{column}_kg_per_m"]), rel=2e-4), row
        assert bill.volumes["bench", "line"].to("mL") == pytest.approx(float(row["volume_mL_per_m"]), rel=3e-4), row


def test_weight_of_what_is_wet_is_dry_and_the_liquid():
    bench = alone(fn.tube(bore="10 mm", length="2 m", mass="0.5 kg", name="tube"))
    total = fn.bill(bench).total
    liquid = pi / 4 * 0.01 ** 2 * 2.0 * 999.1  # kg/m3 of water at 15 C (IAPWS)
    assert total.liquid.si == pytest.approx(liquid, rel=1e-4) and total.wet.si == pytest.approx(0.5 + liquid, rel=1e-4)


def test_weights_that_nobody_knows_are_said_and_never_guessed():
    bill = fn.bill(car())
    known = {row.item for row in bill.rows if row.weight is not None}
    assert known == {"tube 1/2 in x 0.035 in, 304 stainless annealed", "tube 3/8 in x 0.035 in, 304 stainless annealed", "formula pump: pump"}
    assert bill.total.unweighed == len(bill.rows) - 3 == len(bill.unweighed)
    text = bill.text(width=300)
    assert "Weight not known: hose -10 ptfe;" in text and f"at least {bill.total.dry.show()}" in text


def test_a_hose_that_is_weighed_is_weighed_with_its_ends():
    bill = fn.bill(alone(fn.hose("-6", "48 in", spec="ptfe", ends=["-6 37 flare female"] * 2, mass="0.4 kg", name="hose")), slack="0 %")
    assert items(bill)["hose -6 ptfe"].weight.si == pytest.approx(0.4)
    assert items(bill)["hose end -6 37 flare female for ptfe"].weight is None
    assert [row.item for row in bill.unweighed] == ["support clamp for -6 ptfe, outside not known"] and bill.total.dry.si == pytest.approx(0.4)


# ---- cost ----

def test_cost_by_hand(prices):
    bill = fn.bill(car(), prices)
    pump_hose = (60 * 1.065 - 1.1 - 1.3) / 12
    engine_hose = (fn.cut_list(car())["engine hose"].length.to("in") - 2.2) / 12
    cost = {"hose -8 ptfe, MIL-H-27267": 9.5 * pump_hose, "hose -8 ptfe": 9.5 * engine_hose, "hose -10 ptfe": 12.0 * 14 / 12,
            "hose end -8 37 flare female for ptfe": 22.0, "hose end -8 37 flare female for ptfe, MIL-H-27267": 11.0,
            "hose end -8 37 flare female for ptfe, MIL-H-27267, 90 deg": 19.0, "support clamp for -8 ptfe, MIL-H-27267, outside not known": 2.4,
            "support clamp 1/2 in tube": 2.4, "support clamp 3/8 in tube": 6.0, "tube 3/8 in x 0.035 in, 304 stainless annealed": 5.5 * 9,
            "adapter -8 O-ring boss male to -8 37 flare male": 8.0, "adapter -8 37 flare male to -8 37 flare male": 8.0, "formula pump: pump": 140.0}
    assert {row.item: row.cost for row in bill.rows if row.cost is not None} == pytest.approx(cost)
    assert bill.total.cost == pytest.approx(sum(cost.values())) and bill.total.unpriced == len(bill.rows) - len(cost)
    weight = items(bill)["hose -8 ptfe, MIL-H-27267"].weight
    assert weight.si == pytest.approx(0.13 * POUND * pump_hose)


def test_what_has_no_price_is_named_and_the_sum_says_so(prices):
    text = fn.bill(car(), prices).text(width=400)
    assert "No price in mine.csv: hose -3 ptfe (nearest is 'hose -8 ptfe*')" in text
    assert "at least " in text and "cost [EUR]" in text


def test_a_price_by_the_foot_is_none_for_what_is_counted(tmp_path):
    file = tmp_path / "mine.csv"
    file.write_text("item,price,unit,weight\nadapter *,8,ft,1 lb\n", encoding="utf-8")
    bill = fn.bill(alone(fn.adapter(["-8 O-ring boss male", "-8 37 flare male"], name="fitting")), file)
    row = items(bill)["adapter -8 O-ring boss male to -8 37 flare male"]
    assert row.cost is None and row.weight is None and "priced per ft, counted by the piece" in bill.text(width=300)


def test_a_device_may_be_priced_by_its_name_alone(tmp_path):
    file = tmp_path / "mine.toml"
    file.write_text('[[item]]\nname = "pump"\nprice = 99\nweight = "2 lb"\n', encoding="utf-8")
    row = items(fn.bill(car(), file))["formula pump: pump"]
    assert row.cost == 99 and row.weight.si == pytest.approx(1.1)  # what the circuit says of it beats the file


# ---- vehicles ----

@pytest.fixture(scope="module")
def truck():
    return fn.load(EXAMPLES / "truck" / "vehicle.toml")


def test_a_vehicle_is_its_circuits_and_its_exchangers(truck):
    bill = fn.bill(truck)
    assert list(bill.circuits) == list(truck.circuits)
    assert bill.total.volume.si == pytest.approx(sum(one.volume.si for one in bill.circuits.values()))
    assert {row.item for row in bill.rows if not row.circuit} == {f"exchanger: {name}" for name in truck.exchangers}
    text = bill.text("metric", 200)
    assert all(f"{name}: " in text for name in truck.circuits) and "between circuits: devices" in text


def test_sides_of_an_exchanger_are_bought_once(truck):
    sides = {end for one in truck.exchangers.values() for end in one.ends}
    assert sides and not sides & {(row.circuit, name) for row in fn.bill(truck).rows for name in row.where}
    assert not sides & {(cut.circuit, cut.name) for cut in fn.cut_list(truck)}


# ---- shown ----

def test_csv_says_what_the_bill_says(prices, tmp_path):
    bill = fn.bill(car(), prices)
    for units, weight, length in (("us", "lb", "ft"), ("metric", "kg", "m")):
        bill.to_csv(tmp_path / "bill.csv", units)
        with open(tmp_path / "bill.csv", newline="", encoding="utf-8") as file:
            written = list(csv.DictReader(file))
        rows = [row for row in written if row["group"] not in ("Joint not said", "Total")]
        assert [(row["circuit"], row["group"], row["item"], int(row["pieces"]), row["what for"].split("; ")) for row in rows] == [
            (row.circuit, row.group, row.item, row.count, list(row.where)) for row in bill.rows]
        for written, row in zip(rows, bill.rows):
            for heading, value in ((f"weight [{weight}]", row.weight and row.weight.to(weight)), (f"length [{length}]", row.length and row.length.to(length)),
                                   ("cost [EUR]", row.cost)):
                assert (float(written[heading]) == pytest.approx(value, rel=1e-6)) if written[heading] else value is None
        assert sum(float(row["cost [EUR]"] or 0) for row in rows) == pytest.approx(bill.total.cost)


def test_every_number_shown_has_its_unit(prices):
    bill = fn.bill(car(), prices)
    for units, wanted in (("us", ("ft", "lb", "in3")), ("metric", ("m", "g", "kg", "mL", "L"))):
        things, sums = bill.tables(units).tables
        for _, label, cells in things.lines_of_rows():
            if cells:
                pieces, length, weight, price, cost = cells
                assert pieces.isdigit() and things.cases[0] == "pieces"
                assert length == "–" or length.split()[-1] in wanted, label
                assert weight in ("not known", "with its line") or weight.split()[-1] in wanted, label
                assert price == "no price" or price.endswith(("each", "per ft")), label
        assert things.cases[3:] == ["price [EUR]", "cost [EUR]"]
        for _, label, cells in sums.lines_of_rows():
            assert all(cell == "–" or cell.split()[-1] in wanted for cell in cells[:4]), label


def test_html_shows_it_and_fetches_nothing(prices):
    page = fn.bill(car(), prices)._repr_html_()
    assert "hose end -8 37 flare female for ptfe, MIL-H-27267, 90 deg" in page and "http" not in page and "<table" in page


def test_wrong_calls_are_told():
    with pytest.raises(CircuitError, match="no circuit and no vehicle"):
        fn.bill("car")
    with pytest.raises(CircuitError, match="'us' or 'metric'"):
        fn.bill(car(), units="both")


def test_a_circuit_of_sixty_parts_takes_no_more_work_than_its_parts():
    """Work grows with the parts and not with their square: ten times the parts, counted in function calls, at most fifteen times the work."""
    import sys

    def calls(parts):
        made = alone(*[fn.hose("-6", "20 in", spec="ptfe", ends=["-6 37 flare female", "-6 37 flare male"], name=f"hose {one}") for one in range(parts)])
        fn.bill(made)
        count = 0

        def counted(frame, event, argument):
            nonlocal count
            count += event == "call"

        sys.setprofile(counted)
        try:
            fn.bill(made)
        finally:
            sys.setprofile(None)
        return count

    assert calls(60) < 15 * calls(6)


# ---- joints that are not said ----

def test_a_total_is_at_least_where_joints_are_not_said(tmp_path):
    """Everything has a weight and a price, so that only the joints make the sums uncertain: one of three says one side, one none."""
    file = tmp_path / "mine.csv"
    file.write_text("item,price,currency,weight,unit\n*clamp*,1,EUR,,\nfilter*,30,EUR,,\n*hose*,9,EUR,,each\n", encoding="utf-8")
    parts = [fn.hose("-6", "20 in", spec="ptfe", mass="0.2 kg", ends=["-6 37 flare female"] * 2, name="jumper"), fn.filter("1 psi at 90 gph", mass="0.1 kg", name="filter")]
    bill = fn.bill(alone(*parts, meets=["-6 37 flare male", ""]), file)
    assert bill.unsaid == (("", "jumper to filter"), ("", "filter to other")) and (bill.total.joints, bill.total.unsaid, bill.total.unweighed) == (3, 2, 0)
    text = " ".join(bill.text(width=400).split())
    assert "at least 0.661 lb" in text and "2 of 3 joints do not say both sides" in text and "jumper to filter; filter to other" in text
    bill.to_csv(tmp_path / "bill.csv")
    rows = list(csv.DictReader((tmp_path / "bill.csv").read_text(encoding="utf-8").splitlines()))
    assert [row["what for"] for row in rows if row["group"] == "Joint not said"] == ["jumper to filter", "filter to other"]
    assert rows[-1]["group"] == "Total" and "at least 0.661 lb" in rows[-1]["item"] and "cost at least" in rows[-1]["item"] and "2 of 3 joints" in rows[-1]["how"]
    said = fn.bill(alone(parts[0], meets=["-6 37 flare male"] * 2))
    assert "at least" not in said.text(width=400) and said.unsaid == ()


def test_what_is_drilled_is_no_joint():
    """Holes drilled into each other, and orifices behind them, are not screwed together; the hose before them is."""
    block = [fn.hose("-6", "1 ft", spec="ptfe", name="hose"), fn.passage("8 mm", "0.1 m", name="gallery"), fn.passage("6 mm", "0.1 m", name="branch"),
             fn.orifice("2 mm", name="jet")]
    assert [place for _, place in fn.bill(alone(*block)).unsaid] == ["one to hose", "hose to gallery", "jet to other"]


# ---- what stays open ----

def gap():
    """A hose end at a barb, which no adapter joins it to."""
    hose = fn.hose("-6", "20 in", spec="ptfe", mass="0.2 kg", ends=["-6 37 flare female"] * 2, name="jumper")
    return alone(hose, meets=["-6 37 flare male", "-6 barb male"])


def test_what_fitted_left_open_is_told_and_the_total_lacks_it(tmp_path):
    made = fn.fitted(gap())
    bill, shut = fn.bill(made), fn.bill(gap())
    text = bill.text(width=400)
    assert [one.where for one in bill.open] == [one.where for one in made.open] == ["jumper to other"]
    assert "Still open: jumper to other: " in text and "takes a clamped hose and nothing else" in text
    assert "At least: what the place still open needs is not in the bill and not in the sum." in text
    assert bill.unweighed == () and "at least 0.441 lb" in text  # 0.2 kg, with nothing else unknown
    assert "at least" not in shut.text(width=400) and shut.open == ()
    bill.to_csv(tmp_path / "bill.csv")
    last = list(csv.DictReader((tmp_path / "bill.csv").read_text(encoding="utf-8").splitlines()))[-2]
    assert (last["group"], last["what for"], last["pieces"], last["how"]) == ("Still open", "jumper to other", "", "not counted") and "takes a clamped hose and nothing else" in last["item"]


def test_what_is_counted_under_adapters_still_wanted_is_not_called_uncounted():
    from flarenut.hardware.fitted import Fitted
    from flarenut.hardware.proposal import Proposal

    hose = fn.hose("-6", "20 in", spec="ptfe", ends=["-6 37 flare female"] * 2, name="jumper")
    bench = alone(hose, meets=["-6 37 flare male", "-8 O-ring boss female"])
    bill = fn.bill(Fitted(bench, [], [Proposal("jumper to other", "an adapter which loses what no table tells")]))
    assert bill.count("adapter *") == 1 and bill.open == () and "Still open" not in bill.text()


def test_one_thing_is_not_called_things(tmp_path):
    file = tmp_path / "mine.csv"
    file.write_text("item,weight\nhose end*,1 lb\n", encoding="utf-8")
    bench = alone(fn.hose("-6", "20 in", spec="ptfe", clamped=True, mass="1 kg", name="jumper"))
    assert "At least: the weight of 1 of 2 things is not known and not in the sum." in fn.bill(bench).text(width=300)
    assert "the weight of 1 and the price of 2 of 2 things are not known" in fn.bill(bench, file).text(width=300)
    bench = alone(fn.filter("1 psi at 90 gph", name="filter"))
    assert "At least: the weight of 1 of 1 thing is not known" in fn.bill(bench).text(width=300)


# ---- command ----

def run(capsys, *words):
    code = main([str(word) for word in words])
    out, err = capsys.readouterr()
    assert "Traceback" not in out + err
    return code, out, err


def test_the_command_prints_the_bill_and_the_cut_list_and_writes_both(capsys, prices, tmp_path):
    file = EXAMPLES / "carburettor.toml"
    code, out, err = run(capsys, "bill", file, "--prices", prices, "--cut-list", "--csv", tmp_path / "car.csv")
    assert (code, err) == (0, "")
    for words in ("invented roadster, carburettor feed · bill", "cut list", "tube 3/8 in x 0.035 in, material not said", "frame line", "cost [EUR]"):
        assert words in out, words
    assert (tmp_path / "car.csv").read_text(encoding="utf-8").startswith("circuit,group,item,")
    assert "frame line" in (tmp_path / "car-cuts.csv").read_text(encoding="utf-8")


def test_the_command_takes_units_slack_and_vehicles(capsys):
    assert "· cut list" not in run(capsys, "bill", EXAMPLES / "carburettor.toml")[1]
    code, out, _ = run(capsys, "bill", EXAMPLES / "truck" / "vehicle.toml", "--units", "metric", "--cut-list", "--slack", "0 %")
    assert code == 0 and "between circuits: devices" in out and " mm" in out and "0 %, as it is run straight" not in out


def test_the_command_tells_what_fit_leaves_open(capsys, tmp_path):
    file = tmp_path / "gap.toml"
    file.write_text('[circuit]\nname = "x"\nfluid = "water"\n[tank.a]\nlevel = "1 m"\n[junction.b]\n'
                    '[[run]]\nname = "feed"\nfrom = "a"\nto = "b"\nmeets = ["", "-6 barb male"]\n'
                    'parts = [{part = "hose", size = "-6", length = "1 m", spec = "ptfe", name = "jumper", ends = ["", "-6 37 flare female"]}]\n', encoding="utf-8")
    code, out, err = run(capsys, "bill", file, "--fit", "--cut-list")
    assert (code, err) == (0, "") and "Still open: jumper to b: -6 barb male" in " ".join(out.split()) and "less ends" in out
    assert "Still open" not in run(capsys, "bill", file)[1]


def test_the_command_says_what_the_audit_and_the_cut_list_find(capsys, tmp_path):
    """A 37 degree nose in an O-ring boss, and a hose of 1 in between two barbs."""
    file = tmp_path / "wrong.toml"
    file.write_text('[circuit]\nname = "x"\nfluid = "water"\n[tank.a]\nlevel = "1 m"\n[junction.b]\n'
                    '[[run]]\nname = "feed"\nfrom = "a"\nto = "b"\nmeets = ["-6 O-ring boss female", "-8 barb male"]\n'
                    'parts = [{part = "hose", size = "-6", length = "1 m", spec = "ptfe", name = "jumper", ends = ["-6 37 flare male", "-8 37 flare female"]},\n'
                    '{part = "adapter", ends = ["-8 37 flare male", "-8 barb male"], bore = "10 mm", name = "adapter"},\n'
                    '{part = "hose", size = "-8", length = "0.5 in", spec = "push-on", clamped = true, ends = ["barb -8 clamped", "barb -8 clamped"], name = "stub"}]\n',
                    encoding="utf-8")
    found = fn.audit(fn.load(file)).findings
    counts = [sum(one.severity == severity for one in found) for severity in ("stop", "fix")]
    code, out, _ = run(capsys, "bill", file)
    said = " and ".join(f"{count} {word}" for count, word in zip(counts, ("STOP", "FIX")) if count)
    assert code == 0 and counts[0] >= 1 and f"The audit finds {said}: 'flarenut audit {file}'" in out
    assert f"The cut list finds 1 FIX: 'flarenut bill {file} --cut-list'" in out
    assert "--fit' says which" in run(capsys, "bill", file, "--fit")[1] or fn.audit(fn.fitted(fn.load(file)).circuit).passes
    assert "The audit finds" not in run(capsys, "bill", EXAMPLES / "truck" / "vehicle.toml")[1]


@pytest.mark.parametrize("words, said", [
    (["--slack", "40 %"], "--slack: 'slack' is '40 %', outside 0 to 20 %"), (["--slack", "six"], "--slack: "), (["--prices", "none.csv"], "none.csv: there is no such file"),
    (["--csv", "no/such/folder/bill.csv"], "there is no folder"), (["--csv", "bill.txt"], "end it in .csv")])
def test_the_command_refuses_in_words(capsys, words, said):
    code, out, err = run(capsys, "bill", EXAMPLES / "carburettor.toml", *words)
    assert code == 2 and said in err and "cure: " in err and out == ""


def test_a_name_used_twice_is_told_at_its_line(capsys, tmp_path):
    file = tmp_path / "twice.toml"
    file.write_text('[circuit]\nname = "x"\nfluid = "water"\n[[run]]\nname = "feed"\nfrom = "a"\nto = "b"\n'
                    'parts = [{part = "hose", size = "-6", length = "1 m", spec = "ptfe", name = "h"}, {part = "hose", size = "-6", length = "1 m", spec = "ptfe", name = "h"}]\n',
                    encoding="utf-8")
    code, _, err = run(capsys, "bill", file)
    assert code == 2 and "'h' is used twice" in err and "twice.toml:8:" in err
