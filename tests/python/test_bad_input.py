"""Wrong files and wrong calls: each must be told where it is wrong, what is wrong and how to cure it."""

import ast
import json
import re
from pathlib import Path

import flarenut as fn
import pytest
from flarenut.circuit.file import FileError, read, trade
from flarenut.units import parse

GOOD = '''[circuit]
name = "test car"
fluid = "gasoline"
units = "us"

[tank.cell]
level = "8 in"

[junction.rail]
height = "20 in"
bore = "10 mm"

[[run]]
name = "feed"
from = "cell"
to = "rail"
parts = [
  {part = "electric_pump", curves = [["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["400 L/h", "5 psi"]], name = "pump"},
  {part = "hose", size = "-8", length = "11 ft", spec = "ptfe", bends = [90, 45]},
  {part = "filter", drop = "1.2 psi at 100 gph", name = "fuel filter"},
]

[[run]]
name = "return"
from = "rail"
to = "cell"
parts = [
  {part = "bypass_regulator", set = "43.5 psi", reference = "manifold", name = "regulator"},
  {part = "hose", size = "-6", length = "12 ft", spec = "ptfe"},
]

[injectors.bank]
at = "rail"
count = 6
flow = "550 cc/min at 3 bar"

[case.idle]
volts = 13.5
duty = "3 %"
manifold = "18 inHg vacuum"
'''

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


def refused(text):
    """The message of a text that must be refused."""
    with pytest.raises(FileError) as caught:
        read(text, "wagon.toml")
    return caught.value


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


def test_a_closed_end_is_asked_about_unless_a_heading_says_it():
    spur = '[[run]]\nname = "spur"\nfrom = "rail"\nto = "gauge line"\nparts = [{part = "hose", bore = "3 mm", length = "2 ft"}]\n'
    error = refused(GOOD + spur)
    assert [problem.path for problem in error.problems] == [("run", 2, "to")]
    assert '[junction."gauge line"]' in error.problems[0].hint
    loaded = read(GOOD + spur + '[junction."gauge line"]\n', "wagon.toml")
    assert loaded.circuit.solve().run("spur", "idle").mass_flow.si == pytest.approx(0.0, abs=1e-12)


def test_a_missing_tank_is_one_slip_and_told_once():
    text = GOOD.replace('[tank.cell]\nlevel = "8 in"\n', "").replace("volts = 13.5", 'volts = 13.5\ntank_level = "2 in"')
    error = refused(text)
    assert [problem.path for problem in error.problems] == [("run", 0, "from")]
    error = refused(text.replace('to = "cell"', 'to = "ambient"'))  # nothing returns to it: the feed begins at a closed end
    assert [problem.path for problem in error.problems] == [("run", 0, "from")]
    assert "is [tank.cell] missing?" in str(error) and "[junction.cell]" in str(error)


def test_what_is_drawn_from_open_air_or_a_given_pressure_needs_no_tank():
    drum = GOOD.replace('[tank.cell]\nlevel = "8 in"\n', "").replace('from = "cell"', 'from = "ambient"').replace('to = "cell"', 'to = "ambient"')
    assert read(drum, "wagon.toml").circuit.solve().converged
    assert read(GOOD.replace('[tank.cell]\nlevel = "8 in"\n', '[fixed.cell]\npressure = "3 psi"\n'), "wagon.toml").circuit.solve().converged


def test_units_of_the_file_decide_whether_a_cure_speaks_of_inches():
    metric = GOOD.replace('units = "us"', 'units = "metric"').replace('level = "8 in"', "level = 8")
    assert "'8 mm'" in str(refused(metric)) and "5/16" not in str(refused(metric))


def test_units_of_the_file_decide_which_come_first_in_what_is_wrong():
    """-80 F is -62.2 C; the sign belongs to both."""
    cold = GOOD.replace("volts = 13.5", 'fluid_temperature = "-80 F"')
    assert "temperature -80.0 F (-62.2 C) is below -" in str(refused(cold))
    assert "temperature -62.2 C (-80.0 F) is below -" in str(refused(cold.replace('units = "us"', 'units = "metric"')))


QUOTED_LENGTH = re.compile(r"""(?P<quote>['"])(?P<text>[^'"]*\d (?:mm|in)\b[^'"]*)(?P=quote)""")


def cures_with_a_quoted_length():
    """Every text of the package that offers a length in quotes, apart from what documents a function."""
    for path in sorted(Path(trade.__file__).resolve().parents[2].rglob("*.py")):
        tree = ast.parse(path.read_text(encoding="utf-8"))
        documents = {id(node.body[0].value) for node in ast.walk(tree) if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef))
                     and node.body and isinstance(node.body[0], ast.Expr)}
        for node in ast.walk(tree):
            if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in documents and QUOTED_LENGTH.search(node.value):
                yield node.value


