"""What becomes of a random circuit, by its seed: solved with its certificate, told in words, or a failure of ours.

Of twenty seeds ten are sound circuits through the Python interface, three more have temperatures that are found, two go through a file as well
and have to give the same numbers, five carry a planted fault, every other of those through a file.
"""

import os
import random
import re
import tempfile
import time
from collections import Counter
from typing import NamedTuple

import faults_of_heat  # noqa: F401  (adds its faults)
import faults_of_plumbing  # noqa: F401
from certificate import certificate
from certificate_heat import WARMER_UNSEEN, energy
from faults import FAULTS, Base, planted
from plumbing import build, to_circuit
from plumbing_file import to_toml
from random_heated import random_heated, solved
from random_plumbing import FAMILIES, random_plumbing

import flarenut as fn

MASS, HELD, LOOP, ENERGY = 1e-12, 1e-12, 1e-9, 1e-9
# What the engine may say of a sound circuit in place of an answer. The place that it blames has to be one that draws or supplies, or a pump.
REASONS = {"asks for more than can come": "would have to fall below absolute zero", "pushes in more than can leave": "more than anything bears"}
# And of one whose temperatures are found.
REASONS_OF_HEAT = (*REASONS.values(), "no steady state within what is known of the liquid", "none can get out",
                   "how warm it is there cannot be told. Shut on the way: ", "nothing steady comes of the trickle through ", "marched in time it hunts")
ODD_CORE = "or check rating and face"  # a core that would move less heat than bare bores of its size
GOOD = ("solved", "heat solved", "told in words", "file agrees", "told rightly")


class Outcome(NamedTuple):
    seed: int
    what: str  # "sound", "file", or the kind of fault
    became: str  # one of GOOD, or a failure
    detail: str = ""
    numbers: tuple = (0.0, 0.0, 0.0)  # mass, loop, energy


