"""The audit of joints: wrong plumbing is refused with its reason, right plumbing passes; what is proposed passes its own audit."""

import pytest

import flarenut as fn


def feed(parts, meets=("", ""), fluid="gasoline"):
    car = fn.Circuit("car", fluid=fluid)
    car.tank("cell", level="9 in")
    car.junction("rail", demand="60 L/h")
    car.run("feed", "cell", "rail", parts, meets=list(meets))
    return car


def hose(*ends, size="-8", **more):
    return fn.hose(size, "3 ft", spec="ptfe", name="hose", ends=list(ends), **more)


def filter_(*ends, **more):
    return fn.filter("1 psi at 90 gph", name="filter", ends=list(ends), **more)


# What is wrong -> circuit, code and severity of the finding, words of its text.
WRONG = {
    "37 with 45 on one thread": (lambda: feed([hose("-8 37 flare female", "")], ["-8 45 flare male", ""]), "joint does not seal", "stop", ["3/4-16", "37", "45"]),
    "37 with 45 of another thread": (lambda: feed([hose("-6 37 flare female", "", size="-6")], ["-6 45 flare male", ""]), "joint needs an adapter", "fix",
                                     ["9/16-18", "5/8-18"]),
    "flare nose in a boss": (lambda: feed([hose("-6 37 flare male", "", size="-6")], ["-6 O-ring boss female", ""]), "joint does not seal", "stop",
                             ["9/16-18", "O-ring"]),
    "boss fitting in a flare nut": (lambda: feed([hose("", "-8 37 flare female"), filter_("-8 O-ring boss male", "")]), "joint does not seal", "stop", ["3/4-16"]),
    "brake nut in a flare fitting": (lambda: feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["-3 inverted flare male", ""])], ["-3 37 flare female", ""],
                                                  "DOT 4"), "joint does not seal", "stop", ["3/8-24"]),
    "bubble flare in a double-flare seat": (lambda: feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["M10x1 bubble flare male", ""])],
                                                         ["M10x1 metric double flare female", ""], "DOT 4"), "joint does not seal", "stop", ["M10x1"]),
    "inch brake nut forced into metric": (lambda: feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["-3 inverted flare male", ""])],
                                                       ["M10x1 bubble flare female", ""], "DOT 4"), "joint does not seal", "stop", ["3/8-24", "M10x1", "forced"]),
    "pipe thread with british pipe thread": (lambda: feed([fn.adapter(["1/2 NPT male", "-8 37 flare male"], bore="10 mm", name="nipple")], ["1/2 BSPT female", ""]),
                                             "joint does not seal", "stop", ["degrees"]),
    "two nuts": (lambda: feed([hose("", "-8 37 flare female"), filter_("-8 37 flare female", "")]), "joint needs an adapter", "fix", ["both female"]),
    "two sizes": (lambda: feed([hose("", "-8 37 flare female"), filter_("-6 37 flare male", "")]), "joint needs an adapter", "fix", ["two sizes"]),
    "pipe thread in a boss": (lambda: feed([fn.adapter(["3/8 NPT male", "-8 37 flare male"], bore="10 mm", name="nipple")], ["-8 O-ring boss female", ""]),
                              "joint needs an adapter", "fix", ["3/4-16"]),
    "tape on a flare": (lambda: feed([hose("-8 37 flare female", "", sealant="tape")]), "sealant where none belongs", "fix", ["tape", "37 degrees"]),
    "paste on an O-ring boss": (lambda: feed([filter_("-8 O-ring boss male", "", sealant="paste")]), "sealant where none belongs", "fix", ["paste", "O-ring"]),
    "dry pipe thread": (lambda: feed([filter_("3/8 NPT male", "", sealant="none")]), "taper thread without sealant", "fix", ["3/8 NPT"]),
    "stacked adapters": (lambda: feed([fn.adapter(["-10 O-ring boss male", "-8 37 flare male"], name="one"), fn.adapter(["-8 37 flare female", "-6 37 flare male"], name="two"),
                                       hose("-6 37 flare female", "", size="-6")]), "stacked adapters", "watch", ["2 fittings", "one, two"]),
    "hose end of another size": (lambda: feed([hose("-6 37 flare female", "", size="-8")]), "hose end of another size", "watch", ["-8"]),
    "a barb without a clamp": (lambda: feed([fn.hose("-6", "2 ft", spec="push-on", name="hose", ends=["barb -6 female", ""])]), "hose without a clamp", "fix", ["clamp"]),
    "a hose too wide for its barb": (lambda: feed([fn.hose("-8", "2 ft", spec="push-on", name="hose", ends=["barb -8 female", ""], clamped=True)], ["barb -6 male", ""]),
                                     "joint does not fit", "fix", ["too wide"]),
    "a cut tube": (lambda: feed([fn.tube("3/8 in", "3 ft", name="pipe", ends=["plain tube -6", ""])], ["-6 37 flare male", ""]), "joint does not fit", "fix", ["flare it"]),
    "a clamp in a brake line": (lambda: feed([fn.hose("-3", "1 ft", spec="push-on", name="hose", ends=["barb -3 female", ""], clamped=True)], fluid="DOT 4"),
                                "no end for brakes", "stop", ["barb", "panic stop"]),
    "a clamped hose of another size": (lambda: feed([fn.hose("-8", "2 ft", spec="push-on", name="hose", clamped=True)], ["barb -6 male", ""]), "joint does not fit",
                                       "fix", ["too wide"]),
    "a barb where the hose's own end is meant": (lambda: feed([fn.hose("-8", "2 ft", spec="push-on", name="hose", ends=["barb -8", ""], clamped=True)], ["barb -8", ""]),
                                                 "joint does not fit", "fix", ["barb -8 clamped"]),
    "aluminium in alcohol": (lambda: feed([fn.adapter(["-8 O-ring boss male", "-8 37 flare male"], material="aluminium", name="port")], fluid="E85"),
                             "material and liquid", "watch", ["aluminium", "pits"]),
    "a PTFE hose that says it is clamped": (lambda: feed([fn.hose("-6", "5 ft", spec="ptfe", bore="9.5 mm", name="hose", clamped=True)], ["barb -6", ""]),
                                            "hose that takes no clamp", "stop", ["slides off"]),
    "a wire-braided hose that says it is clamped": (lambda: feed([fn.hose("-6", "5 ft", spec="full-size", standard="SAE 100R1", name="hose", clamped=True)],
                                                                 ["barb -6", ""]), "hose that takes no clamp", "stop", ["braid"]),
    "a nut of another size than the tube": (lambda: feed([fn.tube("1/2 in", "3 ft", name="pipe", ends=["-6 37 flare female", ""])]), "nut of another size", "fix",
                                            ["-8"]),
    "a metric tube in a nut of another size": (lambda: feed([fn.tube("12 mm", "1 m", wall="1 mm", name="pipe", ends=["-6 37 flare female", ""])]),
                                               "nut of another size", "fix", ["-8"]),
    "clamped on a flare nose": (lambda: feed([fn.hose("-8", "2 ft", standard="SAE 30R9", name="hose", clamped=True)], ["-8 37 flare male", ""]),
                                "clamped on no barb", "stop", ["slides off"]),
    "clamped and ended": (lambda: feed([hose("-8 37 flare female", "", clamped=True)]), "clamped and ended", "fix", ["both"]),
    "a single flare in a brake line": (lambda: feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["-3 45 flare female", ""])], fluid="DOT 4"),
                                       "no flare of brakes", "fix", ["double flare"]),
    "a pipe thread in a brake line": (lambda: feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["1/8 NPT male", ""])], fluid="DOT 4"),
                                      "no flare of brakes", "fix", ["taper thread"]),
    "a PTFE hose on a barb": (lambda: feed([fn.hose("-6", "2 ft", spec="ptfe", name="hose", ends=["barb -5 female", ""], clamped=True)]), "hose that takes no clamp",
                              "stop", ["slides off"]),
    "a wire-braided hose on a barb": (lambda: feed([fn.hose("-6", "2 ft", standard="SAE 100R5", name="hose", ends=["barb -5 female", ""], clamped=True)]),
                                      "hose that takes no clamp", "stop", ["braid"]),
    "a size step of two forms": (lambda: feed([fn.adapter(["-8 37 flare female", "-6 O-ring boss male"], name="step")]), "size steps", "note", ["-8 to -6"]),
    "size steps": (lambda: feed([fn.adapter(["-8 37 flare female", "-6 37 flare male"], name="step"), hose("-6 37 flare female", "", size="-6")]), "size steps", "note",
                   ["-8 to -6"]),
}


