"""Lines that a pedal presses, of brakes and of a clutch: what holds in them, what is proposed, bought and tightened. All circuits are invented."""

import pytest

import flarenut as fn


def pedals(*parts, meets=("", ""), service="clutch", fluid="ISO VG 32", name="pedals (invented)"):
    made = fn.Circuit(name, fluid=fluid, invented=True, service=service)
    made.fixed("master", pressure="900 psi")
    made.run("line", "master", "ambient", [*parts, fn.orifice("0.5 mm", name="jet")], meets=list(meets))
    return made


PIPE = fn.tube("3/16 in", "3 ft", wall="0.028 in", material="SAE J527", name="pipe")


def stops(circuit):
    return [one.where for one in fn.audit(circuit).findings if one.severity == "stop"]


# ---- clamps ----

@pytest.mark.parametrize("service, fluid", [("clutch", "ISO VG 32"), ("clutch", "DOT 4"), ("brakes", "MIL-PRF-5606"), (None, "DOT 4")])
def test_a_clamped_hose_behind_a_pedal_is_refused_before_and_after_fitting(service, fluid):
    circuit = pedals(PIPE, fn.hose("-4", "1 ft", spec="push-on", clamped=True, name="hose"), service=service, fluid=fluid)
    made = fn.fitted(circuit)
    assert "hose" in stops(circuit) and "hose" in stops(made.circuit)
    assert "barb" not in made.text().partition("Left open")[0] and any(one.where == "hose" and "no clamp" in one.what for one in made.open)
    assert not any("barb" in row.item for row in fn.bill(made).rows)


@pytest.mark.parametrize("service", ["clutch", "brakes"])
def test_a_port_with_a_barb_gets_no_clamped_hose_and_no_adapter_behind_a_pedal(service):
    made = fn.fitted(pedals(fn.hose("-4", "1 ft", spec="push-on", name="hose"), fn.hose("-4", "1 ft", spec="ptfe", ends=["-4 37 flare female"] * 2, name="other"),
                            meets=["barb -4", "barb -4"], service=service))
    assert not any("barb" in one.what or "adapter" in one.what for one in made.proposals)
    assert any("no clamp" in one.what for one in made.open) and not made.circuit.runs["line"].pieces[0].shop.clamped


@pytest.mark.parametrize("service, verdict", [("clutch", "refused"), ("brakes", "refused"), ("other", "seals"), ("steering", "seals")])
def test_a_barb_behind_a_pedal_is_no_joint_that_seals(service, verdict):
    circuit = pedals(fn.hose("-4", "1 ft", spec="push-on", clamped=True, ends=["barb -4 clamped", ""], name="hose"), meets=["barb -4", ""], service=service)
    audit = fn.audit(circuit)
    assert audit.joints[0].verdict == verdict and audit.passes is (verdict == "seals") and ("hose" in stops(circuit)) is (verdict == "refused")


def test_no_union_and_no_tee_with_barbs_is_put_behind_a_pedal():
    through = pedals(fn.hose("-4", "3 ft", spec="push-on", clamped=True, through="firewall at 1 ft", name="hose"))
    made = fn.fitted(through)
    assert not any("bulkhead" in one.what for one in made.proposals) and any("bulkhead" in one.what and "no clamp" in one.what for one in made.open)
    assert not any("barb" in row.item for row in fn.bill(through).rows)
    three = fn.Circuit("pedals (invented)", fluid="ISO VG 32", service="clutch")
    three.fixed("master", pressure="900 psi")
    for name, start, end in (("in", "master", "middle"), ("left", "middle", "ambient"), ("right", "middle", "ambient")):
        three.run(name, start, end, [fn.hose("-4", "1 ft", spec="push-on", clamped=True, name=f"{name} hose"), fn.orifice("0.5 mm", name=f"{name} jet")])
    made = fn.fitted(three)
    assert not made.circuit.multiport and any(one.where == "middle" and "no barb" in one.what for one in made.open)


