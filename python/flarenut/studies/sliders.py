"""`Sliders`: move a size, a length or the volts with the mouse, and see what the circuit does at once.

ipywidgets shows the sliders and matplotlib the picture; both are fetched when `Sliders` is made, not when this is imported.
docs/guide/notebooks.md shows how they are used.
"""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Mapping, Sequence
from html import escape
from math import floor, log10
from typing import TYPE_CHECKING, Any
from types import ModuleType

from ..circuit import CircuitError
from ..circuit.cases import Case
from ..circuit.errors import located
from ..units import settled
from ..units.errors import quoted
from .axes import read_axes
from .between import Between
from .blueprint import copied
from .live_picture import LivePicture
from .numbers import refuse_rivals, rivals_of

if TYPE_CHECKING:
    from ipywidgets.widgets.widget_description import DescriptionWidget
    from traitlets.utils.bunch import Bunch
    from ..circuit.circuit import Circuit
    from ..results.answer import Answer

_STEPS = 60  # about as many places along a slider, so that a step is a round number


class Sliders:
    """Sliders over words of a circuit, and a picture that follows them.

    Every move solves the circuit again on its plan, with new numbers, and calls `draw`. The circuit given stays as it is. What a
    slider says beats what a case says of the same word. A move that is refused, or that cannot be drawn, is told in words under
    the picture; it never raises.

    Parameters
    ----------
    circuit : `Circuit`
    moves : name -> where it may go. Names are those of `sweep`: words of parts and places, "return hose.size", and conditions,
        "volts". A list of values gives a choice, ``between("11 V", "14.5 V")`` a range
    draw : function of (`LivePicture`, `Answer`): calls ``picture.line(...)`` and ``picture.say(...)``
    start : name -> value to begin with; as the circuit has it, or else the middle of the range, unless given
    cases : names of the cases to solve; all unless given
    size : width and height of the picture [in]
    units : "us" or "metric", for what is told under the picture; those of the circuit unless given

    Attributes
    ----------
    controls : name -> its widget; setting its `value` is a move
    picture, answer : the `LivePicture`; the latest `Answer`, None where the last move was refused
    trouble : why the last move was refused or not drawn; "" where it was

    Raises
    ------
    CircuitError : a name that the circuit does not have, a range without sense, a start outside of it
    ImportError : ipywidgets or matplotlib is not installed

    Examples
    --------
    ``Sliders(car, {"return hose.size": ["-4", "-6", "-8"], "volts": between("11 V", "14.5 V")}, draw)`` as the last line of a cell.
    """

    def __init__(self, circuit: Circuit, moves: Mapping[str, Sequence[str] | Between], draw: Callable[..., Any], *,
                 start: dict[str, str] | None = None, cases: str | None = None, size: tuple[float, float] = (8.0, 4.2), units: str | None = None) -> None:
        widgets = _widgets()
        self._shown_in = settled(units, circuit)
        self._draw, self._cases = draw, cases
        self._circuit = _own(circuit)
        self._sorts = _sorts(self._circuit, moves)
        self.controls = {name: _control(widgets, name, values, _first(self._circuit, name, values, start or {})) for name, values in moves.items()}
        self._units = {name: values.unit for name, values in moves.items() if isinstance(values, Between)}
        self.answer: Answer | None = None
        self.trouble = ""
        self.picture = LivePicture(size)
        self._image, self._words = widgets.Image(format="png"), widgets.HTML()
        self.box = widgets.VBox([*self.controls.values(), self._image, self._words])
        for control in self.controls.values():
            control.observe(self._move, "value")
        self._move()

    @property
    def values(self) -> dict[str, str]:
        """Name -> value as a builder writes it, as the sliders stand."""
        return {name: _written(control.value, self._units.get(name)) for name, control in self.controls.items()}

    def _move(self, _: Bunch | None = None) -> None:
        """Solves and draws what the sliders say. Whatever goes wrong is said in words."""
        self.answer, self.trouble = None, ""
        self.picture.begin()
        try:
            self.answer = self._solved()
            self._draw(self.picture, self.answer)
            self._image.value = self.picture.png()
        except Exception as error:  # a picture that follows the mouse must not drown the page in tracebacks
            self.trouble = str(error) or type(error).__name__
            self._clear()
        self._words.value = self._said()

    def _clear(self) -> None:
        """An empty picture, rather than one of the move before."""
        self.picture.begin()
        try:
            self._image.value = self.picture.png()
        except Exception:
            self._image.value = b""

    def _solved(self) -> Answer:
        own = self._circuit
        pieces: dict[str, dict[str, str]] = {}
        values = self.values
        for name, value in values.items():
            owner, _, key = name.rpartition(".")
            if self._sorts[name] != "condition":
                pieces.setdefault(owner, {})[key] = value
        for owner, words in pieces.items():
            own.change(owner, **words)
        beaten = {*values, *(rival for name in values for rival in rivals_of(self._circuit, name))}
        moved = {name: value for name, value in values.items() if self._sorts[name] == "condition"}
        for case in own.cases.values():
            case.conditions = {**{word: value for word, value in case.conditions.items() if word not in beaten}, **moved}
        return own.solve(self._cases)

    def _said(self) -> str:
        if self.trouble:
            return f'<div style="color:#b3261e">Not drawn: {escape(self.trouble)}</div>'
        silent = [f"{case.name}: no answer, {case.cause_in(self._shown_in)}" for case in (self.answer or {}).values() if not case.converged]
        return "".join(f"<div>{escape(line)}</div>" for line in [*self.picture.said, *silent])

    def __repr__(self) -> str:
        return f"<sliders over {', '.join(f'{name} = {value}' for name, value in self.values.items())}>"

    def _repr_mimebundle_(self, **asked: object) -> dict[Any, Any]:
        """What a notebook shows; a page where nothing runs gets the picture as it stood."""
        try:
            shown = {**self.box._repr_mimebundle_(**asked), "text/plain": repr(self)}
            return {**shown, "image/png": b64encode(self._image.value).decode("ascii")} if self._image.value else shown
        except Exception as error:
            return {"text/plain": f"{self!r} could not be shown: {error}"}


