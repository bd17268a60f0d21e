"""A drive for people: what happened when, a table of moments, what to look at."""

from textwrap import shorten

from ..results.rows import default_sections, rows_of
from .over_time_words import clock

_HEADINGS = ("Conditions", "Temperatures", "Heat", "Pressures", "Pumps", "Devices")
_NOTES = ["Steps of time by the engine, pressures and flows settled at every moment. What has no heat_capacity follows at once.",
          "An engineering estimate: verify by measurement, and follow the codes that apply."]


def table_of(over, times, units, rows):
    """See `OverTime.table`."""
    numbers = _ends(over) if times is None else list(dict.fromkeys(over.nearest(one) for one in ([times] if isinstance(times, str) else times)))
    if not over.moments:
        from ..results.table import Table

        return Table(_title(over), [], [], notes=events_of(over, units))
    answer = over.chosen(numbers).with_findings([])
    table = answer.table(units, rows)
    table.title = _title(over)
    if rows is None:
        asked = dict(default_sections(answer, units))
        table.sections = rows_of([(heading, asked[heading]) for heading in _HEADINGS if heading in asked], list(answer.values()), units)
        table.certificate = []
        table.notes = [*events_of(over, units), *table.notes, *_NOTES]
        table.findings = [(one.severity, one.text(units)) for one in over.findings]
    return table


def _title(over):
    return " · ".join(filter(None, [over.circuit, over.layout.fluid, "over time", "invented circuit" if over.invented else ""]))


def _ends(over):
    """Places of beginning and end of every leg."""
    return [k for k in range(len(over)) if k in (0, len(over) - 1) or over.legs_at[k - 1] is not over.legs_at[k] or over.legs_at[k + 1] is not over.legs_at[k]]


def events_of(over, units):
    """See `OverTime.events`."""
    drive = ", ".join(f"{leg.case} to {clock(leg.ends)}" for leg in over.legs)
    told = [f"Drive: {shorten(drive, 300, placeholder=' ...')}. Everything begins at {over.start.show(units)}."]
    for name in over.thermostats:
        opens = over.opens(name)
        told.append(f"{name} stays shut." if opens is None else f"{name} is open from the beginning." if opens.si == 0.0 else
                    f"{name} begins to open at {clock(opens.si)}.")
    if over.why_not:
        told.append(f"It ends early: {over.why_not}.")
    return told
