"""The build sheet: what stands on it and in which order, what it says and what it does not make up."""

import re

import pytest
from sheet_example import truck, vehicle, wrong
from sheet_page import Page

import flarenut as fn

ESTIMATE = "Engineering estimate, not a certification: defer to local codes and licensed practice."
ORDER = ["What this is", "Findings, worst first", "Schematic", "Runs, ends and cut lengths", "Joints", "Operating cases", "What the lines bear", "Bill",
         "Test with liquid before use", "Cautions", "Where sources differ", "Tick and sign", "Sources"]


@pytest.fixture(scope="module")
def fuel():
    return truck()


@pytest.fixture(scope="module")
def page(fuel):
    return Page(fn.build_sheet(fuel, date="the invented day").html)


# ---- what stands on it ----

def test_sections_stand_in_the_order_of_the_work(page):
    assert [title for level, title in page.headings if level == 2] == ORDER
    assert page.headings[0] == [1, "invented pickup, tank to rail"]


def test_it_says_what_it_is_of_and_that_it_is_an_estimate(page):
    for said in ("invented pickup, tank to rail (invented)", "E10", "the invented day", "INVENTED EXAMPLE", fn.__version__, ESTIMATE):
        assert said in page.text
    assert page.text.count(ESTIMATE) == 2  # first and last thing


def test_no_day_is_taken_from_the_clock_unless_asked(fuel):
    from datetime import date

    answer = fuel.solve()
    assert date.today().isoformat() not in fn.build_sheet(fuel, answer=answer).html
    assert str(date.today().year) in fn.build_sheet(fuel, answer=answer, date="today").html


def test_findings_of_joints_and_of_the_answer_are_one_list_worst_first():
    car = wrong()
    car.change("hose", ends=["-6 37 flare male", "-6 37 flare female"])
    html = fn.build_sheet(car).html
    badges = re.findall(r'<span class="badge">(\w+)</span>', html)
    ranks = [("STOP", "FIX", "WATCH", "NOTE").index(one) for one in badges]
    assert ranks == sorted(ranks) and badges[:2] == ["STOP", "FIX"]
    assert "nothing seals" in Page(html).text and "Do not run it like this: 1 STOP, 1 FIX" in Page(html).text


def test_findings_carry_number_limit_source_and_cure(page):
    assert "suction margin" in page.text and "(common practice, no source)" in page.text and "Cure: cool the fuel" in page.text


def test_every_piece_stands_with_its_ends_and_what_it_is_cut_to(fuel, page):
    cuts = fn.cut_list(fuel)
    rows = page.table("Runs, in the order the liquid meets them")
    named = [row[0] for row in rows if len(row) > 1][1:]
    assert named == ["sock", "suction hose", "pump", "long line", "filter", "bay hose", "regulator", "return hose", "bank"]
    hose = page.row("Runs, in the order the liquid meets them", "suction hose")
    assert hose[1:4] == ["hose -8 ptfe, SAE 100R14", "-8 37 flare female", "-8 37 flare female"]
    inches = eval(hose[4].replace("\xa0", " ").removesuffix(" in less ends").replace(" ", "+"))  # noqa: S307 - "19 3/16" of our own page
    assert abs(inches - cuts["suction hose"].cut.to("in")) <= 1 / 32


def test_joints_show_thread_seal_torque_and_what_goes_on_the_thread(page):
    mating = fn.mate("-8 37 flare female", "-8 37 flare male", line="hose")
    row = page.row("Joints, run by run", "suction hoseto pump")
    assert row[1:5] == ["-8 37 flare female-8 37 flare male", mating.thread, mating.seal, "no sealant"]
    low, high = (round(torque / 1.355817948) for torque in (mating.torque.low, mating.torque.high))  # [N m] to ft-lb, NIST SP 811
    assert f"{low} to {high} ft-lb" in row[5] and "[1]" in row[6]
    assert fn.mate("-8 37 flare female", "-8 37 flare male").sealant in page.text