def test_a_quoted_length_of_a_cure_can_be_copied_into_the_file_in_either_unit():
    cures = list(cures_with_a_quoted_length())
    assert sum(" mm" in cure for cure in cures) > 5  # of hoses, tubes, fittings, check valves, and of units alone
    for cure in cures:
        shown = trade.in_both_units(cure)
        lengths = [found["text"] for found in QUOTED_LENGTH.finditer(shown)]
        for length in lengths:
            parse(length, "length")  # raises where it is no length
        for metric, inches in zip(lengths, lengths[1:]):
            if f"{metric}' or '{inches}" in shown or f'{metric}" or "{inches}' in shown:
                assert parse(metric, "length") == pytest.approx(parse(inches, "length"), rel=0.01), shown
        assert not re.search(r"""mm \([^)]*\)['"]""", shown), shown


@pytest.mark.parametrize("part, offered", [
    ('{part = "elbow", angle = 90, form = "forged"}', ["9.9 mm", "0.39 in"]), ('{part = "hose", length = "1 m"}', ["10.3 mm", "0.406 in"]),
    ('{part = "tube", length = "1 m"}', ["7.7 mm", "0.303 in"]), ('{part = "check_valve", opens_at = "1 psi"}', ["8 mm", "5/16 in"])])
def test_the_bore_that_a_part_is_told_to_give_is_one_it_takes(part, offered):
    run = '[circuit]\nname = "bench (invented)"\nfluid = "water"\n[tank.drum]\n[[run]]\nname = "line"\nfrom = "drum"\nto = "ambient"\nparts = [%s]\n'
    with pytest.raises(FileError) as error:
        read(run % part)
    found = re.search(r'bore="([^"]*)" or "([^"]*)"', str(error.value))
    assert list(found.groups()) == offered
    for length in offered:
        read(run % part.replace("}", f', bore = "{length}"}}'))


def test_many_slips_are_told_together_in_the_order_of_the_lines():
    text = GOOD
    for old, new in (('"8 in"', '"8 inc"'), ('"10 mm"', '"ten"'), ('length = "11 ft"', 'lenght = "11 ft"'), ('"1.2 psi at 100 gph"', '"1.2 psi"'),
                     ('size = "-6"', "size = -6"), ("volts = 13.5", 'vlots = 13.5')):
        text = text.replace(old, new)
    lines = [problem.span.line for problem in refused(text).problems]
    assert set(lines) >= {7, 11, 19, 20, 29}
    assert lines == sorted(lines)


def test_two_wrong_values_of_one_part_are_both_told():
    error = refused(GOOD.replace('bends = [90, 45]', 'bends = ["x"], extra_loss = "much", roughness = "3 psi"'))
    assert {problem.path[-1] for problem in error.problems} >= {"extra_loss", "roughness"}


def test_a_slip_does_not_bring_others_that_are_its_own_doing():
    assert len(refused(GOOD.replace('length = "11 ft"', 'lenght = "11 ft"')).problems) == 1
    assert len(refused(GOOD.replace('size = "-8"', "size = -8")).problems) == 1
    assert len(refused(GOOD.replace('"gasoline"', '"gasolin"')).problems) == 1


def test_a_hundred_slips_are_counted_beyond_the_first_twenty():
    error = refused(GOOD + "".join(f'[tank.t{number}]\nlevel = {number}\n' for number in range(100)))
    assert len(error.problems) == 100
    assert str(error).endswith("and 80 more problems")


@pytest.mark.parametrize("name", ["nothing.toml", "."])
def test_a_file_that_cannot_be_read(name, tmp_path):
    with pytest.raises(FileError, match="no such file|is a folder"):
        fn.load(tmp_path / name)


def test_a_missing_file_is_answered_with_the_nearest_name(tmp_path):
    (tmp_path / "wagon.toml").write_text(GOOD, encoding="utf-8")
    with pytest.raises(FileError, match="did you mean '.*wagon.toml'"):
        fn.load(tmp_path / "wagom.toml")


