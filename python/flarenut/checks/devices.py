"""Checks on devices: a regulator at a stop, a relief or bypass open, a pump out of its range, data left behind."""

from flarenut.results import Finding
from flarenut.units import Quantity, digits

from .fuel_pressure import is_backward
from .written import held_of, setting_of

# code of the engine -> severity, what, cure; for what needs no more than saying
_PLAIN = {
    "pump beyond the end of its curve": ("fix", "is pushed past the end of its curve: less pressure than it is rated for",
                                         "look for an open end or a leak, or take a larger pump"),
    "reversed flow": ("fix", "passes flow backwards", "check which way round it is written; a check valve may be missing"),
    "bypass open": ("fix", "has its bypass open in steady running: part of the liquid goes round the element",
                    "change the element, fit a larger one, or let the liquid warm before raising the flow"),
    "beyond measured data": ("watch", "works outside its measured data: the figures are carried on beyond it",
                             "measure it in this range, or take a part that was"),
    "pump curve with a hump": ("note", "has a curve that rises with flow in places: two flows may fit one pressure",
                               "check its points"),
}
_NO_FLOW = 1e-5  # kg/s, about 50 mL/h of fuel: seepage
_OWN_CHECKS = ("below vapour pressure",)  # spoken of in `suction`


def remarks(case, limits):
    """What the engine remarked on, in shop words. A remark of a kind not known here is passed on as it is."""
    for remark in case.solution.remarks:
        code, title, kind = remark.code, case.layout.title(remark.subject), case.kind_of(remark.subject)
        if code in _PLAIN:
            severity, what, cure = _PLAIN[code]
            yield Finding(code, severity, title, case.name, what, cure=cure)
        elif code == "dead-headed pump":
            yield _dead_headed(case, title, remark)
        elif code == "relief open" or (kind == "relief valve" and code == "valve wide open"):
            yield _relief(case, title, code, kind)
        elif code in ("valve shut", "valve wide open"):
            if kind in ("bypass regulator", "reducing regulator"):
                yield from _regulator_at_stop(case, limits, remark.subject, title, kind, code)
            # a check or relief valve on its seat, or a check valve open, is as it should be
        elif code not in _OWN_CHECKS:
            yield Finding(code, "note", title, case.name, code)


def _dead_headed(case, title, remark):
    """No flow at all cooks a pump; hardly any may be what a carburettor asks at idle."""
    if abs(remark.value) < _NO_FLOW:
        return Finding("dead-headed pump", "stop", title, case.name, "runs against a shut line: no flow passes and it overheats",
                       cure="open a way for the flow, such as a return")
    return Finding("dead-headed pump", "watch", title, case.name,
                   "runs close to its dead head: hardly any flow passes to carry its heat away",
                   cure="usual for a moment; if it runs so for long, give it a return")


def _relief(case, title, code, kind):
    what = "wide open" if code == "valve wide open" else "open"
    if kind != "relief valve":
        return Finding("relief open", "fix", title, case.name, "the pump's own relief is open in steady running",
                       cure="lower the pressure asked of it, or look for a blockage after it")
    if case.layout.family == "oil":
        return Finding("relief open", "watch", title, case.name,
                       f"relief {what}: it, not the engine's clearances, sets the oil pressure here",
                       cure="usual when cold or at speed; at hot idle look for a stuck valve")
    return Finding("relief open", "fix", title, case.name, f"relief {what} in steady running",
                   cure="lower the pressure asked, or look for a blockage after it")


def _regulator_at_stop(case, limits, regulator, title, kind, code):
    """A regulator that is shut or wide open holds nothing; says by how much the pressure is off."""
    if is_backward(case, regulator):
        return  # spoken of in `fuel_pressure`
    setting, held = setting_of(case, regulator), held_of(case, regulator)
    if setting is None or held is None:
        yield Finding("regulator at a stop", "fix", title, case.name, f"is {code.removeprefix('valve ')}: it holds no pressure")
    elif (code == "valve shut") == (kind == "bypass regulator"):
        yield _starved(case, limits, title, kind, setting, held)
    elif kind == "bypass regulator":
        above = Quantity(max(held - setting.pressure, 0.0), "pressure_difference")
        limit = limits.return_rise_injection
        yield Finding("regulator wide open", "fix", title, case.name,
                      f"wide open: the pressure it should hold stands {{value}} over {setting.words()}", above, limit,
                      limits.source("return_rise_injection"), "a wider return line, a regulator with a larger seat, or a smaller pump",
                      hurt=above.si / limit.si, numbers=setting.numbers())
    else:
        yield _closed(case, regulator, title, held)


