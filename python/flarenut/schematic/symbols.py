"""Symbols of parts after ISO 1219-1: shapes of our own drawing by the geometric facts of the standard (from memory), for liquid that runs from
left to right.

A symbol is centred on its line. Paths hold M, L, Q and Z with absolute numbers alone. What the standard has no symbol for, as a bearing or a
fitting, is drawn as plainly as it allows, and the key says what it means.
"""

from __future__ import annotations

from typing import NamedTuple


class Shape(NamedTuple):
    """One stroke or area. kind "path" or "circle"; fill "none", "paper" or "ink"; dash as SVG has it, "" for a solid line."""

    kind: str
    data: str | tuple[float, int, float]
    fill: str = "none"
    dash: str = ""


class Symbol(NamedTuple):
    """What stands on a line: how far it reaches to either side, over and under it, its shapes, and the words of the key."""

    half: float
    over: float
    under: float
    shapes: tuple[Shape, ...]
    means: str


PILOT = "3 2.4"
_ENCLOSED = "7 2 1.5 2"


def path(data: str, fill: str = "none", dash: str = "") -> Shape:
    return Shape("path", data, fill, dash)


def circle(x: float, y: int, radius: float, fill: str = "paper") -> Shape:
    return Shape("circle", (x, y, radius), fill)


_THROUGH = path("M -17 0 L 17 0")
_DIAMOND = path("M 0 -17 L 17 0 L 0 17 L -17 0 Z", "paper")
_BOX = path("M -14 -14 L 14 -14 L 14 14 L -14 14 Z", "paper")
_SPRING = path("M 0 -14 L -4 -16 L 4 -19 L -4 -22 L 4 -25 L 0 -27")
_PUMP = (circle(0, 0, 17), path("M 17 0 L 5 -7 L 5 7 Z", "ink"))
_MOTOR = (path("M -1.5 -17 L -1.5 -23"), path("M 1.5 -17 L 1.5 -23"),
          circle(0, -31, 8), path("M -3.5 -27.5 L -3.5 -34.5 L 0 -30 L 3.5 -34.5 L 3.5 -27.5"))
_SHAFT = (path("M -1.5 -17 L -1.5 -29"), path("M 1.5 -17 L 1.5 -29"),
          path("M -8 -26 Q -7 -21 0 -21 Q 6 -21 7.5 -24"), path("M 9 -29 L 10 -23 L 5 -24.5 Z", "ink"))
_SEAT = (path("M 7 -11 L -7 0 L 7 11"), circle(3, 0, 6.2))
_MESH = path("M 0 -17 L 0 17", dash="4 3")
_ROUND_IT = (path("M -22 0 L -22 -26 L -7 -26"), path("M 7 -26 L 22 -26 L 22 0"), path("M 5 -32 L -5 -26 L 5 -20"),
             circle(2.5, -26, 4.2), path("M -22 0 L -17 0"),
             path("M 17 0 L 22 0"))
_SHUT_ARROW = (path("M -14 7 L 8 7"), path("M 14 7 L 6 3.5 L 6 10.5 Z", "ink"))
_OPEN_ARROW = (path("M -14 0 L 8 0"), path("M 14 0 L 6 -3.5 L 6 3.5 Z", "ink"))
_FROM_INLET = (path("M -22 0 L -14 0"), path("M 14 0 L 22 0"), path("M -19 0 L -19 20 L 0 20 L 0 14", dash=PILOT))
_FROM_OUTLET = (path("M -22 0 L -14 0"), path("M 14 0 L 22 0"), path("M 19 0 L 19 20 L 0 20 L 0 14", dash=PILOT))
_SET = path("M -8 -14 L 8 -27")  # the arrow over a spring: it can be set
_SET_HEAD = path("M 9 -28 L 3.5 -26.5 L 6 -22.5 Z", "ink")
_CHAMBER = (path("M -10 -14 L -10 -30 L 10 -30 L 10 -14"), path("M 0 -30 L 0 -39", dash=PILOT))
_BOWTIE = "M -14 -9 L -14 9 L 14 -9 L 14 9 Z"
_WAX = (path("M 0 0 L 0 -14"), circle(0, -18, 4.5, "ink"), path("M -2 -22 L -2 -34 L 2 -34 L 2 -22", "paper"),
        path("M 2 -26 L 5 -26"), path("M 2 -30 L 5 -30"))