def test_a_joint_that_does_not_seal_says_so_where_its_seal_would_stand():
    rows = {row[0]: row for row in Page(fn.build_sheet(wrong()).html).table("Joints, run by run")}
    assert rows["cellto hose"][3].startswith("REFUSED: ") and "nothing seals" in rows["cellto hose"][3]
    assert rows["hoseto filter"][3].startswith("Needs an adapter: ")
    assert rows["cellto hose"][5] == ""  # no torque for what must not be tightened


def test_cases_show_what_the_answer_says(fuel, page):
    answer = fuel.solve()
    for name in ("idle", "full power", "hot restart"):
        assert f"{answer.at('rail', name).gauge.to('psi'):.1f}" in page.row("Each operating case", "rail pressure [psig]")
    assert page.table("Each operating case")[0] == ["what", "idle", "full power", "hot restart"]


def test_many_cases_go_into_several_tables(fuel):
    car = truck()
    for number in range(5):
        car.case(f"more {number}", volts=13, duty=f"{10 * number + 10} %", manifold="0 psi")
    made = Page(fn.build_sheet(car).html)
    assert made.table("Each operating case")[0][1:] == list(car.cases)[:6]
    assert made.table("Each operating case, more of them")[0][1:] == list(car.cases)[6:]


def test_margins_are_those_of_the_case_that_leaves_least(fuel, page):
    answer, rating = fuel.solve(), fn.catalog.hose_rating("SAE 30R9", 6)
    highest = max(max(one.static for one in case.ends("return hose")) - case.ambient.si for case in answer.values())
    row = page.row("Lines against what they bear, in the case that leaves least", "return hose")
    assert row[1] == "SAE 30R9" and row[3] == "idle"
    assert row[5] == f"{100 * (1 - highest / rating.working):.0f}\xa0%"
    assert "verify before use" in row[7]  # from memory


def test_a_line_of_unknown_make_is_not_called_safe():
    car = truck()
    car.change("return hose", standard=None, spec=None, bore="8 mm")
    row = Page(fn.build_sheet(car).html).row("Lines against what they bear, in the case that leaves least", "return hose")
    assert row[4:6] == ["not\xa0known", "not\xa0known"]


def test_what_is_over_its_rating_says_by_how_much():
    car = truck()
    car.change("bay hose", standard=None, maker_pressure="25 psi")
    row = Page(fn.build_sheet(car).html).row("Lines against what they bear, in the case that leaves least", "bay hose")
    assert re.fullmatch(r"\d+ % over", row[5])


def test_the_test_pressure_is_twice_the_highest_and_100_psi_at_least_with_liquid(fuel, page):
    """Navy NAVEDTRA 14018, proof pressure testing (seen): twice the operating pressure, 100 psi at least."""
    caption = "Test pressure of every line assembly, with liquid"
    assert [row[3] for row in page.table(caption)[1:]] == ["100 psig"] * 4
    assert "Never test with full-pressure air" in page.text
    high = truck()
    high.change("pump", dead_head="300 psi", through="250 psi at 60 gph")
    high.change("regulator", set="150 psi")
    found = Page(fn.build_sheet(high).html)
    tube, answer = found.row(caption, "long line"), high.solve()
    most = max(max(one.static for one in case.ends("long line")) - case.ambient.si for case in answer.values()) / 6894.757
    assert abs(float(tube[3].removesuffix(" psig")) - 2 * most) <= 1.0


def test_no_hose_is_tested_beyond_its_own_proof():
    car = truck()
    car.change("bay hose", standard=None, maker_pressure="45 psi")
    row = Page(fn.build_sheet(car).html).row("Test pressure of every line assembly, with liquid", "bay hose")
    assert row[3] == "90.0 psigno more: twice what its maker states"


def test_hose_on_barbs_is_tested_no_higher_than_clamps_hold():
    car = fn.Circuit("invented barbs", fluid="gasoline", invented=True)
    car.tank("cell", level="9 in", vent="90 psi")
    car.run("line", "cell", "ambient", [fn.hose("-6", "3 ft", spec="push-on", clamped=True, name="hose"), fn.orifice("1 mm", name="jet")])
    row = Page(fn.build_sheet(car).html).row("Test pressure of every line assembly, with liquid", "hose")
    assert row[3] == "100 psigno more: what clamps on barbs hold"  # 0.69 MPa, SAE J189 with clamps of one's own