def _starved(case, limits, title, kind, setting, held):
    """A bypass regulator with nothing to spill; a reducing regulator that can open no further."""
    most = limits.regulator_shortfall.si * setting.pressure
    short = Quantity(max(setting.turns_at - held, 0.0), "pressure_difference")
    bypass = kind == "bypass regulator"
    under = setting.turning_words("opens" if bypass else "locks up", "its setting of {setting}")
    what = ("nothing is left to spill" if bypass else "it is wide open") + f"; the pressure it should hold is {{value}} under {under}"
    return Finding("regulator starved", "stop" if short.si > most else "watch", title, case.name, what, short,
                   Quantity(most, "pressure_difference"), limits.source("regulator_shortfall"),
                   "a larger pump, more volts at the pump, a wider feed, a clean filter", hurt=short.si / most, numbers=setting.numbers())


def _closed(case, regulator, title, held):
    """A reducing regulator at lock-up: with nothing drawn, or with so little that its all but closed valve passes it."""
    before = case.ends(regulator)[0]
    flow = abs(before.flow) / case.liquid_in(regulator)["density"]
    numbers = {"before": Quantity(before.static - case.ambient.si, "pressure_gauge"), "held": Quantity(held, "pressure_difference"),
               "flow": Quantity(flow, "volume_flow")}
    if abs(before.flow) < _NO_FLOW:
        return Finding("regulator shut", "note", title, case.name, "shut: nothing is drawn, and the line before it stands at {before}",
                       cure="usual with no demand; check that pump and hose bear it", numbers=numbers)
    return Finding("regulator all but closed", "note", title, case.name,
                   "all but closed: the {flow} drawn is so little that it passes at the lock-up pressure, {held}; the line before it "
                   "stands at {before}", cure="usual with little demand; check that pump and hose bear it", numbers=numbers)


def injectors_too_small(case, limits):
    """Held open all the time, and still less fuel than the power of the case burns."""
    asked = case.layout.fuel_asked.get(case.name)
    if asked is None or not case.injectors:
        return
    passed = sum(float(case.solution.flow_of(bank)) for bank in case.injectors)
    if passed < asked * (1.0 - _SHORT):
        where = ", ".join(dict.fromkeys(case.layout.title(bank) for bank in case.injectors))
        yield Finding("injectors too small", "stop", where, case.name,
                      "held open all the time they pass {value}; the power of this case burns {limit}, so the engine runs lean",
                      Quantity(passed, "mass_flow"), Quantity(asked, "mass_flow"), "power times specific_consumption",
                      "larger injectors, more of them, or more fuel pressure across them", hurt=asked / max(passed, 1e-12) - 1.0)


_SHORT = 1e-6  # relative; a demand that is met is met far closer
_USED = ("density", "viscosity", "vapour pressure")  # what a steady solve at given temperature rests on


def fluid_range(case, limits):
    """Properties of a liquid asked for outside their data, of those that the answer rests on."""
    said = set()
    for part in case.part_names:
        place = case.layout.liquid_of.get(part, 0)
        if place >= len(case.layout.liquids) or not hasattr(case.layout.liquids[place], "range_findings"):
            continue
        for found in case.layout.liquids[place].range_findings(case.liquid_in(part)["temperature"]):
            if found.property not in _USED or (place, found.property, found.temperature) in said:
                continue
            said.add((place, found.property, found.temperature))
            low, high = found.data
            yield Finding("fluid out of range", "watch", case.layout.fluid or "the fluid", case.name,
                          f"{found.property} at {{value}} lies outside its data, which end at {{limit}}; taken to be right "
                          f"within {digits(100 * found.band)} %", Quantity(found.temperature, "temperature"),
                          Quantity(low if found.temperature < low else high, "temperature"), "the fluid's data",
                          "treat what depends on it as rough", hurt=found.band)
