"""`flarenut parts`: the words of circuit files, out of the builder functions' signatures and docstrings."""

import inspect
import re
from typing import Any
from collections.abc import Callable
from argparse import Namespace

from ..circuit import case_words
from ..circuit.file.sections import DRIVE, SWEEP, headings, part_words
from ..circuit.file.words import Key, keys_of, takes_any_key
from ..circuit.vehicle import Vehicle
from ..units.errors import nearest
from .guard import SOLVED, Refusal


def parts(options: Namespace) -> int:
    """Lists the words, or the keys of one."""
    print(_listed() if options.name is None else _keys(options.name))
    return SOLVED


def _listed() -> str:
    words, heads = part_words(), headings()
    widest = max(map(len, [*words, *heads]))
    lines = ["Parts, written {part = \"...\", ...} in the parts of a run:"]
    lines += [f"  {word:<{widest}}  {_summary(function)}" for word, function in words.items()]
    lines += ["", "Headings:"]
    lines += [f"  {word:<{widest}}  {_summary(function)}" for word, (function, _) in heads.items()]
    return "\n".join([*lines, "", "'flarenut parts hose' lists the keys of one of them; docs/guide/circuit_files.md explains them.",
                      "Of vehicle files: " + ", ".join(form for _, form in _OF_VEHICLES.values()) + ", and [circuit.NAME] with file = \"coolant.toml\"; docs/guide/vehicles.md."])


def _keys(name: str) -> str:
    without: tuple[str, ...]
    words, heads = part_words(), {**headings(), **_OF_VEHICLES}
    word = name.strip("[] ")
    if word in words:
        function, without, head = words[word], (), f'{{part = "{word}", ...}}'
    elif word in heads:
        function, form = heads[word]
        without, head = (("name",) if ".NAME" in form else ()), form + " of a vehicle file, docs/guide/vehicles.md" * (word in _OF_VEHICLES)
    else:
        close = nearest(word, [*words, *heads])
        raise Refusal(f"flarenut: there is no part '{name}'\n  cure: " +
                      (f"did you mean '{close}'? " if close else "") + "'flarenut parts' lists them")
    said = {**described(function), **own_keys(word)}
    keys = keys_of(function, without=without)
    widest = max([len(key) for key in (*keys, *own_keys(word))] + [0])
    lines = [head, "  " + _summary(function), ""]
    for key in keys.values():
        lines.append(f"  {key.word:<{widest}}  " + _in_a_file(said.get(key.argument, ""), key))
    lines += [f"  {key:<{widest}}  {words_of_key}" for key, words_of_key in own_keys(word).items()]
    if takes_any_key(function):
        lines += _conditions()
    if word in EXAMPLES:
        lines += ["", "for example:", *(f"  {line}" for line in EXAMPLES[word].splitlines())]
    return "\n".join(line.rstrip() for line in lines)


def own_keys(word: str) -> dict[str, str]:
    """Keys of a heading that only files have -> what they mean."""
    return {"tables": 'tables of your own hose and tube beside this file, ["shop_hoses.csv"]'} if word == "circuit" else {}


_FILE_WORDS = (  # what a docstring says to Python -> what it says of a file
    (r"\bTrue\b", "true"), (r"\bFalse\b", "false"), (r'"(\w+)": ', r"\1 = "), (r", or what `flarenut\.\w+` makes", ""),
    (r";? default [^;]*$", ""),  # the preset itself follows
)


def _in_a_file(words_of_key: str, key: Key) -> str:
    """What is said of an argument, as a file writes it, with what stands for it when it is left out."""
    for python, toml in _FILE_WORDS:
        words_of_key = re.sub(python, toml, words_of_key)
    preset = "needed" if key.needed else "" if key.preset in (None, ()) else f"default {_toml(key.preset)}"
    return "; ".join(text for text in (words_of_key, preset) if text)


