"""Slips about heat in circuit files: each is told with its line, its key, what is wrong and a cure."""

import re

import pytest
from file_example import refused
from flarenut.circuit.file import read

GOOD = """# Oil of an invented engine.
[circuit]
name = "oil (invented)"
fluid = "SAE 10W-40"
fluid_temperature = "90 C"
air_temperature = "25 C"
units = "metric"

[tank.sump]
level = "80 mm"
temperature = "found"
heat_share = "5 %"
heat_loss = "12 W/K"

[fixed.crankcase]
height = "200 mm"
drains_to = "sump"

[[run]]
name = "pumping"
from = "sump"
to = "pump out"
parts = [{part = "displacement_pump", name = "pump", displacement = "12 cc/rev", speed = "3000 rpm"}]

[[run]]
name = "round"
from = "pump out"
to = "gallery"
parts = [{part = "bypass_thermostat", opens = "82 C", full = "95 C", bore = "12 mm"}]

[[run]]
name = "cooling"
from = "pump out"
to = "gallery"
parts = [
  {part = "thermostat", opens = "82 C", full = "95 C", bore = "12 mm"},
  {part = "hose", size = "-10", spec = "ptfe", length = "1 m", air = "still", air_rise = "30 K"},
  {part = "cooler", heat = "9 kW at 20 L/min", rated_inlet = "110 C", rated_air = "35 C at 5 m/s", face = ["300 mm", "190 mm"], drop = "0.4 bar at 20 L/min", rated_with = "own at 100 C"},
]

[[run]]
name = "mains"
from = "gallery"
to = "crankcase"
parts = [{part = "orifice", bore = "4 mm"}]

[case.road]
engine_power = "60 kW"
vehicle_speed = "25 m/s"
"""


def test_the_file_is_sound():
    case = read(GOOD, "oil.toml").circuit.solve()["road"]
    assert case.converged and case.finds_temperatures and 70 < case.at("gallery").temperature.to("C") < 110


SLIPS = [  # what is written, in its place what; what the message holds, what the cure holds
    ('opens = "82 C", full = "95 C", bore = "12 mm"},', 'opens = "95 C", full = "82 C", bore = "12 mm"},', "not above the '95 C' of 'opens'", "swap the two"),
    ('heat_loss = "12 W/K"', 'heat_loss = "-12 W/K"', "below zero", "without the sign"),
    ('heat_loss = "12 W/K"', 'heat_los = "12 W/K"', "unknown key 'heat_los'", "did you mean 'heat_loss'"),
    ('heat_loss = "12 W/K"', 'heat_loss = "12 W"', "heat_loss", "W/K"),
    ('heat_share = "5 %"', 'heat_share = "500 %"', "more than all of the engine's power", "4 %"),
    ('temperature = "found"', 'temperature = "fond"', "temperature", ""),
    ('drains_to = "sump"', 'drains_to = "samp"', "which is no tank", "did you mean 'sump'"),
    ('drains_to = "sump"', 'drains_to = "gallery"', "which is no tank", "sump"),
    ('height = "200 mm"', 'temperature = "found"', "is for tanks", "leave it off"),
    ('air = "still", ', '', "nothing is said of the air around", "still"),
    ('air = "still"', 'air = "calm"', "air", ""),
    ('heat = "9 kW at 20 L/min"', 'heat = "90 kW at 20 L/min"', "more than the rated flows can carry", "check heat, flow"),
    ('heat = "9 kW at 20 L/min", ', '', "by its rating or by a table", "heat_table"),
    ('rated_inlet = "110 C"', 'rated_inlet = "30 C"', "no warmer than the rating's air", "hotter than its air"),
    ('rated_air = "35 C at 5 m/s"', 'rated_air = "35 C"', "not one thing at another", "35 C at 5 m/s"),
    ('face = ["300 mm", "190 mm"]', 'face = "300 mm"', "face", "width and height"),
    ('vehicle_speed = "25 m/s"', 'vehicle_sped = "25 m/s"', "vehicle_sped", "did you mean 'vehicle_speed'"),
    ('vehicle_speed = "25 m/s"', '"oil coler.fan" = "3 m/s"', "oil coler", ""),
    ('engine_power = "60 kW"', 'engine_power = "-60 kW"', "below zero", "heat"),
    ('engine_power = "60 kW"', '"sump.temperature" = "300 C"', "is above 160 C", "lower the temperature"),
    ('temperature = "found"', 'temperature = "300 C"', "is above 160 C", "lower the temperature"),
    ('engine_power = "60 kW"', 'air_temperature = "900 C"', "outside its range", "give -73.1 to 227 C"),
    ('engine_power = "60 kW"', 'fan = "90 m/s"', "outside its range", "give 0 to 50 m/s"),
    ('engine_power = "60 kW"', '"sump.heat_loss" = "-3 W/K"', "outside its range", "W/K"),
    ('engine_power = "60 kW"', '"sump.heat_share" = "3 %"', "has no 'heat_share' to change", "heat_loss"),
    ('engine_power = "60 kW"', '"crankcase.heat" = "3 kW"', "has no 'heat' to change", ""),
    ('fluid_temperature = "90 C"', 'temperatures = "fuond"', "fuond", 'write "found"'),
]


@pytest.mark.parametrize(("written", "instead", "told", "cure"), SLIPS, ids=[(slip[1] or 'without ' + slip[0])[:50] for slip in SLIPS])
def test_a_slip_of_heat_is_told_with_its_line(written, instead, told, cure):
    assert GOOD.count(written) >= 1
    text = GOOD.replace(written, instead, 1)
    error = refused(text)
    message = str(error)
    assert told in message and cure in message, message
    lines = [int(number) for number in re.findall(r"wagon\.toml:(\d+):", message)]
    at = next(number for number, (old, new) in enumerate(zip(GOOD.splitlines(), text.splitlines()), 1) if old != new)
    assert at in lines, message


def test_what_is_given_in_a_circuit_of_given_temperatures_is_told():
    text = GOOD.replace('fluid_temperature = "90 C"', 'fluid_temperature = "90 C"\ntemperatures = "given"')
    assert not read(text, "oil.toml").circuit.solve()["road"].finds_temperatures
    error = refused(text.replace('engine_power = "60 kW"', '"sump.heat" = "3 kW"'))
    assert "in a circuit of given temperatures" in str(error) and 'temperatures = "found"' in str(error)
