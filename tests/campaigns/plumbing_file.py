"""A plumbing in words as the text of a circuit file."""

import json


def to_toml(told):
    """What `describe` told, as the text of a circuit file; its liquid has to be one of a name."""
    lines = ["[circuit]", *_pairs(told["circuit"])]
    for word in ("tank", "fixed", "junction", "injectors", "case"):
        for name, said in told.get(word, {}).items():
            lines += ["", f"[{word}.{_toml(name)}]", *_pairs(said)]
    for tee in told["tee"]:
        lines += ["", "[[tee]]", *_pairs(tee)]
    for run in told["run"]:
        lines += ["", "[[run]]", *_pairs(run)]
    return "\n".join(lines) + "\n"


def _pairs(said):
    return [f"{key if key.isidentifier() else _toml(key)} = {_toml(value)}" for key, value in said.items()]


def _toml(value):
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "{" + ", ".join(_pairs(value)) + "}"
    if isinstance(value, (list, tuple)):
        return "[" + ", ".join(_toml(one) for one in value) + "]"
    return json.dumps(value, ensure_ascii=False)