@pytest.mark.parametrize("slip", WRONG)
def test_wrong_plumbing_is_found_with_its_reason(slip):
    make, code, severity, told = WRONG[slip]
    found = [one for one in fn.audit(make()).findings if one.code == code]
    assert [one.severity for one in found] == [severity], fn.audit(make()).text()
    assert all(word in found[0].text() for word in told), found[0].text()


RIGHT = {
    "flare on flare": lambda: feed([hose("-8 37 flare female", "-8 37 flare female, 90 deg")], ["-8 37 flare male", "-8 37 flare male"]),
    "boss in its port": lambda: feed([fn.adapter(["-8 O-ring boss male", "-8 37 flare male"], name="port"), hose("-8 37 flare female", "-8 37 flare female")],
                                     ["-8 O-ring boss female", "-8 37 flare male"]),
    "pipe thread with paste": lambda: feed([fn.adapter(["3/8 NPT male", "-8 37 flare male"], bore="10 mm", name="nipple", sealant="paste"),
                                            hose("-8 37 flare female", "-8 37 flare female")], ["3/8 NPT female", "-8 37 flare male"]),
    "clamped on a barb": lambda: feed([fn.hose("-6", "2 ft", spec="push-on", name="hose", ends=["barb -6 female", "barb -6 female"], clamped=True)],
                                      ["barb -6 male", "barb -6 male"]),
    "brake pipe": lambda: feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["-3 inverted flare male", "-3 inverted flare male"])],
                               ["-3 inverted flare female", "-3 inverted flare female"], "DOT 4"),
    "metric tube in the nut that is paired with it": lambda: feed([fn.tube("10 mm", "1 m", wall="1 mm", name="pipe", ends=["-6 37 flare female"] * 2)],
                                                                  ["-6 37 flare male"] * 2),
    "nothing said": lambda: feed([fn.hose("-8", "3 ft", spec="ptfe")]),
}


