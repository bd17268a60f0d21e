"""Where the junctions of a circuit are: given positions, and heights gained along runs.

A run that says how much it rises carries its height from one end to the other; one that says nothing lies straight
between its ends. Two ways to one junction must agree.
"""

from .errors import CircuitError

AGREE_WITHIN = 1e-3  # metres: less than anyone measures


def rises_of(pieces):
    """Height gained by each piece [m], or None when the run says nothing about heights."""
    if all(piece.rise is None for piece in pieces):
        return None
    return [piece.rise or 0.0 for piece in pieces]


def place_ends(runs, positions):
    """Positions of the ends of all runs; `positions` holds those given, and is filled up.

    runs : list of (name, from, to, pieces)
    """
    given = set(positions)
    waiting, moved = list(runs), True
    while waiting and moved:
        moved, later = False, []
        for run in waiting:
            _, start, end, pieces = run
            rise = sum(rises_of(pieces) or [0.0])
            if start in positions and end not in positions:
                positions[end] = _raised(positions[start], rise)
            elif end in positions and start not in positions:
                positions[start] = _raised(positions[end], -rise)
            elif start not in positions:
                later.append(run)
                continue
            moved = True
        waiting = later
    for _, start, end, pieces in waiting:
        positions.setdefault(start, (0.0, 0.0, 0.0))
        positions.setdefault(end, _raised(positions[start], sum(rises_of(pieces) or [0.0])))
    for name, start, end, pieces in runs:
        rises = rises_of(pieces)
        if rises is None:
            continue
        found = positions[start][2] + sum(rises)
        if abs(found - positions[end][2]) > AGREE_WITHIN:
            how = "stands" if end in given else "comes out by another way"
            raise CircuitError(f"its parts climb {sum(rises):.3f} m from '{start}' to {found:.3f} m, but '{end}' {how} at "
                               f"{positions[end][2]:.3f} m", "give either the heights of its ends or the rise of its parts",
                               place=f"run '{name}'", key="rise")


def between(start, end, pieces):
    """Positions of the junctions inside a run, one fewer than its pieces."""
    rises = rises_of(pieces)
    lengths = [piece.length for piece in pieces]
    whole = sum(lengths)
    inside, gone, climbed = [], 0.0, 0.0
    for number, piece in enumerate(pieces[:-1]):
        gone += lengths[number]
        share = gone / whole if whole > 0.0 else (number + 1) / len(pieces)
        point = [a + share * (b - a) for a, b in zip(start, end)]
        if rises is not None:
            climbed += rises[number]
            point[2] = start[2] + climbed
        inside.append(tuple(point))
    return inside


def _raised(position, rise):
    return (position[0], position[1], position[2] + rise)
