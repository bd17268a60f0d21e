"""Where sources differ: every disagreement of the catalogue is shown for what it concerns, and for nothing else."""

import pytest

import flarenut as fn
from flarenut.catalog import disagreements
from flarenut.hardware import disputes_listing, disputes_of


def of(*parts, fluid="water", meets=("", "")):
    made = fn.Circuit("bench", fluid=fluid)
    made.tank("cell", level="9 in")
    made.junction("end", demand="1 L/min")
    made.run("line", "cell", "end", list(parts), meets=list(meets))
    return made


def hose(size="-10", **words):
    return fn.hose(size, "3 ft", **{"spec": "full-size", **words})


def tube(size="1/4 in", ends=(), **words):
    return fn.tube(size, "3 ft", wall="0.028 in", ends=list(ends) or None, **words)


def pump():
    return fn.formula_pump(dead_head="95 psi", free_flow="150 gph")


FLARES = ["-6 37 flare female"] * 2
# Topic -> what it concerns, and what is as like as may be and is not concerned.
SHOWN = {
    "hose ID for the same dash": (lambda: of(hose("-8")), lambda: of(hose("-10"))),
    "hose ID for -4": (lambda: of(hose("-4")), lambda: of(hose("-6"))),
    "hose ID for -3": (lambda: of(hose("-3")), lambda: of(hose("-4"))),
    "what the dash number means on hose": (lambda: of(hose()), lambda: of(fn.hose(length="3 ft", bore="9 mm"))),
    "37/45 shared threads": (lambda: of(tube(ends=["-6 37 flare female", "-6 45 flare female"])), lambda: of(tube(ends=FLARES))),
    "AN thread list": (lambda: of(tube(ends=["-4 37 flare female", ""])), lambda: of(tube(ends=["-6 37 flare female", "-4 45 flare female"]))),
    "MIL-H-8794 -6 working pressure": (lambda: of(hose("-6", standard="MIL-H-8794")), lambda: of(hose("-8", standard="MIL-H-8794"))),
    "MIL-H-8794 -12 working pressure": (lambda: of(hose("-12", standard="SAE 100R5")), lambda: of(hose("-12"))),
    "MIL-H-8794 temperature": (lambda: of(hose("-8", standard="MIL-H-8794")), lambda: of(hose("-8", standard="SAE 100R5"))),
    "MIL-H-8788 -16 burst": (lambda: of(hose("-16", standard="MIL-H-8788")), lambda: of(hose("-12", standard="MIL-H-8788"))),
    "torque, 3/8 aluminium flare nut": (lambda: of(tube("3/8 in", FLARES, material="5052-O aluminium")), lambda: of(tube("3/8 in", FLARES, material="304 stainless"))),
    "torque, -6 steel 37 deg": (lambda: of(tube("3/8 in", FLARES, material="304 stainless")), lambda: of(tube("3/8 in", FLARES, material="5052-O aluminium"))),
    "torque, -8 O-ring boss in steel": (lambda: of(hose(), meets=["-8 O-ring boss female", ""]), lambda: of(hose(), meets=["-6 O-ring boss female", ""])),
    "power-steering return hose": (lambda: of(hose(standard="SAE J189")), lambda: of(hose())),
    "100R1 pressure range": (lambda: of(hose(standard="SAE 100R1")), lambda: of(hose(standard="SAE 100R5"))),
    "suction velocity": (lambda: of(hose(), pump()), lambda: of(pump(), hose())),
    "pressure-line velocity": (lambda: of(pump(), tube()), lambda: of(tube(), pump())),
    "brake hose burst": (lambda: of(hose("-3"), fluid="DOT 4"), lambda: of(tube(), fluid="DOT 4")),
    "length change of hose": (lambda: of(hose()), lambda: of(tube())),
    "minimum ID after forming": (lambda: of(tube("3/16 in")), lambda: of(tube("1/4 in"))),
    "master cylinder port thread": (lambda: of(tube("3/16 in", ["-3 inverted flare male"] * 2), fluid="DOT 4"), lambda: of(tube("3/16 in", ["-3 inverted flare male"] * 2))),
}


def topics(plumbing):
    return [one.topic for one in disputes_of(plumbing)]


def test_no_disagreement_is_forgotten():
    assert list(SHOWN) == [one.topic for one in disagreements()]


@pytest.mark.parametrize("topic", SHOWN)
def test_a_disagreement_is_shown_for_what_it_concerns_and_for_nothing_else(topic):
    concerned, other = SHOWN[topic]
    assert topic in topics(concerned()) and topic not in topics(other())


def test_lines_of_another_run_stand_beside_a_pump_too():
    made = fn.Circuit("bench", fluid="water")
    made.tank("cell", level="9 in")
    made.junction("end", demand="1 L/min")
    made.run("suction", "cell", "pump in", [tube()])
    made.run("pumping", "pump in", "pump out", [pump()])
    assert "suction velocity" in topics(made) and "pressure-line velocity" not in topics(made)
    made.run("feed", "pump out", "end", [tube()])
    assert "pressure-line velocity" in topics(made)


def test_a_vehicle_has_those_of_all_its_circuits_once():
    one, other = of(hose("-8")), of(hose("-8"), tube("3/16 in"))
    one.name, other.name = "one", "other"
    assert topics(fn.Vehicle("coupe", one, other)) == topics(other)


def test_the_listing_shows_both_statements_and_which_is_used():
    found = disputes_of(of(hose("-6", standard="MIL-H-8794")))
    text, table = disputes_listing(found).text(110), disputes_listing(found).csv()
    assert all(one.topic in table and one.first.replace('"', '""') in table and one.second in table for one in found)
    assert "from memory: verify before use" in " ".join(text.split()) and "lower for vehicles" not in text and "by spec [" in text
    assert disputes_of(of(tube())) == []


def test_the_command_prints_them_once_at_its_end(tmp_path, capsys):
    from flarenut.cli import main

    file = tmp_path / "car.toml"
    file.write_text('[circuit]\nname = "x"\nfluid = "water"\n[tank.cell]\n[[run]]\nname = "line"\nfrom = "cell"\nto = "ambient"\n'
                    'parts = [{part = "hose", size = "-8", length = "3 ft", spec = "ptfe"}]\n', encoding="utf-8")
    main(["audit", str(file)])
    out = capsys.readouterr().out
    assert out.count("Where sources differ") == 1 and out.index("Where sources differ") > out.index("Joints of x") and "the other [" in out
    file.write_text(file.read_text(encoding="utf-8").replace("hose", "tube").replace('"-8"', '"1/2 in"').replace('spec = "ptfe"', 'wall = "0.035 in"'), encoding="utf-8")
    main(["audit", str(file)])
    assert "Where sources differ" not in capsys.readouterr().out