@pytest.mark.parametrize("case", RIGHT)
def test_right_plumbing_passes_without_a_word(case):
    found = fn.audit(RIGHT[case]())
    assert found.passes and not found.findings, found.text()


def test_joints_are_counted_shown_and_of_vehicles_named_with_their_circuit():
    car = feed([hose("-8 37 flare female", "")], ["-8 45 flare male", ""])
    whole = fn.audit(fn.Vehicle("coupe", car))
    assert whole.counts() == {"seals": 0, "adapter": 0, "refused": 1, "not said": 1} and not whole.passes
    assert whole.findings[0].where.startswith("car: cell to hose") and "REFUSED" in whole.text(width=200)
    assert "car: cell to hose" in whole.listing().csv()


def test_torque_is_shown_in_both_systems_beside_its_material():
    car = feed([hose("-6 37 flare female", "", size="-6")], ["-6 37 flare male", ""])
    metric, us = (fn.audit(car).listing(units).rows[0][6] for units in ("metric", "us"))
    assert metric.startswith("17 to 22 N m, aluminium") and us.startswith("150 to 195 in-lb = 13 to 16 ft-lb, aluminium")  # a maker's sheet of aluminium ends
    assert "if both are of steel: 24 to 28 N m, steel hose end on steel" in metric  # 210 to 250 in-lb, S6