# Condition of a case -> what it is, with an example of its own: the kind alone says too little ("a length, '8 mm'").
CONDITIONS = {
    "volts": ("of all electric pumps", "13.5"), "speed": ("of what drives the pumps, usually the engine", '"800 rpm"'),
    "duty": ("share of the time the injectors flow", '"85 %"'), "filter_loading": ("resistance of filters over clean, 1 or more", "2"),
    "fluid_temperature": ("of the liquid everywhere", '"140 F"'), "ambient_pressure": ("absolute; instead of altitude", '"14.7 psia"'),
    "tank_level": ("liquid above the pick-ups of all tanks", '"2 in"'), "tank_vent": ("above the liquid of all tanks, gauge", '"0.5 psi"'),
    "altitude": ("height above the sea", '"5000 ft"'), "manifold": ("gauge pressure of the place 'manifold'", '"18 inHg vacuum" or "10 psi"'),
    "acceleration": ("of the vehicle, forward; or a list of three: forward, left, up", '"0.8 g"'),
    "power": ("of the engine; with specific_consumption it sets the injectors' duty", '"300 hp"'),
    "specific_consumption": ("fuel per power; with power", '"0.55 lb/hp/h"'),
    "engine_power": ("of the engine, of which places take up their heat_share", '"180 kW"'),
    "air_temperature": ("around the vehicle; coolers, walls and tanks give their heat to it", '"100 F"'),
    "vehicle_speed": ("of which coolers get their wind_share", '"60 mph"'), "fan": ("speed of the air at the face of coolers, by their fans", '"3 m/s"'),
}


_OF_VEHICLES: dict[str, tuple[Callable[..., Any], str]] = {"vehicle": (Vehicle, "[vehicle]"), "exchanger": (Vehicle.exchanger, "[exchanger.NAME]")}  # headings that circuit files do not have


SWEEP_EXAMPLE = """[sweep."return line"]
vary."return hose.size" = ["-4", "-6", "-8"]
vary.volts = {from = 11, to = 14, step = 0.5}
cases = ["idle", "hot restart"]
outputs = ["rail.gauge", "return hose.drop"]
limits."rail.gauge" = {least = "40 psi", most = "60 psi"}

[sweep."what scatters"]
vary.fluid_temperature = {between = ["10 C", "50 C"]}
together."return hose.size" = ["-6", "-8"]
together."feed hose.size" = ["-8", "-10"]
samples = 500
seed = 1"""


DRIVE_EXAMPLE = """[drive."cold morning"]
cases = [["1 min", "cold start"], ["12 min", {speed = "2000 rpm", engine_power = "12 kW", vehicle_speed = "50 km/h"}], ["8 min", "hot track"]]
every = "10 s"
start = "-10 C"
times = ["0 s", "5 min", "21 min"]
outputs = ["sump.temperature", "gallery.gauge", "oil cooler.heat"]
marks = ["80 C", "110 C"]"""

EXAMPLES = {SWEEP: SWEEP_EXAMPLE, DRIVE: DRIVE_EXAMPLE}


def _conditions() -> list[Any]:
    """Lines that list the conditions of a case, each with a value it takes."""
    lines = [f"  {word:<22}{CONDITIONS[word][0]}; e.g. {CONDITIONS[word][1]}" for word in case_words.WORDS]
    return [*lines, "  \"NAME.key\"            any key of the part, tank or place NAME, e.g. \"return hose.size\" = \"-8\""]


def _summary(function: Callable[..., Any]) -> str:
    return (inspect.getdoc(function) or "").split("\n\n")[0].replace("\n", " ")


def described(function: Callable[..., Any]) -> dict[str, str]:
    """Argument -> what the docstring says of it, from its "Parameters" section.

    >>> def lift(height):
    ...     '''Lifts.
    ...
    ...     Parameters
    ...     ----------
    ...     height : how far,
    ...         upwards
    ...     '''
    >>> described(lift)
    {'name': 'what tables and messages call it', 'height': 'how far, upwards'}

    "see `electric_pump`" is answered with what stands there: nobody looks up one list of keys in another.
    """
    said = _parameters(function)
    known = {**{word: one for word, (one, _) in headings().items()}, **part_words()}
    for name, words_of_name in said.items():
        other = re.search(r"see `(\w+)`$", words_of_name)
        if other and other[1] in known:
            there = _parameters(known[other[1]]).get(name)
            said[name] = words_of_name[:other.start()] + there if there else words_of_name
    return said


def _parameters(function: Callable[..., Any]) -> dict[str, str]:
    text = inspect.getdoc(function) or ""
    said = {"name": "what tables and messages call it"}
    match = re.search(r"^Parameters\n-+\n(.*?)(?:\n\n|\Z)", text, re.DOTALL | re.MULTILINE)
    names = []
    for line in match[1].splitlines() if match else []:
        entry = re.match(r"([\w*]+(?:, [\w*]+)*)\s*:\s*(.*)", line)
        if entry and not line.startswith(" "):
            names = [name.strip("* ") for name in entry[1].split(",")]
            said.update(dict.fromkeys(names, entry[2]))
        else:
            for name in names:
                said[name] = f"{said[name]} {line.strip()}".strip()
    return said


def _toml(value: object) -> str:
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else str(value)
