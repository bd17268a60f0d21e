"""Puts a mutant into modules that are loaded: in a forked process this costs milliseconds, where loading all anew costs seconds.

Functions keep their identity and get the wrong code, so that whoever imported one has the wrong one. Of what the module's own lines make (numbers,
tables, classes), what differs takes the place of the right one in every module that holds it under the same name.
"""

import gc
import sys
import types

from mutants_python import Mutant, code_of, text_of


_functions: dict[str, list[types.FunctionType]] = {}


def functions_now() -> dict[str, list[types.FunctionType]]:
    """Every function there is, by the name of its module; kept for those to whom it is handed down, since looking takes a while."""
    _functions.clear()
    for one in gc.get_objects():
        if isinstance(one, types.FunctionType):
            _functions.setdefault(one.__module__, []).append(one)
    return _functions


def put_in(mutant: Mutant, module: types.ModuleType) -> None:
    """From here on this process is wrong."""
    right, wrong = compile(text_of(mutant.path), str(mutant.path), "exec"), code_of(mutant)
    codes = dict(_pairs(right, wrong))
    for function in _functions.get(module.__name__) or functions_now().get(module.__name__, ()):
        if function.__code__ in codes:
            function.__code__ = codes[function.__code__]
    classes = {one.co_name for one, other in codes.items() if _own(one) != _own(other)}
    if _own(right) != _own(wrong) or any(_is_class(vars(module).get(name), module) for name in classes):
        _replace_names(wrong, module, classes)


def _pairs(right: types.CodeType, wrong: types.CodeType):
    """Code of each function and class of the right module beside that of the wrong one, where they differ."""
    of_right, of_wrong = ([one for one in code.co_consts if isinstance(one, types.CodeType)] for code in (right, wrong))
    if len(of_right) != len(of_wrong):
        return  # a condition that is always one way takes the functions of its other way away; what holds them is replaced
    for one, other in zip(of_right, of_wrong):
        if one != other:
            yield one, other
            yield from _pairs(one, other)


def _own(code: types.CodeType):
    """What a module or a class does by itself, without the insides of its functions."""
    return code.co_code, [one for one in code.co_consts if not isinstance(one, types.CodeType)]


def _is_class(value, module) -> bool:
    return isinstance(value, type) and value.__module__ == module.__name__


def _replace_names(wrong: types.CodeType, module: types.ModuleType, classes: set[str]) -> None:
    made = {name: value for name, value in vars(module).items() if name.startswith("__")}
    exec(wrong, made)
    for name, value in list(vars(module).items()):
        if name.startswith("__") or isinstance(value, types.ModuleType) or name not in made or _is_foreign(value, module):
            continue
        other = made[name]
        if isinstance(value, types.FunctionType):
            value.__defaults__, value.__kwdefaults__ = other.__defaults__, other.__kwdefaults__
        elif name in classes if _is_class(value, module) else repr(other) != repr(value):
            for holder in [one for one in sys.modules.values() if getattr(one, "__dict__", {}).get(name) is value]:
                setattr(holder, name, other)


def _is_foreign(value, module) -> bool:
    """True for a function or a class that the module has from another."""
    return isinstance(value, (types.FunctionType, type)) and value.__module__ != module.__name__