@pytest.mark.parametrize("port, end, first, both", [
    ("", "", "17 to 22", True), (", aluminium", ", steel", "17 to 22", False), (", steel", ", stainless steel", "24 to 28", False), (", steel", "", "17 to 22", True),
    (", brass", "", "17 to 22", False)])
def test_the_material_of_ports_and_ends_is_a_word_of_theirs_and_the_weaker_side_decides(port, end, first, both):
    said = fn.audit(feed([hose(f"-6 37 flare female{end}", "", size="-6")], [f"-6 37 flare male{port}", ""])).listing("metric").rows[0][6]
    assert said.startswith(f"{first} N m") and ("if both are of steel" in said) is both


def test_a_boss_in_aluminium_takes_half_of_that_in_steel():
    """-6: 18 ft-lb and 10 % in steel (two machine makers), half in non-ferrous ports (an engine maker)."""
    def said(port):
        return fn.audit(feed([fn.adapter(["-6 O-ring boss male", "-6 37 flare male"], material="steel", name="one")], [f"-6 O-ring boss female{port}", ""])).listing("metric").rows[0][6]

    assert said(", aluminium").startswith("11 to 13 N m") and said(", steel").startswith("22 to 27 N m")
    assert said("").startswith("11 to 13 N m") and "if both are of steel: 22 to 27 N m" in said("")


@pytest.mark.parametrize("name, fluid, service, least, most", [
    ("car", "gasoline", None, 13.0, 17.0), ("car", "DOT 4", None, 34.0, 34.0), ("car", "MIL-PRF-5606", "brakes", 34.0, 34.0),
    ("front brakes", "MIL-PRF-5606", None, 34.0, 34.0), ("car", "MIL-PRF-5606", None, 13.0, 17.0)])
def test_a_banjo_takes_the_torque_of_brakes_only_where_it_brakes(name, fluid, service, least, most):
    """25 lb-ft of a caliper would tear the hollow bolt of a fuel line, 15 +/- 2 N m; either is shown beside the other."""
    made = fn.Circuit(name, fluid=fluid, service=service)
    made.tank("cell")
    made.run("feed", "cell", "ambient", [fn.hose("-3", "1 ft", spec="ptfe", name="hose", ends=["banjo M10x1", ""])], meets=["banjo M10x1 female", ""])
    torque = next(one.mating.torque for one in fn.audit(made).joints if one.mating)
    assert (torque.low, torque.high) == (least, most) and {13.0, 34.0} <= {torque.low, *(one.low for one in torque.others)}


def test_oil_in_a_circuit_called_brakes_is_held_to_the_ends_of_brakes():
    made = fn.Circuit("front brakes", fluid="MIL-PRF-5606")
    made.tank("cell")
    made.run("feed", "cell", "ambient", [fn.hose("-3", "1 ft", spec="push-on", name="hose", ends=["barb -3 clamped"] * 2, clamped=True)])
    assert "no end for brakes" in [one.code for one in fn.audit(made).findings] and fn.cut_list(made)["hose"].made_up


def test_a_joint_of_steel_takes_the_torque_of_steel_and_an_unsaid_material_is_soft():
    def torque(**more):
        car = feed([fn.adapter(["-8 O-ring boss male", "-6 37 flare male"], name="one", **more),
                    fn.tube("3/8 in", "3 ft", material="steel", name="pipe", ends=["-6 37 flare female", ""])])
        return fn.audit(car).listing("us").rows[1][6]

    assert torque(material="brass").startswith("110 to 125 in-lb") and "both are of steel" not in torque(material="brass")  # 3/8 aluminium: S6 and M8
    assert torque(material="stainless steel").startswith("270 to 300 in-lb = 23 to 25 ft-lb, steel tube")  # S6
    assert "110 to 125 in-lb" in torque() and "if both are of steel: 270 to 300 in-lb = 23 to 25 ft-lb" in torque()
    with pytest.raises(ValueError, match="no material of fittings"):
        fn.filter("1 psi at 90 gph", material="wood")


