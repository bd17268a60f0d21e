"""What to write instead of a name that is no fluid: words of the trade that leave the grade, the share or the kind open."""

import re
from typing import Any
from collections.abc import Callable, Mapping

from ..units.errors import nearest
from .errors import FluidError
from .gases import refrigerants_on_file
from .grades import grades_after, grades_there_are
from .service_oils import industrial_grades, transmission_fluids

_OWN_OIL = 'oil(kv40="95 cSt", kv100="14 cSt")'
_OWN_NUMBERS = 'constant_fluid(density="800 kg/m3", viscosity="2 cSt")'
_BRAKE = ('write the grade on the cap of the reservoir: "DOT 3", "DOT 4", "DOT 5.1" (glycol fluids) or "DOT 5" (silicone, never mixed with them); '
          'plain for fresh, "DOT 4 wet" with the water it takes up')
_MINERAL_BRAKE = ('the nearest on file is "MIL-PRF-5606", a thin mineral hydraulic fluid; better the two viscosities of its data sheet with its name: '
                  'oil(kv40="18 cSt", kv100="6 cSt", density="850 kg/m3", name="mineral brake fluid"); never a DOT fluid in its place, nor it for one: seals swell')
_GASOLINE = 'write "gasoline" (summer), "winter gasoline", or "E10" with its share of ethanol; octane does not change how it flows'
_ENGINE = f'write the grade on the can, such as "SAE 10W-40", or its two viscosities: {_OWN_OIL}'
_GEAR = f'write the grade on the can, such as "gear oil 75W-90", or its two viscosities: {_OWN_OIL}'
_SHARE = 'write its share by volume with the glycol: "ethylene glycol 50 %", "propylene glycol 40 %"; "50/50 coolant" is half ethylene glycol'
_KINDS = ("known are gasoline (class A to E), E0 to E100, ethanol, methanol, diesel, SAE engine and gear oils, ATF, ISO VG oils, "
          "power steering fluid, DOT 3 to 5.1, water, ethylene and propylene glycol; fluid_names() lists them; a trade name is not among them: "
          "write the grade or kind on the can, or the numbers of its data sheet")

# (pattern of the plain name, what is wrong, what to write); the first that fits whole is said.
_WORDS = tuple((re.compile(pattern), reason, hint) for pattern, reason, hint in (
    (r"(brake|clutch)(fluid|oil)?|(brake|clutch)?(fluid|oil)?dot(fluid)?", "does not say which brake fluid it is", _BRAKE),
    (r"(?=.*(mineral|petroleum))(mineral|petroleum|based|hydraulic|oil)*(brake|clutch)(fluid|oil)?(mineral|petroleum)?|iso7308", "is not on file", _MINERAL_BRAKE),
    (r"(brakefluid)?dot\d+\w*", "is no grade of brake fluid on file", _BRAKE),
    (r"silicone?(brake)?fluid|siliconebrakefluid", "does not say its grade", 'silicone brake fluid is "DOT 5"'),
    (r"(pump|race|racing|street|regular|premium|super|unleaded|midgrade|plus)?(gas|fuel|unleaded|petrol|gasoline)|regular|premium|super|"
     r"(\d{2,3}(octane|ron|aki)+|(octane|ron|aki)\d{2,3})(gas|fuel|petrol|gasoline)?", "does not say which fuel it is", _GASOLINE),
    (r"kerosene|kerosine|paraffin|lampoil|jetfuel|jet|jeta1?|jp\d+|avgas|naphtha|heatingoil|fueloil", "is not on file",
     f'"diesel No. 1" is the nearest to a kerosene; or give the numbers of its data sheet: {_OWN_NUMBERS}'),
    (r"biodiesel|b\d+|fame|vegetableoil|svo|wvo|(renewable|e)diesel|hvo", "is not on file",
     f"it is not taken for diesel; give the numbers of its data sheet: {_OWN_NUMBERS}"),
    (r"m\d+|methanolblend|flexfuel|ethanolblend", "does not name a blend on file", 'blends are of ethanol: "E10", "E30", "E85"; "methanol" is pure'),
    (r"l?pg|propane|butane|autogas|cng|lng|naturalgas|hydrogen|nitrous(oxide)?", "is a gas or boils on its way",
     "circuits carry one liquid without vapour"),
    (r"(engine|motor|crankcase|mineral|synthetic|synth|full?synthetic|race|racing|breakin|2stroke|4stroke)?oil|sae|lube|lubricant",
     "does not say its grade", _ENGINE),
    (r"(gear|axle|diff|differential|hypoid|transaxle|transfercase|gearbox|manualtransmission)(oil|lube|fluid)|mtf", "does not say its grade", _GEAR),
    (r"(hydraulic|jack|lift|aw|hydraulicaw)(oil|fluid)?|aw|isovg|vg|(hydraulic(oil|fluid)?)?(aw|hm|hlp|hvlp)\d+|hydraulic(oil|fluid)\d+",
     "does not say its grade", f'write its ISO viscosity grade, such as "ISO VG 46" (the number of the can), or its two viscosities: {_OWN_OIL}'),
    (r"\w*atf\W*\w*|(automatic|auto)trans(mission)?(fluid|oil)?|cvt(fluid)?|dct(fluid)?|dctf|cvtf", "is no kind of transmission fluid on file",
     f"write {', '.join(transmission_fluids())}, or the two viscosities of its data sheet: {_OWN_OIL}"),
    (r"(steering|ps|psf)(fluid|oil)?|powersteering(oil)?", "does not name a fluid on file",
     'write "power steering fluid", or "ATF" where the maker asks for it'),
))
_MIX = re.compile(r"\s*\d+(\.\d+)?\s*(%|[/:]\s*\d+(\.\d+)?)\s*(mix|water)?\s*", re.IGNORECASE)
_WINTER = re.compile(r"(?:engineoil|motoroil|gearoil|oil)?(?:sae)?(\d+w)(?:oil)?")