def examine(seed):
    """The `Outcome` of a seed; whatever is raised that is no refusal in words is a crash."""
    turn = seed % 20
    try:
        if turn < 13:
            return sound(seed) if turn < 10 else heated(seed)
        return through_file(seed) if turn < 15 else faulty(seed, by_file=bool(seed // 20 % 2))
    except Exception as error:  # the campaign goes on, and counts it
        return Outcome(seed, "sound" if turn < 13 else "file" if turn < 15 else "planted", "crash", f"{type(error).__name__}: {error}"[:500])


def sound(seed):
    plumbing = random_plumbing(seed)
    case = to_circuit(plumbing).solve()["as written"]
    solution = case.solution
    if not case.converged:
        return Outcome(seed, "sound", *_explained(plumbing, case))
    found = certificate(plumbing, solution)
    numbers = (found.mass, found.loop, 0.0)
    if found.faults:
        return Outcome(seed, "sound", "not a number", "; ".join(found.faults), numbers)
    if found.mass > MASS or found.held > HELD or found.loop > LOOP:
        return Outcome(seed, "sound", "bad certificate", f"{found}", numbers)
    return Outcome(seed, "sound", "solved", "", numbers)


def heated(seed):
    """A circuit, or two that share an exchanger, whose temperatures are found."""
    drawn = random_heated(seed)
    try:
        cases, exchanged = solved(drawn)
    except ValueError as refusal:
        if ODD_CORE not in str(refusal):
            raise
        return Outcome(seed, "heated", "told in words", str(refusal)[:300])
    if not all(case.converged for case in cases.values()):
        cause = next(iter(cases.values())).cause
        return Outcome(seed, "heated", "told in words" if any(words in cause for words in REASONS_OF_HEAT) else "unexplained", cause[:300])
    found = [energy(drawn.facts[name], case.solution, ("shared core",)) for name, case in cases.items()]
    together = sum(one.moved for one in found)  # circuits that share an exchanger are solved, and judged, as one
    numbers = (max(one.mass for one in found), 0.0, max(exchanged, *(one.worst * one.moved / together for one in found)) if len(found) > 1 else found[0].worst)
    found = [one._replace(faults=tuple(fault for fault in one.faults if not _told_beyond(fault, case))) for one, case in zip(found, cases.values())]
    if any(one.faults for one in found):
        return Outcome(seed, "heated", "bad certificate", "; ".join(fault for one in found for fault in one.faults)[:500], numbers)
    return Outcome(seed, "heated", *(("bad certificate", f"{found}") if numbers[0] > MASS or numbers[2] > ENERGY else ("heat solved", "")), numbers)


def _told_beyond(fault, case):
    """Where a stream would leave beyond what is known of its liquid, a finding on that part says so."""
    leaves = re.match(r"what leaves (.+) at .+ is (\S+) K off(, at the (hot|cold) end of what is known)?$", fault)
    if leaves is None or not leaves[3] and abs(float(leaves[2])) > WARMER_UNSEEN:
        return False
    return any(finding.code in ("ice", "end of what is known") and leaves[1] in finding.where.split(", ") for finding in case.findings)


def _explained(plumbing, case):
    """Whether a circuit without an answer says why, and blames what can be to blame."""
    if any(number == number for number in case.solution.pressure):
        return "not a number", "numbers are reported without an answer"
    if not any(words in case.cause for words in REASONS.values()):
        return "unexplained", case.cause[:300]
    drawn = [name for name, place in plumbing.places.items() if place.get("demand")]
    pumps = [part.name for part in plumbing.parts if part.kind.endswith("pump")]
    blamed = re.findall(r"[Dd]emand at '([^']*)'|pump '([^']*)'", case.cause)
    wrong = [place or pump for place, pump in blamed if place not in drawn and pump not in pumps]
    return ("wrong cause", case.cause[:300]) if wrong else ("told in words", "")


def through_file(seed):
    draw = random.Random(f"file {seed}")
    base = Base(draw, draw.choice(FAMILIES), named=True)
    direct, loaded = build(base.told).solve()["as written"], _load(to_toml(base.told)).solve()["as written"]
    if direct.converged != loaded.converged:
        return Outcome(seed, "file", "file differs", f"{direct.cause} / {loaded.cause}")
    if not direct.converged:
        return Outcome(seed, "file", *_explained(base.plumbing, loaded))
    one, other = direct.solution, loaded.solution
    for name in one.junction_names:
        if abs(one.pressure_of(name) - other.pressure_of(name)) > 1e-9 * max(1e5, abs(one.pressure_of(name))):
            return Outcome(seed, "file", "file differs", f"{name}: {one.pressure_of(name)!r} / {other.pressure_of(name)!r}")
    return Outcome(seed, "file", "file agrees")


def _load(text):
    handle, path = tempfile.mkstemp(suffix=".toml")
    try:
        with open(handle, "w", encoding="utf-8") as file:
            file.write(text)
        return fn.load(path)
    finally:
        os.unlink(path)


def faulty(seed, by_file=False, kind=None):
    """A circuit with a planted fault: told by its right name, or not."""
    kind = kind or list(FAULTS)[(seed // 20 * 5 + seed % 20 - 15) % len(FAULTS)]
    fault = planted(kind, seed, named=by_file)
    lines, refused = [], False
    try:
        case = (_load(to_toml(fault.circuit)) if by_file else build(fault.circuit)).solve()["as written"]
        lines = ([case.cause] if not case.converged else []) + [f"{one.code}: {one.where}: {one.text()}" for one in case.findings]
        if case.converged and not all(number == number for number in case.solution.pressure):
            return Outcome(seed, kind, "not a number", "pressures")
    except ValueError as refusal:
        lines, refused = [str(refusal)], True
    told = any(all(words in line for words in way) for way in fault.told for line in lines)
    if fault.refused and not refused:
        return Outcome(seed, kind, "wrong cause", f"not refused; {lines[:2]}"[:400])
    if not told or any("would not settle" in line for line in lines):
        worst = [line[:200] for line in lines if not line.startswith(("assumed", "beyond measured"))]
        return Outcome(seed, kind, "wrong cause", f"{worst[:4]}; expected {fault.told}"[:900])
    return Outcome(seed, kind, "told rightly")


class Tally:
    """What became of all circuits so far."""

    def __init__(self):
        self.outcomes, self.planted, self.failures, self.worst = Counter(), Counter(), [], [0.0, 0.0, 0.0]
        self.begin = time.perf_counter()

    def add(self, outcome):
        self.outcomes[outcome.became] += 1
        if outcome.what not in ("sound", "heated", "file"):
            self.planted[outcome.what] += 1
        if outcome.became not in GOOD:
            self.failures.append(outcome)
        else:
            self.worst = [max(pair) for pair in zip(self.worst, outcome.numbers)]

    @property
    def total(self):
        return sum(self.outcomes.values())

    def counts(self):
        """For the record: how many of what."""
        seconds = time.perf_counter() - self.begin
        failed = Counter(one.became for one in self.failures)
        return {"circuits": self.total, "solved, certificate worked out anew": self.outcomes["solved"],
                "solved with their temperatures, energy worked out anew": self.outcomes["heat solved"], "told in words why not": self.outcomes["told in words"],
                "same through a file": self.outcomes["file agrees"], "planted faults": sum(self.planted.values()),
                "kinds of planted faults": len(self.planted), "planted faults told rightly": self.outcomes["told rightly"],
                **{name: failed[name] for name in ("crash", "hang", "not a number", "bad certificate", "unexplained", "wrong cause", "file differs")},
                "worst mass closure": self.worst[0], "worst loop": self.worst[1], "worst energy closure": self.worst[2], "circuits per second": round(self.total / seconds, 1)}