def test_the_bill_stands_with_what_it_costs(tmp_path, fuel):
    prices = tmp_path / "prices.csv"
    prices.write_text("item,price,unit,currency,weight\nhose -6 *,4.00,ft,EUR,0.1 lb\nhose end -6 *,10,each,EUR,0.15 lb\n", encoding="utf-8")
    made, bill = Page(fn.build_sheet(fuel, prices=str(prices)).html), fn.bill(fuel, str(prices))
    costs = {row.item: row.cost for row in bill.rows}
    for item, line in (("hose end -6 37 flare female for ptfe, SAE 100R14", "bay hose"), ("hose end -6 37 flare female for push-on, SAE 30R9", "return hose")):
        assert made.row("Things to buy", f"{item} ({line})")[5] == "20.00" and costs[item] == 20.0
    assert f"at least {bill.total.cost:,.2f} EUR" in made.text
    assert "EUR" not in Page(fn.build_sheet(fuel).html).text


def test_lengths_that_lack_what_ends_take_up_say_so_where_hoses_are_cut(page):
    runs, how = page.row("Runs, in the order the liquid meets them", "bay hose"), page.row("How hoses are cut", "bay hose, -6 ptfe, SAE 100R14")
    assert [row[4].replace("\u00a0", " ") for row in (runs, how)] == ["30 in less ends"] * 2
    assert "less" not in page.row("Runs, in the order the liquid meets them", "long line")[4]


def test_a_measured_bore_stands_in_the_units_of_the_sheet():
    car = truck()
    car.change("return hose", ends=["-6 37 flare female, bore 7.62 mm", "-6 37 flare female"])
    for units, said, other in (("us", "bore 0.3 in", "bore 7.62 mm"), ("metric", "bore 7.62 mm", "bore 0.3 in")):
        made = Page(fn.build_sheet(car, units=units).html)
        assert said in made.row("Runs, in the order the liquid meets them", "return hose")[2] and other not in made.text


def test_what_stays_open_is_told_with_the_bill_and_with_the_cost(tmp_path):
    prices = tmp_path / "prices.csv"
    prices.write_text("item,price,unit,weight\n*,1,each,1 lb\n", encoding="utf-8")
    car = wash()
    car.run("drain", "drum", "ambient", [fn.hose("-6", "1 m", spec="full-size", ends=["-6 37 flare female"] * 2, name="drain hose")], meets=["-6 barb male", ""])
    made, told = fn.fitted(car), "At least: what the 2 places still open need is not in the bill and not in the sum."
    left, shut = Page(fn.build_sheet(made, prices=str(prices)).html), Page(fn.build_sheet(made.circuit, prices=str(prices)).html)
    assert "Still open: drum to drain hose: " in left.text and told in left.text and "Cost at least " in left.text
    assert told not in shut.text and "1 of 2 joints not said" in shut.text


def test_one_thing_without_a_price_is_one_thing(tmp_path):
    prices = tmp_path / "prices.csv"
    prices.write_text("item,price,unit\nhose -8*,1,each\nsupport clamp*,1,each\n", encoding="utf-8")
    car = wash()
    assert ", 1 thing without a price" in Page(fn.build_sheet(car, prices=str(prices)).html).text  # its two ends are one
    car.change("long hose", ends=["-8 37 flare female", "-6 37 flare female"])
    assert ", 2 things without a price" in Page(fn.build_sheet(car, prices=str(prices)).html).text


def test_cautions_are_those_of_the_liquid(page):
    for said in ("Fuel burns.", "never put full-pressure air into a fuel system", "an extinguisher"):
        assert said in page.text
    cold = Page(fn.build_sheet(wash()).html)
    assert "Fuel burns" not in cold.text and "cans earthed" not in cold.text


def wash():
    car = fn.Circuit("rinse line", fluid="water")
    car.tank("drum", level="1 m")
    car.run("line", "drum", "ambient", [fn.hose("-8", "3 m", spec="full-size", name="long hose")])
    return car