def _widgets() -> ModuleType:
    try:
        import ipywidgets
    except ImportError:
        raise ImportError("sliders need ipywidgets, which is not installed: pip install 'flarenut[notebook]'") from None
    library: ModuleType = ipywidgets
    return library


def _own(circuit: Circuit) -> Circuit:
    """A copy to move; its cases are copies too."""
    own = copied(circuit)
    own.cases = {name: Case(name, dict(case.conditions)) for name, case in circuit.cases.items()} or {"as written": Case("as written")}
    return own


def _sorts(circuit: Circuit, moves: Mapping[str, Sequence[str] | Between]) -> dict[str, str]:
    """Name -> "word", "place" or "condition". Raises `CircuitError` for what no slider moves."""
    if not isinstance(moves, dict) or not moves:
        raise CircuitError(f"what to move is {quoted(moves)}", 'write {"return hose.size": ["-6", "-8"]}', place="sliders")
    found = {}
    refuse_rivals(circuit, list(moves))
    for name, values in moves.items():
        try:
            dimensions, _ = read_axes(circuit, {name: [values.low, values.high] if isinstance(values, Between) else values})
        except ValueError as error:
            error = located(error, "")
            raise CircuitError(error.reason, error.cure, place=f"slider '{name}'", key=error.key, value=error.value) from None
        axis = dimensions[0].axes[0]
        if axis.sort not in ("word", "place", "condition") or isinstance(values, dict) or isinstance(name, tuple):
            raise CircuitError("a slider moves one word of a part or place, or one condition", "sweep it instead",
                               place=f"slider '{name}'", key=name)
        found[name] = axis.sort
    return found


def _first(circuit: Circuit, name: str, values: Sequence[str] | Between, start: dict[str, str]) -> float | str:
    """Where a slider begins, as its widget has it."""
    owner, _, key = name.rpartition(".")
    piece = circuit.compiled().pieces.get(owner)
    written: str | None = start.get(name, piece.given.get(key) if piece else None)
    if isinstance(values, Between):
        low, high = values.ends
        number = _number_in(values, written)
        if number is not None and low <= number <= high:
            return number
        middle: float | str = (low + high) / 2
    else:
        if written is not None and written in values:
            return written
        middle = values[0]
    if name in start:
        raise CircuitError(f"it cannot begin at {quoted(written)}", "begin at one of its values", place=f"slider '{name}'", key=name, value=written)
    return middle


def _number_in(span: Between, written: str | None) -> float | None:
    """The number of a value written in the unit of a range; None where it is written otherwise."""
    text = str(written).strip()
    number = text.removesuffix(span.unit) if span.unit else text
    try:
        return float(number)
    except ValueError:
        return None


def _control(widgets: ModuleType, name: str, values: Sequence[str] | Between, first: object) -> DescriptionWidget:
    looks = {"style": {"description_width": "14em"}, "layout": widgets.Layout(width="36em")}
    if not isinstance(values, Between):
        return widgets.SelectionSlider(options=[(str(value), value) for value in values], value=first, description=name, **looks)
    low, high = values.ends
    unit = f" [{values.unit}]" if values.unit else ""
    return widgets.FloatSlider(value=first, min=low, max=high, step=_round_step(high - low), description=name + unit, readout_format=".4g", **looks)


def _round_step(span: float) -> float:
    """The largest of 1, 2, 5 times a power of ten that gives at least `_STEPS` places."""
    rough = span / _STEPS
    power = 10.0 ** floor(log10(rough))
    return max(step * power for step in (1, 2, 5) if step * power <= rough * (1 + 1e-9))


def _written(value: Any, unit: str | None) -> Any:
    """What a widget holds, as a builder writes it: a value of a choice as it is, a number with the unit of its range."""
    return f"{value:.9g} {unit}" if unit else value