# ---- nuts ----

NUTS = [("3/8 in", "0.035 in", "-3 inverted flare male", True), ("1/4 in", "0.028 in", "M10x1 bubble flare male", True),
        ("1/2 in", "0.035 in", "M10x1 double flare male", True), ("1/4 in", "0.028 in", "-3 inverted flare male", True),
        ("6 mm", "1 mm", "-4 inverted flare male", True), ("3/16 in", "0.028 in", "M12x1 bubble flare male", True),
        ("3/16 in", "0.028 in", "-3 inverted flare male", False), ("4.75 mm", "0.7 mm", "-3 inverted flare male", False),
        ("3/16 in", "0.028 in", "M10x1 bubble flare male", False), ("5 mm", "0.7 mm", "M10x1 bubble flare male", False),
        ("4.75 mm", "0.7 mm", "M10x1 double flare male", False), ("1/4 in", "0.028 in", "M12x1 bubble flare male", False),
        ("6 mm", "0.7 mm", "M12x1 bubble flare male", False), ("1/4 in", "0.028 in", "-4 inverted flare male", False),
        ("5/16 in", "0.028 in", "-5 inverted flare male", False), ("8 mm", "1 mm", "-5 inverted flare male", False)]


@pytest.mark.parametrize("size, wall, end, wrong", NUTS)
def test_the_nut_of_a_brake_pipe_goes_on_one_outside(size, wall, end, wrong):
    """Inch nuts by SAE J512, 3/8-24 on 3/16 in and 7/16-24 on 1/4 in tube (seen); metric ones from memory: M10x1 on 4.75 and 5 mm, M12x1 on 6 mm and 1/4 in."""
    pipe = fn.tube(size, "3 ft", wall=wall, name="pipe", ends=[end, ""])
    found = [one for one in fn.audit(pedals(pipe, service=None)).findings if one.code == "nut of another size"]
    assert [one.severity for one in found] == ["fix"] * wrong, found
    assert all("does not fit its outside" in one.text() and ("M1" not in end or "verify before use" in one.text()) for one in found)


@pytest.mark.parametrize("service, fluid", [("clutch", "ISO VG 32"), ("brakes", "DOT 4")])
def test_a_port_whose_nut_does_not_go_on_the_pipe_is_left_open(service, fluid):
    pipe = fn.tube("1/4 in", "3 ft", wall="0.028 in", material="SAE J527", name="pipe")
    circuit = fn.Circuit("pedals (invented)", fluid=fluid, service=service)
    circuit.run("line", "master", "slave", [pipe], meets=["-3 inverted flare female", "-4 inverted flare female"])
    made = fn.fitted(circuit)
    assert [None if end is None else str(end) for end in made.circuit.runs["line"].pieces[0].shop.ends] == [None, "-4 inverted flare male"]
    assert any(one.where == "pipe" and "3/16 in tube" in one.what for one in made.open)


def test_a_pipe_with_a_37_degree_nut_gets_no_male_one_against_the_nut_of_a_hose():
    hose = fn.hose("-3", "1 ft", spec="ptfe", standard="FMVSS 106", name="hose", ends=["-3 37 flare female"] * 2)
    made = fn.fitted(pedals(PIPE, hose, service="brakes"))
    assert str(made.circuit.runs["line"].pieces[0].shop.ends[1]) == "-3 37 flare female"
    assert "adapter, -3 37 flare male to -3 37 flare male" in [one.what for one in made.proposals]


# ---- what is bought ----

@pytest.mark.parametrize("size, words, told", [
    ("-3", {"spec": "ptfe", "standard": "FMVSS 106"}, ""), ("-3", {"spec": "ptfe", "standard": "SAE J1401"}, ""),
    ("-4", {"spec": "push-on"}, "no brake hose: see findings"), ("-4", {"spec": "push-on", "standard": "SAE 30R9"}, "no brake hose: see findings"),
    ("-4", {"spec": "ptfe"}, "no brake hose: see findings"), ("-4", {"spec": "full-size"}, "not said to be brake hose: see findings")])