@pytest.mark.parametrize(("data", "told"), [
    (b"\xff\xfe[\x00", "not UTF-8"), (b'[circuit]\nname = "caf\xe9"', r"line 2, column 12: byte 0xe9"), (b"x = 1\n" * 400_000, "larger than 2 MB"),
    (b"", r"heading \[circuit\] is missing"), (b"x = " + b"[" * 5000, "nested too deeply"), (b"d = 2001-02-30", "is not TOML|cannot be read"),
    (b'[circuit]\nname = "a\x1b[31m"', "invisible character"),
])
def test_files_that_are_not_text(data, told, tmp_path):
    path = tmp_path / "wagon.toml"
    path.write_bytes(data)
    with pytest.raises(FileError, match=told) as caught:
        fn.load(path)
    assert "\x1b" not in str(caught.value)


def test_a_byte_order_mark_and_windows_lines_are_read(tmp_path):
    path = tmp_path / "wagon.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert fn.load(path).name == "test car"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").replace('"8 in"', '"8 inc"').encode())
    with pytest.raises(FileError, match=r"wagon\.toml:7:9"):
        fn.load(path)


# Wrong calls from Python: the call and what its message must say.
CALLS = {
    "unknown argument": (lambda: fn.hose("-8", lenght="11 ft"), ["lenght", "length"]),
    "bare number": (lambda: fn.hose("-8", 11, spec="ptfe"), ["length", "without a unit"]),
    "wrong kind": (lambda: fn.hose("-8", "11 psi", spec="ptfe"), ["pressure", "a length"]),
    "tube walls": (lambda: fn.tube("3/8 in", "9 ft", wall="0.2 in"), ["wall", "no bore"]),
    "elbow form": (lambda: fn.elbow("-8", 90, form="bent"), ["form", "forged"]),
    "elbow angle": (lambda: fn.elbow("-8", 270), ["angle", "180"]),
    "two coefficients": (lambda: fn.valve(cv=2, kv=2), ["cv", "kv"]),
    "valve beyond open": (lambda: fn.valve(cv=2, opening=50), ["opening", "50 %"]),
    "check valve drop": (lambda: fn.check_valve("3 psi", rated="2 psi at 300 L/h"), ["rated", "cracking"]),
    "relief second step": (lambda: fn.relief_valve("60 psi", wide_open="10 psi at 8 gpm", second_opens_at="80 psi"), ["second_wide_open"]),
    "pump on water": (lambda: fn.electric_pump([{"volts": 12}]), ["points"]),
    "pump word": (lambda: fn.electric_pump([{"voltage": 12, "points": []}]), ["voltage", "volts"]),
    "two charts at one voltage": (lambda: fn.electric_pump([{"volts": 12, "points": [["0 gph", "9 psi"], ["1 gph", "1 psi"]]}] * 2), ["two charts"]),
    "formula through": (lambda: fn.formula_pump("95 psi", "420 L/h", through="99 psi at 10 L/h"), ["through"]),
    "flow by mass": (lambda: fn.formula_pump("95 psi", "420 lb/h"), ["by mass", "L/h"]),
    "corners": (lambda: fn.passage("8 mm", "100 mm", corners=1.5), ["corners"]),
    "exponent": (lambda: fn.resistance("5 psi at 3 gpm", exponent=3), ["exponent", "between 1 and 2"]),
    "table that falls": (lambda: fn.measured_part([["1 gpm", "5 psi"], ["2 gpm", "4 psi"]], rated_with="water"), ["rise"]),
    "fluid": (lambda: fn.Circuit("x", fluid="deisel"), ["deisel", "diesel"]),
    "attribute": (lambda: fn.nothing, ["nothing"]),
}


@pytest.mark.parametrize("slip", CALLS)
def test_every_wrong_call_is_told_its_fault(slip):
    call, told = CALLS[slip]
    with pytest.raises((ValueError, AttributeError)) as caught:
        call()
    assert all(word in str(caught.value) for word in told), str(caught.value)


def test_the_engine_refuses_a_part_by_the_key_that_its_builder_wrote():
    car = fn.Circuit("car", fluid="gasoline")
    car.tank("cell")
    car.run("line", "cell", "ambient", [fn.relief_valve("20000 psi", wide_open="10 psi at 8 gpm", name="relief")])
    with pytest.raises(fn.CircuitError) as caught:
        car.solve()
    assert (caught.value.place, caught.value.key, caught.value.value) == ("relief", "opens_at", "20000 psi")
    assert caught.value.cure == "give 0.145 to 14504 psi, and check its unit"  # 1e3 to 1e8 Pa, 6894.757 Pa to the psi


def plumbed():
    car = fn.Circuit("car", fluid="gasoline")
    car.tank("cell")
    car.junction("rail", demand="2 gph")
    car.run("line", "cell", "rail", [fn.formula_pump("60 psi", "90 gph", volts_lost="1 V", name="pump"), fn.filter("1 psi at 90 gph", name="filter"),
                                     fn.hose("-8", "3 ft", spec="ptfe", name="hose")])
    car.run("spill", "rail", "cell", [fn.relief_valve("40 psi", wide_open="5 psi at 90 gph", name="relief")])
    return car


