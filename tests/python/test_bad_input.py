"""Wrong files: each must be told where it is wrong, what is wrong and how to cure it."""

import json
import re

import pytest
from flarenut.circuit.file import read
from file_example import GOOD, refused

# What is changed in the good file (text, replacement), the line to be named, and what the message must say.
FILES = {
    # not TOML
    "unquoted unit": ('"11 ft"', "11 ft", 19, ["is not TOML", 'length = "11 ft"']),
    "unquoted word": ('"gasoline"', "gasoline", 3, ["is not TOML", 'fluid = "gasoline"']),
    "quote left open in braces": ('length = "11 ft"', 'length = "11 ft', 19, ["quote that opens here is not closed", 'as in "11 ft"']),
    "quote left open at the end": ('"fuel filter"}', '"fuel filter}', 20, ["quote that opens here is not closed", 'as in "fuel filter"']),
    "quote left open in a chart": ('["0 L/h", "95 psi"]', '["0 L/h", "95 psi]', 18, ["quote that opens here is not closed", 'as in "95 psi"']),
    "quote not opened": ('length = "11 ft"', 'length = 11 ft"', 19, ["was not opened", 'length = "11 ft"']),
    "three quotes for one": ('name = "return"', 'name = """return"', 24, ["three quotes open a text of many lines", "one quote on each side"]),
    "curly quotes": ('"8 in"', "\u201c8 in\u201d", 7, ["a curly quote", "by plain ones", 'level = "8 in"']),
    "curly quotes in braces": ('"11 ft"', "\u201c11 ft\u201d", 19, ["a curly quote", "by plain ones"]),
    "one curly quote": ('"8 in"', '"8 in\u201d', 7, ["a curly quote", 'level = "8 in"']),
    "no comma in braces": ('"11 ft", spec = "ptfe", ', '"11 ft" spec = "ptfe", ', 19, ["no comma stands between two keys"]),
    "apostrophe in single quotes": ('"test car"', "'bob's car'", 2, ["goes on behind the quote", "double quotes"]),
    "list in braces left open": ("bends = [90, 45]}", "bends = [90, 45}", 19, ["is not TOML", "close the bracket ] of the list"]),
    "semicolon": ('level = "8 in"', 'level = "8 in";', 7, ["goes on behind the quote", "delete the ;"]),
    "comma behind a line": ('level = "8 in"', 'level = "8 in",', 7, ["is not TOML", "a line of its own, without a comma"]),
    "two keys on a line": ('level = "8 in"', 'level = "8 in", vent = "0 psi"', 7, ["is not TOML", "a line of its own, without a comma"]),
    "key of two words": ("volts = 13.5", 'fluid temperature = "30 C"', 38, ["is not TOML", "one word: fluid_temperature"]),
    "part of two words": ("volts = 13.5", 'return hose.size = "-8"', 38, ["is not TOML", 'in quotes: "return hose.size" = ...']),
    "part and key without quotes": ("volts = 13.5", "pump.volts = 12", 38, ["'pump' is not a condition", '"pump.volts" = ...']),
    "true in capitals": ('name = "pump"', 'check_valve = True, name = "pump"', 18, ["is not TOML", "check_valve = true"]),
    "leading zero": ('"8 in"', "08", 7, ["is not TOML", 'level = "08"']),
    "decimal comma": ("volts = 13.5", "volts = 13,5", 38, ["is not TOML", "decimal mark as a point"]),
    "quote left open": ('"test car"', '"test car', 2, ["is not TOML", "close the quotes"]),
    "inch mark in quotes": ('level = "8 in"', 'level = "8""', 7, ["is not TOML", "write inches as in"]),
    "colon for equals": ("level =", "level:", 7, ["is not TOML", "joined by ="]),
    "value left out": ('level = "8 in"', "level =", 7, ["is not TOML", "give the key a value"]),
    "heading left open": ("[tank.cell]", "[tank.cell", 6, ["is not TOML", "a heading is written"]),
    "heading with a space": ("[case.idle]", "[case.full power]", 37, ["is not TOML", '[case."full power"]']),
    "list left open": ('name = "fuel filter"},\n]', 'name = "fuel filter"},\n', 23, ["is not TOML", "close the bracket"]),
    "braces over two lines": ('size = "-8", ', 'size = "-8",\n', 19, ["is not TOML", "stands on one line"]),
    "comma behind the last": ("bends = [90, 45]}", "bends = [90, 45],}", 19, ["is not TOML", "none behind the last"]),
    "backslash": ('"test car"', r'"test\car"', 2, ["is not TOML", "backslash"]),
    "key twice": ('level = "8 in"', 'level = "8 in"\nlevel = "9 in"', 8, ["'tank.cell.level' is given twice", "line 7"]),
    "heading twice": ("[case.idle]", "[tank.cell]", 37, ["given twice", "line 6"]),
    "run in single brackets": ('[[run]]\nname = "return"', '[run]\nname = "return"', 23, ["[[run]]"]),
    "first run in single brackets": ('[[run]]\nname = "feed"', '[run]\nname = "feed"', 13, ["[run] stands in single brackets here", "line 23"]),
    "only words": ("[tank.cell]", "tank cell", 6, ["is not TOML", "each line is a heading"]),
    # headings
    "no circuit": ('[circuit]\nname = "test car"\nfluid = "gasoline"\nunits = "us"', "", 1, ["heading [circuit] is missing", "fluid ="]),
    "unknown heading": ("[tank.cell]", "[tnak.cell]", 6, ["unknown heading 'tnak'", "did you mean 'tank'?"]),
    "plural heading": ("[injectors.bank]", "[injector.bank]", 32, ["unknown heading 'injector'", "did you mean 'injectors'?"]),
    "heading without name": ("[case.idle]", "[case]", 38, ["'volts' stands under [case], which has no name", "[case.main]"]),
    "list for a table": ("[tank.cell]", "[[tank]]", 6, ["double brackets", "[tank.main]"]),
    "run written once": ('[[run]]\nname = "feed"', '[run.feed]\nname = "feed"', None, ["[[run]]"]),
    "value for a heading": ("[circuit]", 'tee = "left"\n[circuit]', 1, ["'tee' is written once for each tee", "[[tee]]"]),
    # [circuit]
    "unknown fluid": ('"gasoline"', '"gasolin"', 3, ["unknown fluid 'gasolin'", "did you mean 'gasoline'?"]),
    "fluid as number": ('"gasoline"', "85", 3, ["fluid", "85"]),
    "no fluid": ('fluid = "gasoline"\n', "", 1, ["the key 'fluid' is missing"]),
    "unknown units": ('units = "us"', 'units = "metrics"', 4, ["'units' is 'metrics'", "metric"]),
    "unknown key of circuit": ("units =", "unit =", 4, ["unknown key 'unit'", "did you mean 'units'?"]),
    # places
    "no unit": ('level = "8 in"', "level = 8", 7, ["'level' is 8, a number without a unit", "e.g. '8 mm' or '5/16 in'"]),
    "unknown unit": ('"8 in"', '"8 inc"', 7, ["unknown unit 'inc'", "did you mean 'in'?"]),
    "unit of another kind": ('"8 in"', '"8 psi"', 7, ["is a pressure; 'level' wants a length"]),
    "bore of a dash": ('bore = "10 mm"', 'bore = "-6"', 11, ["a dash size", "not a length"]),
    "unknown key of a tank": ('level = "8 in"', 'depth = "8 in"', 7, ["unknown key 'depth'", "did you mean 'level'?"]),
    "position of two": ('height = "20 in"', 'position = ["1 ft", "2 ft"]', 10, ["position"]),
    # parts
    "unknown part": ('part = "hose", size = "-8"', 'part = "hoose", size = "-8"', 19, ["there is no part 'hoose'", "did you mean 'hose'?"]),
    "part without word": ('{part = "filter", drop', "{drop", 20, ["the key 'part' is missing", "flarenut parts"]),
    "part as text": ('  {part = "hose", size = "-6", length = "12 ft", spec = "ptfe"}', '  "hose"', 29, ["'hose' is not a part", "{part ="]),
    "part as number": ('part = "hose", size = "-8"', 'part = 8, size = "-8"', 19, ["there is no part 8"]),
    "unknown key of a part": ("length = \"11 ft\"", "lenght = \"11 ft\"", 19, ["unknown key 'lenght'", "did you mean 'length'?"]),
    "dash as number": ('size = "-8"', "size = -8", 19, ["'size' is the bare number -8", "'-8'"]),
    "dash without its mark": ('size = "-8"', 'size = "8"', 19, ["'8', not a dash size", "write it as '-8'"]),
    "dash with letters": ('size = "-8"', 'size = "8AN"', 19, ["'8AN', not a dash size", "write it as '-8'"]),
    "dash as length": ('size = "-8"', 'size = "8 mm"', 19, ["a length, and a dash size is wanted"]),
    "unknown dash": ('size = "-8"', 'size = "-7"', 19, ["-7"]),
    "unknown specification": ('"11 ft", spec = "ptfe"', '"11 ft", spec = "pftfe"', 19, ["no hose specification 'pftfe'", "did you mean 'ptfe'?"]),
    "no specification": ('"11 ft", spec = "ptfe", ', '"11 ft", ', 19, ["spec", "no bore of its own", "10.3 mm (13/32 in) as 'undersize'"]),
    "length missing": ('length = "11 ft", ', "", 19, ["length", "missing"]),
    "length below zero": ('"11 ft"', '"-11 ft"', 19, ["not above zero"]),
    "bend as text": ("bends = [90, 45]", 'bends = [90, "sharp"]', 19, ["sharp"]),
    "bends as one text": ("bends = [90, 45]", 'bends = "90, 45"', 19, ["bends are a list of angles in degrees", "[90, 45]"]),
    "bends not a list": ("bends = [90, 45]", 'bends = "two"', 19, ["bends"]),
    "filter without flow": ('"1.2 psi at 100 gph"', '"1.2 psi"', 20, ["not one thing at another", "1.5 psi at 100 gph"]),
    "filter below clean": ('"1.2 psi at 100 gph"', '"1.2 psi at 100 gph", loading = 0.5', 20, ["less than clean"]),
    "unit in a chart": ('["255 L/h", "60 psi"]', '["255 L/h", "60 psii"]', 18, ["unknown unit 'psii'", "did you mean 'psi'?"]),
    "gauge pressure in a chart": ('["255 L/h", "60 psi"]', '["255 L/h", "60 psig"]', 18, ["a pump's rise is the difference", "write '60 psi'"]),
    "absolute pressure in a chart": ('["255 L/h", "60 psi"]', '["255 L/h", "60 psia"]', 18, ["a pump's rise is the difference", "take the other"]),
    "chart in gauge": ('[["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["400 L/h", "5 psi"]]',
                       '[{flow = "L/h", pressure = "psig", points = [[0, 95], [255, 60]]}]', 18, ["a pump's rise is the difference", "write '95 psi'"]),
    "chart of one point": ('["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["400 L/h", "5 psi"]', '["0 L/h", "95 psi"]', 18, ["two or more points"]),
    "chart that rises": ('["0 L/h", "95 psi"]', '["0 L/h", "1 psi"]', 18, ["its pressure rising with flow"]),
    "regulator without reference": (', reference = "manifold"', "", 28, ["the key 'reference' is missing"]),
    "gauge for a difference": ('set = "43.5 psi"', 'set = "43.5 psia"', 28, ["an absolute pressure", "wants a pressure difference"]),
    "name twice": ('name = "fuel filter"', 'name = "pump"', 20, ["'pump' is used twice", "the other use is in line 18"]),
    "part named as a junction": ('name = "fuel filter"', 'name = "rail"', 20, ["'rail' is used twice", "the other use is in line 9"]),
    "run named twice": ('name = "return"', 'name = "feed"', 24, ["the name is used twice", "the other use is in line 14"]),
    # runs
    "no parts": ('parts = [\n  {part = "bypass', 'prats = [\n  {part = "bypass', 27, ["unknown key 'prats'", "did you mean 'parts'?"]),
    "parts not a list": ('parts = [\n  {part = "bypass', 'parts = "hose"\nx = [\n  {part = "bypass', 27, ["'parts' is not a list"]),
    "empty run": ('[injectors.bank]', '[[run]]\nname = "x"\nfrom = "cell"\nto = "rail"\nparts = []\n[injectors.bank]', None, ["no parts"]),
    "run to itself": ('from = "rail"\nto = "cell"', 'from = "rail"\nto = "rail"', None, ["rail"]),
    "run without an end": ('to = "cell"\n', "", 23, ["the key 'to' is missing"]),
    "end as number": ('to = "cell"', "to = 3", 26, ["3"]),
    "sense that is not there": ('reference = "manifold"', 'reference = "manfold"', 28, ["no junction 'manfold' to sense, which 'reference' names", "did you mean 'manifold'?"]),
    # injectors, cases
    "injectors without flow": ('flow = "550 cc/min at 3 bar"\n', "", 32, ["the key 'flow' is missing"]),
    "flow without minutes": ('"550 cc/min at 3 bar"', '"550 cc at 3 bar"', 35, ["'550 cc' is a volume without a time", "'550 cc/min' or '550 cc/h'"]),
    "mass without hours": ('"550 cc/min at 3 bar"', '"42 lb at 43.5 psi"', 35, ["'42 lb' is a mass without a time", "'42 lb/h'"]),
    "pressure without unit": ('"550 cc/min at 3 bar"', '"42 lb/h at 43.5"', 35, ["'43.5', a number without a unit", "wants a pressure difference"]),
    "demand below zero": ("[case.idle]", '[case.idle]\n"rail.demand" = "-36 gph"', 38, ["'demand' is '-36 gph', below zero", "what is taken out"]),
    "junction demand below zero": ('height = "20 in"', 'height = "20 in"\ndemand = "-36 gph"', 11, ["'demand' is '-36 gph', below zero", "'supply'"]),
    "supply beside demand": ('height = "20 in"', 'height = "20 in"\ndemand = "3 gph"\nsupply = "2 gph"', 12, ["'supply' is given beside 'demand'"]),
    "flow without pressure": ('"550 cc/min at 3 bar"', '"550 cc/min at"', 35, ["flow"]),
    "count of a half": ("count = 6", "count = 5.5", 34, ["count", "whole number"]),
    "unknown condition": ("volts = 13.5", "vlots = 13.5", 38, ["vlots", "did you mean 'volts'?"]),
    "duty beyond one": ('duty = "3 %"', "duty = 85", 39, ["'duty' is 85, a fraction beyond 1", "85 %"]),
    "duty beyond the whole": ('duty = "3 %"', 'duty = "130 %"', 39, ["'duty' is '130 %', outside", "give 0 to 100 %"]),
    "charts swapped": ('[["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["400 L/h", "5 psi"]]',
                       '[{volts = 12, points = [["0 L/h", "95 psi"], ["255 L/h", "60 psi"]]}, {volts = 14, points = [["0 L/h", "85 psi"], ["255 L/h", "50 psi"]]}]',
                       18, ["the chart at 14 V gives 85.0 psi (5.86 bar)", "less than the 95.0 psi", "which voltage"]),
    "absolute manifold": ('"18 inHg vacuum"', '"9 psia"', 40, ["absolute pressure", "gauge"]),
    "minus vacuum": ('"18 inHg vacuum"', '"-18 inHg vacuum"', 40, ["vacuum already counts downwards"]),
    "condition that nothing has": ("volts = 13.5", 'speed = "800 rpm"', 38, ["speed"]),
    "fluid hotter than its data": ("volts = 13.5", 'volts = 13.5\nfluid_temperature = "200 C"', 39, ["'fluid_temperature' is '200 C'", "248 F (120 C)"]),
    "circuit hotter than its data": ('units = "us"', 'fluid_temperature = "200 C"', 4, ["'fluid_temperature' is '200 C'", "the hottest"]),
    "level of no tank": ('[tank.cell]\nlevel = "8 in"', '[fixed.cell]\n[case.low]\ntank_level = "2 in"', 8, ["no tank", "is the heading [tank.NAME]"]),
    "fluid colder than its data": ("volts = 13.5", 'volts = 13.5\nfluid_temperature = "-80 F"', 39, ["temperature -80.0 F (-62.2 C) is below"]),
    "fluid too hot": ("volts = 13.5", 'volts = 13.5\nfluid_temperature = "900 C"', 39, ["'fluid_temperature' is '900 C', outside", "-123 to 427 C"]),  # 150 to 700 K
    "word of a part": ("volts = 13.5", '"pump.voltage" = 13.5', 38, ["voltage", "did you mean 'volts'?"]),
    # the circuit as a whole
    "feed written backwards": ('from = "cell"\nto = "rail"', 'from = "rail"\nto = "cell"', 15,
                               ["run 'feed': its pump draws from 'rail', which nothing feeds, and delivers into tank 'cell'", "'from' and 'to' swapped"]),
    "slip in an end": ('at = "rail"', 'at = "rial"', 33, ["nothing else meets at 'rial', and nothing feeds it", "did you mean 'rail'?", '[junction.rial]']),
    "end that leads nowhere": ('to = "cell"', 'to = "overboard"', 26, ["nothing else meets at 'overboard'", "open air is called 'ambient'"]),
    "no tank": ('[tank.cell]\nlevel = "8 in"\n', "", 13, ["run 'feed': nothing feeds 'cell'", "is [tank.cell] missing?"]),
    "tank misspelt": ("[tank.cell]", "[tank.cel]", 6, ["tank 'cel': no part connects to it", "did you mean 'cell'?"]),
    "tank of another name": ("[tank.cell]", "[tank.fuel]", 15, ["nothing feeds 'cell'", "did you mean 'fuel'?", "tank 'fuel': no part connects to it"]),
    "height of the sky": ('height = "20 in"', 'height = "80000 ft"', 10, ["'height' is '80000 ft'", "3281 ft (1000 m)"]),
    "junction misspelt": ("[junction.rail]", "[junction.rial]", 9, ["junction 'rial': no part connects to it", "did you mean 'rail'?"]),
    "junction to spare": ("[case.idle]", '[junction.spare]\nheight = "1 in"\n[case.idle]', 37, ["no part connects to it", "delete the heading"]),
    "heights that disagree": ('length = "12 ft"', 'length = "12 ft", rise = "1 ft"', 23, ["climb", "rail", "cell"]),
    "hose of a mile": ('"11 ft"', '"5280 ft"', 19, ["'length' is '5280 ft', outside its range", "give 0 to 3281 ft"]),  # 1000 m
    "bore of a mile": ('spec = "ptfe", bends', 'bore = "1 m", bends', 19, ["'bore' is '1 m', outside its range", "give 0.0001 to 0.5 m"]),
    "regulator of a press": ('set = "43.5 psi"', 'set = "90000 psi"', 28, ["'set' is '90000 psi', outside", "14504 psi"]),  # 1e8 Pa / 6894.757
    "wide open as a door": ('"manifold", name', '"manifold", wide_open = "1 psi at 1e9 gpm", name', 28, ["'wide_open' is", "hole", "4.44 in (113 mm)"]),
    "injectors of a press": ("at 3 bar", "at 30000 bar", 35, ["'flow' is", "30000 bar", "outside"]),
    "tank of a dam": ('level = "8 in"', 'level = "800 ft"', 7, ["'level' is '800 ft', outside", "give 0 to 32.8 ft"]),  # 10 m
    "bend of a needle": ("bends = [90, 45]", 'bends = [90], bend_radius = "0.1 mm"', 19, ["'bend_radius' is", "0.203 in (5.16 mm)"]),
    "roughness of the bore": ("bends = [90, 45]", 'roughness = "5 mm"', 19, ["roughness", "5 % of the bore"]),
    "pump of a thousand volts": ("volts = 13.5", '"pump.volts" = 1000', 38, ["'pump.volts' is 1000", "outside", "give 0 to 60 V"]),
    "position given twice": ('height = "20 in"', 'height = "20 in"\nposition = ["1 ft", "0 ft", "0 ft"]', 10, ["height", "position", "one of them"]),
    "junction named as tank": ("[junction.rail]", "[junction.cell]", 9, ["cell", "used twice", "line 6"]),
    "tee without a bore": ("[injectors.bank]", '[[tee]]\nname = "y"\nrun1 = "rail"\nrun2 = "cell"\nbranch = "x"\n[injectors.bank]', 32, ["size", "bore"]),
    "tee of one place": ("[injectors.bank]", '[[tee]]\nname = "y"\nrun1 = "rail"\nrun2 = "rail"\nbranch = "cell"\nsize = "-8"\n[injectors.bank]', 32,
                         ["y: both ends meet junction 'rail'", "different junctions"]),
    "position of the sky": ('height = "20 in"', 'position = ["9000 ft", "0 in", "1 in"]', 10, ["'position' is not within 3281 ft (1000 m)"]),
    "tee that leans too far": ("[injectors.bank]", '[[tee]]\nname = "y"\nrun1 = "rail"\nrun2 = "cell"\nbranch = "ambient"\nsize = "-8"\nangle = 200\n'
                               '[injectors.bank]', None, ["angle"]),
    "altitude of space": ('units = "us"', 'altitude = "60 miles"', 4, ["altitude"]),
    "acceleration of two": ("volts = 13.5", 'acceleration = ["1 g", "0 g"]', 38, ["'acceleration' has 2 values"]),
    "power without consumption": ('duty = "3 %"', 'power = "300 hp"', 39, ["needs specific_consumption beside it"]),
    "power beside duty": ("volts = 13.5", 'power = "300 hp"\nspecific_consumption = "0.5 lb/hp/h"', 38, ["'power' and 'duty'"]),
    "part that is not there": ("volts = 13.5", '"pmup.volts" = 13.5', 38, ["pmup", "did you mean 'pump'?"]),
}


