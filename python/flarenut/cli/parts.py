"""`flarenut parts`: the words of circuit files, out of the builder functions' signatures and docstrings."""

import inspect
import re

from ..circuit.file.sections import headings, part_words
from ..circuit.file.words import keys_of, takes_any_key
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
        lines += ["", f"  further keys: {said.get('conditions', 'see docs/guide/circuit_files.md')}"]
    return "\n".join(line.rstrip() for line in lines)


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
    {'height': 'how far, upwards'}
    """
    text = inspect.getdoc(function) or ""
    match = re.search(r"^Parameters\n-+\n(.*?)(?:\n\n|\Z)", text, re.DOTALL | re.MULTILINE)
    said, names = {}, []
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