def test_a_source_from_memory_says_so_also_where_it_is_one_of_several():
    car = feed([fn.tube("3/16 in", "3 ft", name="pipe", ends=["M10x1 bubble flare male", ""])], ["M10x1 metric double flare female", ""], "DOT 4")
    assert "from memory: verify before use" in fn.audit(car).findings[0].text()


def test_ends_and_adapters_are_proposed_pass_their_own_audit_and_cost_pressure():
    car = fn.Circuit("car", fluid="E85")
    car.tank("cell", level="9 in")
    car.junction("rail", demand="200 L/h")
    car.run("feed", "cell", "rail", [
        fn.electric_pump([["0 L/h", "95 psi"], ["255 L/h", "60 psi"]], name="pump", ends=["", "-6 O-ring boss female"]), fn.hose("-8", "11 ft", spec="ptfe"),
        fn.filter("1.2 psi at 100 gph", name="filter", ends=["-8 O-ring boss female", "-8 O-ring boss female"]), fn.tube("1/2 in", "3 ft", name="pipe")],
        meets=["", "-6 37 flare male"])
    made = fn.fitted(car)
    words = [one.what for one in made.proposals]
    assert words.count("adapter, -6 O-ring boss male to -8 37 flare male") == 1 and "inlet end, -8 37 flare female" in words
    audit = fn.audit(made.circuit)
    assert audit.passes and audit.counts()["seals"] == 8 and audit.counts()["adapter"] == 0
    assert [piece.name for piece in car.runs["feed"].pieces] == ["pump", None, "filter", "pipe"]  # the circuit itself stays as it was
    assert made.circuit.solve()["as written"].at("rail").gauge.si < car.solve()["as written"].at("rail").gauge.si
    again = fn.fitted(made.circuit)
    assert not again.proposals


def test_what_nobody_says_is_left_open_with_the_reason():
    made = fn.fitted(feed([fn.hose("-8", "3 ft", spec="ptfe", name="hose"), filter_("-8 O-ring boss female", "")], ["", ""]))
    assert ["nothing is said of what 'cell' offers there"] == [one.what for one in made.open if one.where == "cell to hose"]
    assert made.circuit.runs["feed"].pieces[0].shop.ends[0] == fn.catalog.end("-8 37 flare female")
    by_bore = fn.fitted(feed([fn.hose(length="3 ft", bore="9 mm", name="odd")]))
    assert any("nothing is known of its size" in one.what for one in by_bore.open)


def test_brake_lines_get_the_flare_of_their_port_and_barbs_a_clamped_hose():
    car = feed([fn.tube("3/16 in", "3 ft", name="pipe")], ["-3 inverted flare female", "M10x1 bubble flare female"], "DOT 4")
    assert [str(end) for end in fn.fitted(car).circuit.runs["feed"].pieces[0].shop.ends] == ["-3 inverted flare male", "M10x1 bubble flare male"]
    braided = fn.fitted(feed([fn.hose("-6", "2 ft", spec="ptfe", name="hose")], ["barb -5 male", ""]))
    assert braided.circuit.runs["feed"].pieces[0].shop.ends[0] is None and any("must not be clamped" in one.what for one in braided.open)
    soft = fn.fitted(feed([fn.hose("-6", "2 ft", spec="push-on", name="hose")], ["barb -6 male", "barb -6 male"])).circuit
    assert soft.runs["feed"].pieces[0].shop.clamped and fn.audit(soft).passes