def test_the_good_file_is_good():
    assert read(GOOD, "wagon.toml").circuit.solve().converged


@pytest.mark.parametrize("slip", FILES)
def test_every_wrong_file_is_told_its_place_its_fault_and_the_cure(slip):
    old, new, line, told = FILES[slip]
    assert GOOD.count(old) == 1
    error = refused(GOOD.replace(old, new))
    message = " ".join(str(error).split())
    assert all(word in message for word in told), str(error)
    assert message.startswith("wagon.toml:")
    assert "cure: " in message
    where = [problem.span.line for problem in error.problems]
    assert where == sorted(where)
    assert line is None or line in where, str(error)
    assert re.search(r"^ +\d+ \| .*\n +\| +\^", str(error), re.MULTILINE), str(error)


@pytest.mark.parametrize(("old", "new", "caret"), [
    ("volts = 13.5", '"pump.voltage" = 13.5', '"pump.voltage"'), ("volts = 13.5", '"pmup.volts" = 13.5', '"pmup.volts"'),
    ("volts = 13.5", "vlots = 13.5", "vlots"), ("volts = 13.5", 'speed = "800 rpm"', "speed"), ("volts = 13.5", '"cell.depth" = "1 in"', '"cell.depth"'),
    ("volts = 13.5", '"pump.volts" = "13 psi"', '"13 psi"'), ("volts = 13.5", '"cell.level" = "1 psi"', '"1 psi"'),
    ("volts = 13.5", 'fluid_temperature = "200 C"', '"200 C"'), ('set = "43.5 psi"', 'set = "90000 psi"', '"90000 psi"'),
    ('reference = "manifold"', 'reference = "manfold"', '"manfold"'), ('length = "11 ft"', 'length = "11 ft', '"'),
])
def test_the_caret_stands_under_what_is_wrong(old, new, caret):
    """A key that nothing understands is wrong itself; else its value is."""
    error = refused(GOOD.replace(old, new))
    shown = str(error).splitlines()
    assert len(error.problems) == 1
    at = shown[2].index("^")
    assert shown[1][at:at + shown[2].count("^")] == caret


def test_the_schema_agrees_with_the_loader_about_the_good_file_and_is_strict_json(capsys):
    from flarenut.cli import main

    assert main(["schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert set(schema["properties"]) == {"circuit", "tank", "junction", "fixed", "injectors", "case", "run", "tee", "sweep", "drive"}
    hose = next(one for one in schema["properties"]["run"]["items"]["properties"]["parts"]["items"]["oneOf"] if one["properties"]["part"]["enum"] == ["hose"])
    assert "length" in hose["properties"] and hose["additionalProperties"] is False
