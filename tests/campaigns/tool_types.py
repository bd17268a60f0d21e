"""Types: mypy over the Python sources, and the stub of the compiled module against the module itself."""

import difflib
import re
import sys
from pathlib import Path

from tool_places import BUILD, ROOT, Outcome, need_module, package_folder, run, say, sources_first

SOURCES = ROOT / "python" / "flarenut"
STUB = SOURCES / "_core"
# Where the generator's word stands against what can be read of the compiled module.
ALLOWED = (r"flarenut\._core\..*\.__(init|new)__",  # the binding library gives every class one that says nothing of its arguments
           r".*__pybind11_native_enum__")
BINDING_CLASS = "metaclass differs"  # every bound class is made by the binding library's own, which no stub names
CHECKING = {"MYPYPATH": str(ROOT / "python"), "MYPY_CACHE_DIR": str(BUILD / "mypy")}


def types(form: str, seed: int) -> Outcome:
    """Everything is read as strictly as pyproject.toml has it, and nothing may be said."""
    need_module("mypy")
    say("reading the types ...")
    wrong = complaints()
    return Outcome({"files": len(list(SOURCES.rglob("*.py"))), "complaints": len(wrong)}, tuple(wrong), not wrong)


def complaints(*options: str, path: Path = SOURCES) -> list[str]:
    """mypy's errors, a line each."""
    done = run([sys.executable, "-m", "mypy", *options, "--no-color-output", "--no-error-summary",
                path.relative_to(ROOT) if path.is_relative_to(ROOT) else path], env=CHECKING)
    if done.returncode not in (0, 1):
        raise RuntimeError(done.stdout + done.stderr)
    return [line for line in done.stdout.splitlines() if re.search(r": error: ", line)]


def stubs(form: str, seed: int) -> Outcome:
    """The stub is what the generator makes of the module today, and mypy's stubtest finds no name or argument that differs."""
    need_module("pybind11_stubgen")
    need_module("mypy")
    say("making the stub anew ...")
    made = made_stub()
    kept = {path.name: path.read_text(encoding="utf-8") for path in STUB.glob("*.pyi")}
    different = [line for name in sorted({*made, *kept}) for line in difflib.unified_diff(
        kept.get(name, "").splitlines(), made.get(name, "").splitlines(), f"kept {name}", f"made {name}", lineterm="", n=0)]
    wrong = differences()
    counts = {"modules": len(kept), "lines of stub": sum(text.count("\n") for text in kept.values()), "lines that differ": len(different),
              "complaints of stubtest": len(wrong)}
    return Outcome(counts, (*different, *wrong), not different and not wrong)


def differences() -> list[str]:
    """What mypy's stubtest says of stub and module, the stub alone in a package, so that nothing is said of other rooms."""
    alone = BUILD / "stub-alone" / "flarenut"
    alone.mkdir(parents=True, exist_ok=True)
    (alone / "__init__.pyi").write_text("", encoding="utf-8")
    if not (alone / "_core").exists():
        (alone / "_core").symlink_to(STUB)
    allowed = BUILD / "stubtest-allowed.txt"
    allowed.write_text("\n".join(ALLOWED) + "\n", encoding="utf-8")
    done = run([sys.executable, "-m", "mypy.stubtest", "flarenut._core", "--concise", "--ignore-disjoint-bases", "--ignore-unused-allowlist",
                "--allowlist", allowed], env={**sources_first(), "MYPYPATH": str(alone.parent), "MYPY_CACHE_DIR": str(BUILD / "mypy-stub")})
    said = [line for line in (done.stdout + done.stderr).splitlines() if line.strip() and not line.startswith(("Success", "Found", "Warning"))]
    return [line for line in said if not line.endswith(BINDING_CLASS)] if done.returncode else []


def made_stub() -> dict[str, str]:
    """File name -> text."""
    folder = BUILD / "stub"
    done = run([sys.executable, "-m", "pybind11_stubgen", "flarenut._core", "-o", folder, "--numpy-array-use-type-var"], env=sources_first())
    if done.returncode:
        raise RuntimeError(done.stdout + done.stderr)
    return {path.name: mended(path.read_text(encoding="utf-8")) for path in (folder / "flarenut" / "_core").glob("*.pyi")}


def mended(text: str) -> str:
    """The generator's text where a type checker would misread it: a class with a member called property hides the decorator, and members of
    an enumeration are values, not annotations. The module has no list of its names, and offers the modules within it. Dictionaries and
    tuples say what they hold, and the engine's error what it carries.
    """
    text = re.sub(r"^__all__: .*\n", "", text, flags=re.MULTILINE)
    text = re.sub(r"^from \. import (\w+)$", r"from . import \1 as \1", text, flags=re.MULTILINE)
    text = re.sub(r"^    (\w+): typing\.ClassVar\[\w+\]$", r"    \1 = ...", text, flags=re.MULTILINE)
    text = re.sub(r'(class InputError\(ValueError\):\n    """\n.*\n    """\n)', r"\1    place: str\n    field: str\n    trouble: str\n", text)
    text = re.sub(r"(def (?:liquid_in|constants)\(.*\) -> dict):", r"\1[str, float]:", text)
    text = re.sub(r"-> dict:$", "-> dict[str, typing.Any]:", text, flags=re.MULTILINE)
    text = text.replace("**kwargs)", "**kwargs: typing.Any)").replace("property_names: tuple = ", "property_names: tuple[str, ...] = ")
    text = re.sub(r"^    @classmethod\n    def __new__\(cls, value\):\n        \.\.\.\n", "", text, flags=re.MULTILINE)
    pieces = re.split(r"^(?=class )", text, flags=re.MULTILINE)
    if any("def property(" in piece for piece in pieces):
        pieces = [piece.replace("@property", "@builtins.property") if "def property(" in piece else piece for piece in pieces]
        pieces[0] = pieces[0].replace("import collections.abc\n", "import builtins\nimport collections.abc\n", 1)
    return "".join(pieces)


if __name__ == "__main__":  # writes the stub anew, after a change of the bindings
    package_folder()
    STUB.mkdir(exist_ok=True)
    for name, text in made_stub().items():
        (STUB / name).write_text(text, encoding="utf-8")