# what is changed, its word, as written, what is told
OUT_OF_RANGE = [
    ("hose", "length", "5280 ft", "hose: 'length' is '5280 ft', outside its range: give 0 to 3281 ft"),  # 1000 m
    ("hose", "length", "2000 m", "hose: 'length' is '2000 m', outside its range: give 0 to 1000 m"),
    ("relief", "opens_at", "2000 bar", "relief: 'opens_at' is '2000 bar', outside its range: give 0.01 to 1000 bar"),
    ("pump", "dead_head", "90000 psi", "pump: 'dead_head' is '90000 psi', outside its range: give 0.0145 to 14504 psi"),
    ("cell", "level", "40 ft", "cell: 'level' is '40 ft', outside its range: give 0 to 32.8 ft"),  # 10 m
    ("rail", "supply", "1e9 gph", "rail: 'supply' is '1e9 gph', which makes 6.22e+09 lb/h (2.82e+09 kg/h)"),
    ("filter", "loading", 20000, "filter: 'loading' is 20000, outside its range: give 1 to 10000")]


@pytest.mark.parametrize("name, word, written, told", OUT_OF_RANGE)
def test_a_change_out_of_range_is_told_by_its_word_and_in_its_unit(name, word, written, told):
    car = plumbed()
    before = list(car.solve()["as written"].solution.pressure)
    with pytest.raises(fn.CircuitError) as refusal:
        car.change(name, **{word: written})
    assert str(refusal.value).startswith(told) and (refusal.value.place, refusal.value.key, refusal.value.value) == (name, word, written)
    assert list(car.solve()["as written"].solution.pressure) == before


@pytest.mark.parametrize("name, word, written, told", OUT_OF_RANGE)
def test_so_is_a_word_of_a_part_in_a_case(name, word, written, told):
    car = plumbed()
    car.case("wrong", **{f"{name}.{word}": written})
    with pytest.raises(fn.CircuitError) as refusal:
        car.solve()
    assert str(refusal.value).startswith(told.replace(f"{name}: '{word}'", f"case 'wrong': '{name}.{word}'")) and refusal.value.key == f"{name}.{word}"


@pytest.mark.parametrize("conditions, told", [
    ({"volts": "62 V"}, "'volts' is '62 V', which makes 61.0 V, outside its range: check the figures"),  # 1 V is lost in the wires
    ({"pump.volts": 90}, "'pump.volts' is 90, which makes 89.0 V"),
    ({"tank_level": "12 m"}, "'tank_level' is '12 m', outside its range: give 0 to 10 m"),
    ({"tank_level": "12 m", "cell.level": "2 in", "filter_loading": 0.5}, "'filter_loading' is 0.5, outside its range: give 1 to 10000"),
    ({"ambient_pressure": "0.1 psia"}, "'ambient_pressure' is '0.1 psia', outside its range: give 0.145 to 1450 psia"),
    ({"acceleration": "500 g"}, "'acceleration' is '500 g', outside its range: give -102 to 102 g"),  # 1000 m/s2
    ({"fluid_temperature": "300 C"}, "'fluid_temperature' is '300 C': temperature 572 F (300 C) is above 248 F (120 C)")])
def test_a_condition_out_of_range_is_told_by_its_word(conditions, told):
    car = plumbed()
    car.case("wrong", **conditions)
    with pytest.raises(fn.CircuitError) as refusal:
        car.solve()
    assert str(refusal.value).startswith(f"case 'wrong': {told}") and refusal.value.value == conditions[refusal.value.key]


@pytest.mark.parametrize("field, key, written, told", [
    ("band", "override", None, "relief: 'override' comes to a band of 29008 psi (2000 bar), outside its range"),
    ("band", "band", None, "relief: 'band' comes to 29008 psi (2000 bar), outside its range"),
    ("band", "override", "5 psi at 3 gpm", "relief: 'override' is '5 psi at 3 gpm', which makes a band of 29008 psi (2000 bar), outside its range")])
def test_a_value_that_came_of_something_else_is_told_in_plain_english(field, key, written, told):
    from types import SimpleNamespace

    from flarenut.circuit.ranges import in_words

    refusal = SimpleNamespace(place="relief", field=field, trouble="2e+08 Pa is outside 10 to 1e+07 Pa; lower it")
    error = in_words(refusal, key, written)
    assert str(error).startswith(told) and "the band may be 0.00145 psi (0.0100 kPa) to 1450 psi (100 bar)" in error.cure
    assert (error.place, error.key, error.value) == ("relief", key, written)