@pytest.mark.parametrize("service, told", [("brakes", True), ("other", False)])
def test_brakes_go_to_a_qualified_shop_whatever_they_are_filled_with(service, told):
    made = fn.Circuit("invented car", fluid="MIL-PRF-5606", invented=True)
    made.fixed("cylinder", pressure="300 psi")
    made.run("front", "cylinder", "ambient", [fn.hose("-3", "15 in", spec="ptfe", name="left hose"), fn.orifice("1 mm")], service=service)
    html = fn.build_sheet(made).html
    assert ("the proof test is for a qualified shop" in html, "A qualified shop has inspected, bled and tested the brakes" in html) == (told, told)
    assert ("brake fluid on glycol destroys the seals of brakes on oil" in html) is told and ("water, or the liquid that it is made for" in html) is not told


def test_there_are_boxes_to_tick_and_lines_to_sign(page):
    boxes = [attributes for attributes in page.all("span") if attributes.get("class") == "box"]
    joints = [row for row in page.table("Joints, run by run") if len(row) > 1][1:]
    assert len(boxes) > len(joints) and all(one["aria-label"] for one in boxes)
    for said in ("built by", "checked by"):
        assert said in page.text
    assert [row[0] for row in page.table("Read on gauges when it runs: expected, and measured")][1] == "rail pressure [psig]"


def test_proposals_are_told_apart_from_what_was_said():
    car = truck()
    car.change("return hose", ends=["", ""])
    made = Page(fn.build_sheet(fn.fitted(car)).html)
    assert [title for level, title in made.headings if level == 2][1] == "Put in where nothing was said"
    assert [row[:2] for row in made.table("Put in")[1:]] == [["return hose", "inlet end, -6 37 flare female"], ["return hose", "outlet end, -6 37 flare female"]]


def test_an_adapter_between_two_that_do_not_seal_stands_by_itself_with_what_is_wrong():
    car = fn.Circuit("car", fluid="gasoline class A")
    car.tank("cell", level="9 in")
    car.junction("rail", demand="60 L/h")
    car.run("feed", "cell", "rail", [fn.hose("-8", "3 ft", spec="ptfe", ends=["-8 37 flare female"] * 2, name="hose")], meets=["-8 45 flare male", "-8 37 flare male"])
    found, = (one for one in fn.audit(car).findings if one.where == "cell to hose")
    made = Page(fn.build_sheet(fn.fitted(car)).html)
    assert [title for level, title in made.headings if level == 2][1:3] == ["Put in where nothing was said", "Put in because these two do not seal"]
    row = made.row("Put in between two that do not seal", "cell to hose")
    assert row[1].startswith("adapter, ") and row[2].startswith(f"{found.severity.upper()}: ") and "or change the hose end of hose to" in row[3]
    assert "Nothing had to be put in where nothing was said" in made.text


def test_units_are_those_asked_for(fuel):
    metric = Page(fn.build_sheet(fuel, units="metric").html)
    assert "N m" in metric.row("Joints, run by run", "suction hoseto pump")[5]
    assert metric.row("Test pressure of every line assembly, with liquid", "long line")[3] == "6.89 barg"
    for unit in (" psig", "ft-lb", "gal/h", " lb"):
        assert unit not in re.sub(r"\([^)]*\)", "", metric.text), unit


# ---- vehicles ----

def test_a_vehicle_shows_each_circuit_in_turn_and_totals():
    car = vehicle()
    made, bill = Page(fn.build_sheet(car).html), fn.bill(car)
    titles = [title for level, title in made.headings if level == 2]
    assert titles == ["What this is", "Circuit: oil", "Circuit: coolant", "Circuit: fuel", "All circuits together", "Where sources differ", "Tick and sign", "Sources"]
    below = [title for level, title in made.headings if level == 3]
    assert below == ORDER[1:10] * 3
    totals = {row[0]: row for row in made.table("Liquid and weight of each circuit and of all")}
    assert set(bill.circuits) < set(totals) and totals["invented truck"][1] == bill.total.volume.show("us").replace(" ", "\xa0")
    assert made.row("To buy, between circuits", "exchanger: plate cooler")[1] == "1"
    assert any(row[0].startswith("heat, oil to coolant") for row in made.table("What passes through the exchangers"))
    assert "Hot oil burns skin" in made.text and "Never open a hot cooling system" in made.text and "Fuel burns" in made.text


