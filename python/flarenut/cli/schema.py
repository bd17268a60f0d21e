"""`flarenut schema`: a JSON Schema (draft 4, which TOML language servers read) made from the same signatures."""

from collections.abc import Callable, Mapping
import json
from argparse import Namespace
from typing import Any

from ..circuit.file.sections import headings, part_words
from ..circuit.file.words import Key, keys_of, takes_any_key
from ..circuit import Circuit
from ..units.display import SYSTEMS
from .guard import SOLVED
from .parts import described, own_keys

_OWN = {"units": {"enum": list(SYSTEMS), "description": described(Circuit)["units"]},
        "tables": {"type": "array", "items": {"type": "string"}, "description": own_keys("circuit")["tables"]}}


def schema(options: Namespace) -> int:
    """Prints the schema."""
    print(json.dumps(as_schema(), indent=2, ensure_ascii=False))
    return SOLVED


def as_schema() -> dict[Any, Any]:
    """The schema as nested dicts."""
    pieces = {"oneOf": [_table(function, extra={"part": {"enum": [word]}}) for word, function in part_words().items()]}
    properties: dict[str, Any] = {}
    for word, (function, form) in headings().items():
        if ".NAME" in form:
            properties[word] = {"type": "object", "additionalProperties": _table(function, without=("name",))}
        elif form.startswith("[["):
            properties[word] = {"type": "array", "items": _table(function)}
        else:
            properties[word] = _table(function, extra=_OWN)
    properties["run"]["items"]["properties"]["parts"] = {"type": "array", "items": pieces}
    return {"$schema": "http://json-schema.org/draft-04/schema#", "title": "flarenut circuit file", "type": "object",
            "required": ["circuit"], "additionalProperties": False, "properties": properties}


def _table(function: Callable[..., Any], *, without: tuple[str, ...] = (), extra: dict[str, Any] | None = None) -> dict[str, Any]:
    said, keys = described(function), keys_of(function, without=without)
    made: dict[str, Any] = {"type": "object", "additionalProperties": takes_any_key(function),
            "properties": {**(extra or {}), **{key.word: _value(key, said) for key in keys.values() if key.word not in (extra or {})}}}
    needed = ["part"] * ("part" in (extra or {})) + [key.word for key in keys.values() if key.needed]
    return {**made, "required": needed} if needed else made  # draft 4 forbids an empty list


def _value(key: Key, said: Mapping[str, str]) -> dict[str, Any]:
    made: dict[str, Any] = {"description": said[key.argument]} if said.get(key.argument) else {}
    if isinstance(key.preset, (str, bool, int, float)):
        made["default"] = key.preset
    return made