def test_a_tee_is_put_where_three_runs_meet_and_costs_what_a_written_one_costs():
    def split(written):
        car = fn.Circuit("car", fluid="gasoline")
        car.tank("cell", level="9 in")
        car.fixed("pump", pressure="60 psi")
        for rail in ("left", "right"):
            car.junction(rail, demand="60 L/h")
        car.run("feed", "pump", "fork", [fn.hose("-8", "3 ft", spec="ptfe")])
        ways = ("fork through", "fork branch") if written else ("fork", "fork")
        if written:
            car.tee("fork tee", "fork", *ways, size="-8", ends=["-8 37 flare male"] * 3)
        car.run("to left", ways[0], "left", [fn.hose("-8", "2 ft", spec="ptfe")])
        car.run("to right", ways[1], "right", [fn.hose("-6", "2 ft", spec="ptfe")])
        return car

    made = fn.fitted(split(False))
    assert made.proposals[0].what == "tee, -8 37 flare male, straight from feed to to left, to right on its branch"
    assert "adapter, -8 37 flare female to -6 37 flare male" in [one.what for one in made.proposals] and fn.audit(made.circuit).passes
    written = fn.fitted(split(True)).circuit.solve()["as written"]
    for rail in ("left", "right"):
        assert made.circuit.solve()["as written"].at(rail).gauge.si == pytest.approx(written.at(rail).gauge.si, rel=1e-9)


def test_rails_and_blocks_get_no_tee():
    car = fn.Circuit("car", fluid="gasoline")
    car.fixed("pump", pressure="60 psi")
    car.junction("block")
    for number in range(4):
        car.junction(f"end {number}", demand="9 L/h")
        car.run(f"line {number}", "block", f"end {number}", [fn.hose("-4", "1 ft", spec="ptfe")])
    car.run("feed", "pump", "block", [fn.hose("-8", "3 ft", spec="ptfe")])
    made = fn.fitted(car)
    assert not made.circuit.multiport and any("5 runs meet here" in one.what for one in made.open)


def test_a_small_pipe_thread_and_a_larger_flare_have_an_adapter_of_their_own():
    made = fn.fitted(feed([fn.hose("-6", "2 ft", spec="ptfe", name="hose")], ["1/8 NPT female", ""]))
    assert any("1/8 NPT male" in one.what for one in (*made.proposals, *made.open)) and not any("too large" in one.what for one in made.open)


def test_a_brake_hose_end_takes_no_value_of_an_aluminium_tube():
    from flarenut.hardware import mate

    assert mate("-3 37 flare male", "-3 37 flare female", line="hose").torque.joint != "37 deg flare tube nut"


def test_a_torque_that_no_table_has_is_told_so():
    car = feed([fn.adapter(["3/8 NPT male", "-8 37 flare male"], bore="10 mm", name="nipple", sealant="paste")], ["3/8 NPT female", ""])
    assert fn.audit(car).listing().rows[0][6] == "0.75 to 1.75 turns past finger tight, printed for carbon steel, if both are of steel: 2 to 3 turns past finger tight"
    odd = feed([fn.adapter(["7/16-20 banjo", "-6 37 flare male"], bore="4 mm", name="eye")], ["7/16-20 banjo port", ""])
    assert fn.audit(odd).listing().rows[0][6] == "no table has it: as the maker says"


def test_reducers_within_one_form_know_their_bore():
    """The narrower of the two, of pipe fittings as of flares; a bush of 1/16 NPT is in the tables."""
    for ends, inches in ((["1/4 NPT male", "3/8 NPT female"], 0.281), (["1/16 NPT male", "1/8 NPT female"], 0.125), (["-8 37 flare male", "-6 37 flare male"], 0.297),
                         (["-8 barb male", "-6 barb male"], 0.297), (["M12x1.5 O-ring port male", "M16x1.5 O-ring port female"], 0.236),
                         (["M10x1 bubble flare female", "M10x1 metric double flare female"], 0.125)):
        assert fn.adapter(ends).main.numbers["bore"] == pytest.approx(0.0254 * inches), ends