def test_every_circuit_of_a_vehicle_has_its_own_findings_and_lines():
    html = fn.build_sheet(vehicle()).html
    oil, coolant = html.index('class="circuit">Circuit: oil<'), html.index('class="circuit">Circuit: coolant<')
    assert oil < html.index("no relief valve after it") < coolant
    assert "oil hose" in html[oil:coolant] and "coolant hose" not in html[oil:coolant]


def test_60_parts_are_all_on_it():
    car = fn.Vehicle("sixty parts (invented)", invented=True)
    for number in range(3):
        circuit = fn.Circuit(f"circuit {number}", fluid="gasoline")
        circuit.tank("cell", level="9 in")
        circuit.junction("rail", demand="60 L/h")
        parts = [part for place in range(10) for part in (fn.hose("-8", "1 ft", spec="ptfe", standard="SAE 100R14", ends=["-8 37 flare female"] * 2,
                                                                  name=f"hose {place}"),
                                                          fn.filter("0.1 psi at 100 gph", ends=["-8 37 flare male"] * 2, name=f"filter {place}"))]
        circuit.run("feed", "cell", "rail", parts)
        car.add(circuit)
    made = Page(fn.build_sheet(car).html)
    rows = [row for caption, table in made.tables if caption.startswith("Runs") for row in table if len(row) == 6]
    assert len(rows) == 3 * (1 + 20)


def test_sources_are_listed_once_and_from_memory_is_marked(page):
    marks = [int(number) for number in re.findall(r"\[(\d+)\] ", page.text)]
    listed = page.text[page.text.rindex("From memory:"):]
    numbers = [int(number) for number in re.findall(r"\[(\d+)\]", listed)]
    assert numbers == list(range(1, len(numbers) + 1)) and set(marks) <= set(numbers)


# ---- what is refused ----

@pytest.mark.parametrize("given, key", [({"units": "imperial"}, "units"), ({"path": "sheet.pdf"}, "path"), ({"answer": "none"}, "answer")])
def test_what_cannot_be_is_refused_with_its_cure(fuel, given, key):
    with pytest.raises(fn.CircuitError, match=key):
        fn.build_sheet(fuel, **given)


def test_no_circuit_and_an_answer_of_another_are_refused(fuel):
    with pytest.raises(fn.CircuitError, match="no circuit"):
        fn.build_sheet("car")
    with pytest.raises(fn.CircuitError, match="rinse line"):
        fn.build_sheet(fuel, answer=wash().solve())


def test_a_case_that_is_not_solved_is_said_and_no_number_of_it_shown():
    car = fn.Circuit("asks too much", fluid="gasoline class A", invented=True)
    car.tank("tank", level="4 in")
    car.junction("end", demand="1 gph")
    car.run("line", "tank", "end", [fn.hose(bore="2 mm", length="6 m", name="thin hose")])
    car.case("little")
    car.case("much", **{"end.demand": "50 gph"})
    made = Page(fn.build_sheet(car).html)
    assert "Not solved: much. No number of these cases is known." in made.text and "cannot be met" in made.text
    assert made.row("Each operating case", "end pressure [inHg vacuum]")[2] == "–" and made.row("Each operating case", "answer")[2] == "not\xa0solved"
    assert made.row("Test pressure of every line assembly, with liquid", "thin hose")[2] == "little"
    car.cases.pop("little")
    alone = Page(fn.build_sheet(car).html)
    assert "not known, as no case is solved" in alone.text and not re.search(r"\bnan\b", alone.text)


def test_it_saves_itself(tmp_path, fuel):
    sheet = fn.build_sheet(fuel, tmp_path / "car.html")
    assert (tmp_path / "car.html").read_text(encoding="utf-8") == sheet.html
    assert repr(sheet).startswith("<build sheet of 'invented pickup, tank to rail': ")