_SPRAY = (path("M 8 0 L 18 0", dash="3 2"), path("M 8 -2 L 17 -8", dash="3 2"), path("M 8 2 L 17 8", dash="3 2"))
_FITTING = (path("M -10 -7 L 10 -7 L 10 7 L -10 7 Z", "paper"), path("M -4 -7 L -4 7"), path("M 4 -7 L 4 7"))
_UP_OUT, _DOWN_OUT = path("M 0 -28 L -4 -20 L 4 -20 Z", "ink"), path("M 0 28 L -4 20 L 4 20 Z", "ink")
_UP_IN = path("M 0 -18 L -4 -26 L 4 -26 Z", "ink")

SYMBOLS = {
    "electric_pump": Symbol(17, 39, 17, (*_PUMP, *_MOTOR), "pump, electric motor"),
    "formula_pump": Symbol(17, 39, 17, (*_PUMP, *_MOTOR), "pump, electric motor"),
    "displacement_pump": Symbol(17, 30, 17, (*_PUMP, *_SHAFT), "pump, driven by a shaft"),
    "centrifugal_pump": Symbol(17, 30, 17, (*_PUMP, *_SHAFT), "pump, driven by a shaft"),
    "filter": Symbol(17, 17, 17, (_DIAMOND, _MESH), "filter or strainer"),
    "filter with bypass": Symbol(22, 32, 17, (*_ROUND_IT, _DIAMOND, _MESH), "filter with bypass valve"),
    "strainer": Symbol(17, 17, 17, (_DIAMOND, _MESH), "filter or strainer"),
    "cooler": Symbol(17, 28, 28, (path("M 0 -20 L 0 20"), _DIAMOND, path("M 0 -17 L 0 17"), _UP_OUT, _DOWN_OUT), "cooler, radiator"),
    "core": Symbol(17, 28, 28, (_DIAMOND, path("M 0 -28 L 0 28"), _UP_IN, _DOWN_OUT), "heat exchanger, one side"),
    "relief_valve": Symbol(22, 27, 20, (_BOX, _SPRING, *_SHUT_ARROW, *_FROM_INLET), "relief valve"),
    "bypass_regulator": Symbol(22, 29, 20, (_BOX, _SPRING, *_SHUT_ARROW, *_FROM_INLET, _SET, _SET_HEAD), "bypass regulator"),
    "bypass_regulator, referenced": Symbol(22, 39, 20, (_BOX, _SPRING, *_SHUT_ARROW, *_FROM_INLET, *_CHAMBER, _SET, _SET_HEAD),
                                           "bypass regulator, referenced"),
    "reducing_regulator": Symbol(22, 29, 20, (_BOX, _SPRING, *_OPEN_ARROW, *_FROM_OUTLET, _SET, _SET_HEAD), "reducing regulator"),
    "reducing_regulator, referenced": Symbol(22, 39, 20, (_BOX, _SPRING, *_OPEN_ARROW, *_FROM_OUTLET, *_CHAMBER, _SET, _SET_HEAD),
                                             "reducing regulator, referenced"),
    "check_valve": Symbol(20, 11, 11, (path("M -20 0 L -7 0"), *_SEAT, path("M 9 0 L 11 -4 L 14 4 L 17 -4 L 20 0")), "check valve"),
    "orifice": Symbol(17, 13, 13, (_THROUGH, path("M -7 -13 L 0 -4 L 7 -13"), path("M -7 13 L 0 4 L 7 13")), "orifice, jet"),
    "resistance": Symbol(17, 12, 12, (_THROUGH, path("M -12 -12 Q 0 4 12 -12"), path("M -12 12 Q 0 -4 12 12")), "restriction"),
    "measured_part": Symbol(17, 12, 12, (path("M -17 -12 L 17 -12 L 17 12 L -17 12 Z", "paper"), path("M -12 7 Q 6 6 12 -8"),
                                     path("M -12 -8 L -12 8 L 13 8")), "part by its bench test"),
    "valve": Symbol(14, 9, 9, (path(_BOWTIE, "paper"),), "valve, open"),
    "thermostat": Symbol(14, 34, 9, (path(_BOWTIE, "ink"), *_WAX), "thermostat, opens with heat"),
    "bypass_thermostat": Symbol(14, 34, 9, (path(_BOWTIE, "paper"), *_WAX), "thermostat, shuts with heat"),
    "hose": Symbol(24, 3, 9, (path("M -21.8 0 Q 0 17 21.8 0"), circle(-21.8, 0, 2.2, "ink"), circle(21.8, 0, 2.2, "ink")), "flexible hose"),
    "tube": Symbol(22, 5, 5, (path("M -22 0 L 22 0"), path("M -22 -5 L -22 5"), path("M 22 -5 L 22 5")), "hard line"),
    "passage": Symbol(22, 8, 8, (path("M -22 0 L 22 0"), path("M -22 -8 L 22 -8 L 22 8 L -22 8 Z", dash=_ENCLOSED)), "drilled passage"),
    "straight": Symbol(10, 7, 7, _FITTING, "fitting, adapter"),
    "adapter": Symbol(10, 7, 7, _FITTING, "fitting, adapter"),
    "elbow": Symbol(14, 14, 5, (path("M -14 0 L 0 -13 L 14 0"), path("M -14 -4.5 L -14 4.5"), path("M 14 -4.5 L 14 4.5")), "elbow"),
    "reducer": Symbol(12, 9, 9, (path("M -12 -9 L 12 -4 L 12 4 L -12 9 Z", "paper"),), "reducer"),
    "reducer, widening": Symbol(12, 9, 9, (path("M -12 -4 L 12 -9 L 12 9 L -12 4 Z", "paper"),), "size step, widening"),
    "pickup": Symbol(10, 9, 9, (path("M -10 -9 L 0 0 L -10 9"), path("M 0 0 L 10 0")), "mouth of a line"),
    "opening": Symbol(10, 9, 9, (path("M 10 -9 L 0 0 L 10 9"), path("M -10 0 L 0 0")), "mouth of a line"),
    "bearings": Symbol(15, 15, 15, (circle(0, 0, 15), circle(0, 0, 9.5), path("M -5 0 L 5 0"), path("M 0 -5 L 0 5")), "journal bearings"),
    "squirters": Symbol(18, 9, 9, (path("M -18 0 L -9 0"), path("M -9 -7 L 6 0 L -9 7 Z", "ink"), *_SPRAY), "spray jets"),
    "injectors": Symbol(18, 9, 9, (path("M -18 -6 L -4 -6 L -4 6 L -18 6 Z", "paper"), path("M -4 -6 L 6 0 L -4 6 Z", "ink"), *_SPRAY), "injectors"),
}