def test_a_bulkhead_that_leaves_no_hose_between_its_ends_is_left_open():
    made = fn.fitted(feed([fn.hose("-8", "3 ft", spec="ptfe", name="hose", through=["firewall at 1 in"])], ["-8 37 flare male", ""]))
    assert len(made.circuit.runs["feed"].pieces) == 1 and any("put the union farther" in one.what for one in made.open)


def test_the_bore_of_a_hose_on_a_barb_is_its_own():
    found = fn.audit(feed([fn.hose("-6", "2 ft", spec="ptfe", name="hose", ends=["barb -6 female", ""])], ["barb -5", ""]))
    assert "7.94 mm" in found.joints[0].mating.reason and found.joints[0].verdict == "seals"


def test_on_a_screen_the_torque_in_steel_and_what_goes_on_the_thread_stand_below_once():
    car = feed([hose("-6 37 flare female", "-6 37 flare female", size="-6"), fn.adapter(["-6 37 flare male", "-6 37 flare male"], name="union")],
               ["-6 37 flare male", ""])
    audit = fn.audit(car)
    text = audit.text("metric", width=200)
    assert text.count("If both are of steel: -6 37 flare 24 to 28 N m") == 1 and "if both are of steel" not in text.replace("If both", "")
    assert "on the thread" not in text.split("\n\n")[2] and "37 flare: no sealant, no tape" in text
    assert audit.listing("metric").headings[5] == "on the thread" and "if both are of steel" in audit.listing("metric").csv()


@pytest.mark.parametrize("parts, meets, first", [
    ([hose("-8 37 flare female", "")], "-8 45 flare male", "change the hose end to the form of the port, 45 flare female, or put an adapter"),
    ([hose("-6 45 flare female", "", size="-6")], "-6 37 flare male", "change the hose end to the form of the port, 37 flare female, or put an adapter"),
    ([fn.tube("3/8 in", "3 ft", name="pipe", ends=["-6 37 flare female", ""])], "-6 45 flare male", "change nut, sleeve and flare to the form of the port, 45 flare female"),
    ([filter_("-8 37 flare female", "")], "-8 45 flare male", "change one of the two to the form of the other, or put an adapter"),
    ([hose("-6 37 flare female", "", size="-6")], "-8 37 flare male", "put an adapter between them")])
def test_where_flares_of_37_and_45_degrees_meet_the_cure_is_the_form_of_the_port_before_an_adapter(parts, meets, first):
    (cure,) = [one.cure for one in fn.audit(feed(parts, [meets, ""])).findings if one.code.startswith("joint ")][:1]
    assert cure.startswith(first)


def test_torque_is_shown_in_inch_pounds_first_in_every_row():
    car = feed([fn.adapter(["-12 O-ring boss male", "-12 37 flare male"], name="large", material="steel"),
                hose("-12 37 flare female", "-4 37 flare female", size="-12"), fn.adapter(["-4 37 flare male", "-4 37 flare male"], name="small")], ["-12 O-ring boss female, steel", ""])
    shown = [line for row in fn.audit(car).listing("us").rows for line in row[6].splitlines() if "ft-lb" in line]
    assert len(shown) >= 3 and all(line.index("in-lb") < line.index("ft-lb") for line in shown)


def test_turns_of_a_pipe_thread_in_an_aluminium_port_say_that_their_table_is_of_carbon_steel():
    """3/4 to 1-3/4 turns is printed for carbon steel, and taken for soft parts as the lower of two sources."""
    def turns(port):
        return fn.audit(feed([filter_(f"3/8 NPT male{port}", "")], [f"3/8 NPT female{port}", ""])).listing().rows[0][6]

    assert turns(", aluminium") == "0.75 to 1.75 turns past finger tight, printed for carbon steel" and turns(", steel") == "2 to 3 turns past finger tight"
