"""What became of each mutant, and the list of those that no test can tell from the right one."""

from collections import Counter
from pathlib import Path

from tool_places import Outcome, say

EQUIVALENT = Path(__file__).parent / "equivalent_mutants.txt"
KILLED = ("killed", "endless")


def known_equivalent() -> dict[tuple[str, str, str], str]:
    """(file, change, line) -> why no test can tell it from the right one."""
    found = {}
    for row in EQUIVALENT.read_text(encoding="utf-8").splitlines() if EQUIVALENT.exists() else ():
        if row.strip() and not row.startswith("#"):
            path, what, text, why = (word.strip() for word in row.split(" | "))
            found[path, what, text] = why
    return found


def key(mutant) -> tuple[str, str, str]:
    """What a row of the list names; the second of two alike has "(2)" after its change."""
    return f"{mutant.path.parent.name}/{mutant.path.name}", mutant.what + (f" ({mutant.nth})" if mutant.nth > 1 else ""), mutant.text


class Verdicts:
    """Counts what became of each mutant of a room."""

    def __init__(self, room: str, every: int, equivalent: dict[tuple[str, str, str], str] | None = None):
        self.room, self.every = room, every
        self.equivalent = known_equivalent() if equivalent is None else equivalent
        self.kinds, self.notes = Counter(), []

    def add(self, mutant, verdict: str) -> None:
        """One that is listed as equivalent is run all the same: a test that tells it says that the list is wrong."""
        listed = key(mutant) in self.equivalent
        path, what, text = key(mutant)
        told = f"{path}:{mutant.line}: {what} in `{text}`"
        if listed and verdict in KILLED:
            self.notes.append(f"listed as equivalent, yet a test tells it: {told}")
        elif listed and verdict in ("survived", "not run"):
            verdict = "equivalent"
        self.kinds[verdict] += 1
        if verdict in ("survived", "not run", "endless"):
            self.notes.append(f"{verdict}: {told}")
            say(f"  {sum(self.kinds.values())}: {self.notes[-1]}")

    def outcome(self, goal: float = 0.9) -> Outcome:
        """The share of the killed. What does not compile or is equivalent is no wrong; a wrong in a place that no test reaches is one."""
        kinds = self.kinds
        killed = sum(kinds[kind] for kind in KILLED)
        counted = killed + kinds["survived"] + kinds["not run"]
        share = killed / counted if counted else 0.0
        counts = {f"mutants of {self.room}": self.every, "judged": sum(kinds.values()), "killed": killed,
                  "of these by the limit of time": kinds["endless"], "survived": kinds["survived"],
                  "in places that no test reaches": kinds["not run"], "equivalent, not counted": kinds["equivalent"],
                  "did not compile, not counted": kinds["does not compile"], "killed, per cent": round(100 * share, 1)}
        return Outcome(counts, tuple(self.notes), share >= goal)
