"""`flarenut parts`: the words of circuit files, out of the builder functions' signatures and docstrings."""

import inspect
import re

from ..circuit import cases
from ..circuit.file.sections import headings, part_words
from ..circuit.file.words import keys_of, takes_any_key
from ..units import KINDS
from ..units.errors import nearest
from .guard import SOLVED, Refusal


def parts(options):
    """Lists the words, or the keys of one."""
    print(_listed() if options.name is None else _keys(options.name))
    return SOLVED


def _listed():
    words, heads = part_words(), headings()
    widest = max(map(len, [*words, *heads]))
    lines = ["Parts, written {part = \"...\", ...} in the parts of a run:"]
    lines += [f"  {word:<{widest}}  {_summary(function)}" for word, function in words.items()]
    lines += ["", "Headings:"]
    lines += [f"  {word:<{widest}}  {_summary(function)}" for word, (function, _) in heads.items()]
    return "\n".join([*lines, "", "'flarenut parts hose' lists the keys of one of them; docs/guide/circuit_files.md explains them."])


def _keys(name):
    words, heads = part_words(), headings()
    word = name.strip("[] ")
    if word in words:
        function, without, head = words[word], (), f'{{part = "{word}", ...}}'
    elif word in heads:
        function, form = heads[word]
        without, head = (("name",) if ".NAME" in form else ()), form
    else:
        close = nearest(word, [*words, *heads])
        raise Refusal(f"flarenut: there is no part '{name}'\n  cure: " +
                      (f"did you mean '{close}'? " if close else "") + "'flarenut parts' lists them")
    said = described(function)
    keys = keys_of(function, without=without)
    widest = max([len(key) for key in keys] + [0])
    lines = [head, "  " + _summary(function), ""]
    for key in keys.values():
        preset = "needed" if key.needed else "" if key.preset in (None, ()) else f"default {_toml(key.preset)}"
        words_of_key = said.get(key.argument, "")
        lines.append(f"  {key.word:<{widest}}  " + "; ".join(text for text in (words_of_key, preset) if text))
    if takes_any_key(function):
        lines += _conditions()
    return "\n".join(line.rstrip() for line in lines)


def _conditions():
    """Lines that list the conditions of a case with the kind of value each takes."""
    kinds = {word: kind for word, (kind, _) in cases.DRIVES.items()}
    kinds |= {word: kind for table in (cases.SURROUNDINGS, cases.TANKS) for word, (_, kind) in table.items()}
    kinds |= {"altitude": "length", "manifold": "pressure_gauge", "acceleration": "acceleration", "power": "power",
              "specific_consumption": "specific_consumption"}
    lines = [f"  {word:<22}{KINDS[kinds[word]].words}, e.g. '{KINDS[kinds[word]].example}'" for word in cases.WORDS]
    lines[cases.WORDS.index("acceleration")] += "; of the vehicle, forward; or a list of three: forward, left, up"
    lines[cases.WORDS.index("power")] += "; with specific_consumption it sets the injectors' duty"
    return [*lines, "  \"NAME.key\"            any key of the part, tank or place NAME, e.g. \"return hose.size\" = \"-8\""]


def _summary(function):
    return (inspect.getdoc(function) or "").split("\n\n")[0].replace("\n", " ")


def described(function):
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
    """
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


def _toml(value):
    if isinstance(value, bool):
        return str(value).lower()
    return f'"{value}"' if isinstance(value, str) else str(value)