def test_only_hose_of_a_brake_standard_is_listed_as_brake_hose(size, words, told):
    circuit = pedals(fn.hose(size, "1 ft", name="hose", **words), service="brakes")
    bill, cuts = fn.bill(circuit), " ".join(fn.cut_list(circuit).text(width=300).split())
    (row,) = [row for row in bill.rows if "made up" in row.item]
    assert row.item.startswith("brake hose") is (not told) and told in row.item and ("brake hose -" in bill.text(width=300)) is (not told)
    assert ("Brake hose: order made up" in cuts) is (not told) and told in cuts and "order 12 in made up" in cuts
    assert row.group == ("Other" if told else "Brake") + " hose, bought made up"


def test_the_hose_of_a_clutch_in_brake_fluid_is_no_brake_hose_and_that_of_a_reservoir_is_cut():
    clutch = pedals(fn.hose("-4", "1 ft", spec="ptfe", name="hose"), fluid="DOT 4")
    assert "see findings" not in fn.bill(clutch).text() and fn.bill(clutch).count("hose -4 ptfe, of a clutch, made up*") == 1
    other = pedals(fn.hose("-4", "1 ft", spec="push-on", clamped=True, name="hose"), fluid="DOT 4", service="other", meets=["barb -4", ""])
    made = fn.fitted(other)
    assert not fn.cut_list(other)["hose"].made_up and str(made.circuit.runs["line"].pieces[0].shop.ends[0]).startswith("-4 barb female") and not stops(made.circuit)


def test_hose_that_is_no_brake_hose_is_priced_by_the_piece(tmp_path):
    file = tmp_path / "mine.csv"
    file.write_text("item,price,unit\nhose *,9,ft\nbrake hose *,40,\nhose,44,\n", encoding="utf-8")
    (row,) = [row for row in fn.bill(pedals(fn.hose("-4", "1 ft", spec="ptfe", name="hose"), service="brakes"), file).rows if "made up" in row.item]
    assert row.cost == 44.0


# ---- the solve ----

def told(circuit, code):
    case = circuit.solve()["as written"]
    assert case.converged, case.cause
    return [(one.severity, one.where) for one in case.findings if one.code == code]


@pytest.mark.parametrize("fluid", ["ISO VG 32", "MIL-PRF-5606", "DOT 4"])
@pytest.mark.parametrize("words, severity", [
    ({"spec": "push-on"}, "stop"), ({"spec": "ptfe", "clamped": True}, "stop"), ({"spec": "push-on", "maker_pressure": "250 psi"}, "fix"),
    ({"standard": "SAE 30R9"}, "fix"), ({"spec": "full-size"}, "fix"), ({"spec": "ptfe"}, None), ({"spec": "full-size", "maker_pressure": "2000 psi"}, None),
    ({"standard": "FMVSS 106", "bore": "3.2 mm"}, None)])
def test_a_clutch_is_judged_in_any_liquid(fluid, words, severity):
    bore = words.get("bore", "5 mm")
    size = {"bore": bore} if "bore" in words or "spec" not in words else {"size": "-4"}
    circuit = pedals(fn.hose(**size, length="1 ft", name="hose", **{key: value for key, value in words.items() if key != "bore"}), fluid=fluid)
    assert told(circuit, "clutch line") == ([(severity, "hose")] if severity else [])
    assert not told(circuit, "brake line")


def test_a_clutch_wants_no_soft_tube_and_what_serves_another_is_left_alone():
    soft = fn.tube("3/16 in", "3 ft", wall="0.028 in", material="5052-O", name="pipe")
    assert told(pedals(soft), "clutch line") == [("fix", "pipe")] and told(pedals(PIPE), "clutch line") == []
    assert told(pedals(fn.hose("-4", "1 ft", spec="push-on", name="hose"), service="other"), "clutch line") == []
    assert told(pedals(fn.hose("-4", "1 ft", spec="push-on", name="clutch hose"), service=None, fluid="DOT 4"), "clutch line") == [("stop", "clutch hose")]