def test_every_number_of_a_part_is_known_by_a_key_that_the_part_takes():
    from flarenut.circuit.file.sections import part_words
    from flarenut.circuit.ranges import key_of

    nobody_writes = {"discharge_coefficient", "laminar_constant", "turbulent_constant", "size_constant"}
    for word, build in part_words().items():
        piece = build(**USUAL[word])
        for element in piece.elements:
            if word == "straight":
                nobody_writes.add("roughness")
            idle = {field for field, number in element.numbers.items() if number == 0.0}
            for field in {*element.numbers, *element.columns} - nobody_writes - idle:
                assert key_of(field, piece.given, piece.keys) in piece.keys, (word, field)


# Any value of any type under any key of any part must be refused in words, or taken; never anything else.
USUAL = {
    "hose": {"size": "-8", "length": "11 ft", "spec": "ptfe"}, "tube": {"size": "3/8 in", "length": "9 ft"},
    "passage": {"bore": "8 mm", "length": "100 mm"}, "straight": {"size": "-8"}, "elbow": {"size": "-8"},
    "reducer": {"inlet": "10 mm", "outlet": "5 mm"}, "pickup": {"bore": "10 mm"}, "opening": {"bore": "8 mm"}, "orifice": {"bore": "1 mm"},
    "valve": {"cv": 2.5}, "check_valve": {"rated": "3 psi at 300 L/h"}, "relief_valve": {"opens_at": "60 psi", "wide_open": "10 psi at 8 gpm"},
    "bypass_regulator": {"set": "43.5 psi", "reference": "manifold"}, "reducing_regulator": {"set": "6 psi", "wide_open": "2 psi at 40 gph"},
    "electric_pump": {"curves": [["0 L/h", "95 psi"], ["255 L/h", "60 psi"]]}, "formula_pump": {"dead_head": "95 psi", "free_flow": "420 L/h"},
    "displacement_pump": {"displacement": "18 cc/rev", "speed": "3000 rpm"},
    "centrifugal_pump": {"points": [["0 gpm", "18 psi"], ["40 gpm", "6 psi"]], "rated_speed": "3000 rpm", "speed": "800 rpm"},
    "filter": {"drop": "1.5 psi at 100 gph"}, "strainer": {"drop": "0.3 psi at 100 gph"}, "resistance": {"drop": "5 psi at 3 gpm"},
    "measured_part": {"points": [["1 gpm", "0.5 psi"], ["3 gpm", "3.6 psi"]], "rated_with": "water"},
}
VALUES = ["", "x", "-8", "11 ft", "0", "nan", "1e400 mm", "5 psi at", "at", "5 psi at 3 gpm", "own at x", "water at 500 C", 0, -1, 3, 10**30, 1.5,
          float("nan"), float("inf"), True, [], [[]], ["a", "b"], [["0 gpm", "1 psi"], ["1 gpm", "x"]], {}, {"a": 1}, [{"volts": []}],
          [{"points": [[1, 2], [3, 1]], "flow": 3, "pressure": 4}], {"density": [], "viscosity": {}}, {"opens_at": []}, "99999999999999999999999 in"]


def test_every_part_has_its_usual_values_here():
    from flarenut.circuit.file.sections import part_words

    assert set(USUAL) == set(part_words())


@pytest.mark.parametrize("word", USUAL)
def test_no_value_at_all_brings_a_part_down(word):
    from flarenut.circuit.file.sections import part_words
    from flarenut.circuit.file.words import keys_of

    build = part_words()[word]
    build(**USUAL[word])
    for key in keys_of(build).values():
        refusals = 0
        for value in VALUES:
            try:
                build(**{**USUAL[word], key.argument: value})
            except ValueError as error:  # what else is raised fails the test
                refusals += 1
                assert str(error)
        assert refusals, f"{key.word} takes anything"


def test_the_schema_agrees_with_the_loader_about_the_good_file_and_is_strict_json(capsys):
    from flarenut.cli import main

    assert main(["schema"]) == 0
    schema = json.loads(capsys.readouterr().out)
    assert set(schema["properties"]) == {"circuit", "tank", "junction", "fixed", "injectors", "case", "run", "tee", "sweep"}
    hose = next(one for one in schema["properties"]["run"]["items"]["properties"]["parts"]["items"]["oneOf"] if one["properties"]["part"]["enum"] == ["hose"])
    assert "length" in hose["properties"] and hose["additionalProperties"] is False