# Places, drawn below or above the end of their own line.
TANK = Symbol(19, 12, 14, (path("M -19 -12 L -19 14 L 19 14 L 19 -12"), path("M -19 -4 L -4 -4"), path("M 4 -4 L 19 -4"), path("M 0 -12 L 0 8")),
              "tank, vented")
GAUGE = Symbol(9, 9, 9, (circle(0, 0, 9), path("M -5 5 L 4 -4"), path("M 6 -6 L 0.5 -3.5 L 3.5 -0.5 Z", "ink")), "pressure gauge")
FIXED = Symbol(5, 5, 5, (circle(0, 0, 5),), "place of given pressure")
TEE = Symbol(5, 5, 5, (path("M -4.5 -4.5 L 4.5 -4.5 L 4.5 4.5 L -4.5 4.5 Z", "ink"),), "tee or wye")
MEETING = Symbol(3, 3, 3, (circle(0, 0, 3, "ink"),), "lines joined")
ARROW = Symbol(6, 4, 4, (path("M 6 0 L -5 -4 L -5 4 Z", "ink"),), "direction of flow")
DRAWN = Symbol(4, 12, 12, (path("M 0 -12 L 0 4"), path("M 0 12 L -4 3 L 4 3 Z", "ink")), "flow drawn here")
FED = Symbol(4, 12, 12, (path("M 0 -2 L 0 12"), path("M 0 -12 L -4 -3 L 4 -3 Z", "ink")), "flow fed in here")


def boxed(width: float, height: float) -> Symbol:
    """The plain box of a part that has no symbol here."""
    x, y = width / 2, height / 2
    return Symbol(x, y, y, (path(f"M {-x:g} {-y:g} L {x:g} {-y:g} L {x:g} {y:g} L {-x:g} {y:g} Z", "paper"),), "other part, by its word")