@pytest.mark.parametrize("pressure, words, count", [
    ("900 psi", {"spec": "push-on"}, 1), ("900 psi", {"spec": "ptfe", "clamped": True}, 1), ("900 psi", {"spec": "ptfe"}, 0), ("60 psi", {"spec": "push-on"}, 0)])
def test_steering_without_a_pump_in_its_circuit_is_judged_by_its_pressure(pressure, words, count):
    circuit = fn.Circuit("rack (invented)", fluid="ISO VG 32", service="steering")
    circuit.fixed("pump", pressure=pressure)
    circuit.run("line", "pump", "ambient", [fn.hose("-6", "3 ft", name="hose", **words), fn.orifice("0.5 mm", name="jet")])
    assert told(circuit, "steering hose") == [("stop", "hose")] * count


# ---- torque ----

def tightened(tube, ends, port="", service="brakes"):
    """What the listing says of a pipe in an adapter: materials of both as said, "" for nothing."""
    female = {"female": "male", "male": "female"}[ends.split()[-1]]
    circuit = fn.Circuit("pedals (invented)", fluid="ISO VG 32", service=service)
    circuit.run("line", "master", "slave", [
        fn.adapter([f"{ends.rsplit(' ', 1)[0]} {female}"] * 2, name="adapter", bore="3 mm", **({"material": port} if port else {})),
        fn.tube("3/16 in" if "-4" not in ends else "1/4 in", "3 ft", wall="0.028 in", name="pipe", ends=[ends, ""], **({"material": tube} if tube else {}))])
    return fn.audit(circuit).listing("us").rows[1][6]


@pytest.mark.parametrize("service", ["brakes", "clutch"])
@pytest.mark.parametrize("ends, tube, port, told", [
    ("-3 37 flare female", "304 stainless", "", "95 to 105 in-lb"), ("-3 37 flare female", "SAE J527", "steel", "95 to 105 in-lb"),
    ("-3 37 flare female", "", "steel", "95 to 105 in-lb"), ("-3 37 flare female", "", "", "say the material"), ("-4 inverted flare male", "", "", "say the material"),
    ("-3 37 flare female", "", "brass", "say the material"), ("-3 37 flare female", "90/10 copper-nickel", "steel", "as the maker says"),
    ("-3 37 flare female", "304 stainless", "aluminium", "25 to 35 in-lb"), ("-3 37 flare female", "5052-O", "", "no place behind a pedal"),
    ("M10x1 bubble flare male", "5052-O", "", "no place behind a pedal"), ("M10x1 bubble flare male", "5052-O", "steel", "no place behind a pedal")])
def test_behind_a_pedal_no_torque_of_aluminium_is_guessed(service, ends, tube, port, told):
    """AC 43.13-1B, from memory: -3 nut on aluminium tube 25 to 35 in-lb, on steel tube 95 to 105 in-lb."""
    said = tightened(tube, ends, port, service)
    assert told in said and ("in-lb" in said) is ("in-lb" in told) and "if both" not in said


def test_the_torque_of_brake_pipe_is_no_torque_of_an_aluminium_tube():
    """15 N m, 11 lb-ft, is printed for steel brake pipe by two car makers; the common inverted nut has 9 to 13 N m in steel, half of it in soft parts."""
    assert tightened("SAE J527", "M10x1 bubble flare male").startswith("133 in-lb")
    assert "in-lb" not in tightened("5052-O", "M10x1 bubble flare male", service="other")
    assert tightened("5052-O", "-3 inverted flare male", service="other").startswith("40 to 58 in-lb")
    circuit = pedals(fn.tube("3/16 in", "3 ft", wall="0.028 in", material="5052-O", name="pipe"), service="brakes")
    assert told(circuit, "brake line") == [("stop", "pipe")]