def refuse_share_below_nothing(name: str) -> None:
    """Refuses "E-5" and "E - 10", which read like a share below nothing; pumps do say "E-85"."""
    if re.fullmatch(r"\s*e\s*(?:-\s*){2,}\d.*|\s*e\s*-\s+\d.*|\s*e\s+-\s*\d.*|\s*e-\d(?:\.\d+)?\s*%?\s*", name, re.IGNORECASE):
        share = re.sub(r"[^\d.]", "", name)
        raise FluidError(name, f"'{name}' reads like a share below nothing", f'write "E{share}" for {share} % ethanol by volume')


def unknown(name: str, plain: str, known: Mapping[str, tuple[str, Callable[..., Any]]]) -> FluidError:
    """The error for a name that is no fluid; `known` maps plain spellings to (name to show, ...)."""
    for pattern, reason, hint in _WORDS:
        if pattern.fullmatch(plain):
            return FluidError(name, f"'{name}' {reason}", hint)
    if _MIX.fullmatch(name):
        return FluidError(name, f"'{name}' does not say of what", _SHARE)
    winter = _WINTER.fullmatch(plain)
    if winter:
        return FluidError(name, f"'{name}' says only how it is in the cold", _after(winter[1].upper()))
    if re.fullmatch(r"r\d{2,4}[a-z]{0,3}", plain):
        return FluidError(name, f"'{name}' is said like a refrigerant, which boils on its way", "circuits carry one liquid without vapour; "
                          + refrigerants_on_file())
    if re.fullmatch(r"(?:iso)?vg\d+", plain):
        return FluidError(name, f"unknown fluid '{name}'", f"grades are ISO VG {', '.join(industrial_grades())}; or give two viscosities: {_OWN_OIL}")
    figures = _figures(plain)  # another number is another grade, however near it is spelt
    close = nearest(plain, [spelling for spelling in known if _figures(spelling) == figures])
    if close:
        return FluidError(name, f"unknown fluid '{name}'", f"did you mean '{known[close][0]}'?")
    if re.search(r"coolant|antifreeze|glycol", plain):
        return FluidError(name, f"'{name}' does not say how much of which glycol there is", _SHARE + "; colour and additives do not matter")
    return FluidError(name, f"unknown fluid '{name}'", _KINDS)


def _figures(plain: str) -> list[str]:
    return re.findall(r"\d+", plain)


def _after(winter: str) -> str:
    grades = grades_after(winter)
    if not grades:
        return grades_there_are()
    return "write the whole grade on the can, " + ", ".join(f'"{grade}"' for grade in grades) + f"; or its two viscosities: {_OWN_OIL}"
