"""The closed table of units: every spelling that is read, and its factor to SI.

Exact by definition: inch 25.4 mm and pound 0.45359237 kg (international yard and pound agreement, 1959),
standard gravity 9.80665 m/s2 (CGPM 1901), US gallon 231 in3, imperial gallon 4.54609 L (UK Units of Measurement
Regulations 1995), atmosphere 101325 Pa, horsepower 550 ft lbf/s, metric horsepower 75 kgf m/s, BTU (international
table) 1055.05585262 J. By convention: inch of mercury 3386.389 Pa (mercury at 0 degC; NIST SP 811, appendix B),
millimetre of mercury 13.5951 mm of conventional water, 133.322387415 Pa (ISO 80000-4, remark), inch of water
1000 kg/m3 x standard gravity x 1 in = 249.08891 Pa. These definitions are written from memory of the named documents.
"""

from math import pi

INCH = 0.0254
FOOT = 0.3048
POUND = 0.45359237
GRAVITY = 9.80665
GALLON = 231 * 16.387064e-6  # 231 in3 = 3.785411784 L
IMPERIAL_GALLON = 4.54609e-3
POUND_FORCE = POUND * GRAVITY
PSI = POUND_FORCE / (INCH * INCH)
HORSEPOWER = 550 * FOOT * POUND_FORCE
METRIC_HORSEPOWER = 75 * GRAVITY
BTU = 1055.05585262
FAHRENHEIT_STEP = 5 / 9
TURN = 2 * pi


class Unit:
    """One unit: SI value = (number + offset) * factor.

    `name` is the spelling shown to people, `reference` says absolute, gauge or difference where the spelling does.
    """

    __slots__ = ("name", "dimension", "factor", "offset", "reference")

    def __init__(self, name: str, dimension: str, factor: float, offset: float = 0.0, reference: str | None = None) -> None:
        self.name = name
        self.dimension = dimension
        self.factor = factor
        self.offset = offset
        self.reference = reference

    def __repr__(self) -> str:
        return f"Unit({self.name!r}, {self.dimension!r}, {self.factor!r}, {self.offset!r}, {self.reference!r})"


# dimension -> rows of (spellings separated by "|", factor). The first spelling is the name of the unit.
# Spellings are in the form that `text.canonical` produces: single spaces, "/" for per, digits for powers.
_LENGTH = [("mm|millimetre|millimetres|millimeter|millimeters", 1e-3), ("cm|centimetre|centimeter", 1e-2),
           ("m|metre|metres|meter|meters", 1.0), ("km", 1e3), ("um|micron|microns", 1e-6),
           ('in|inch|inches|"', INCH), ("ft|foot|feet|'", FOOT), ("yd|yard|yards", 0.9144), ("thou|mil", INCH / 1000)]
_VOLUME = [("mL|ml|millilitre|milliliter", 1e-6), ("cc|cm3", 1e-6), ("L|l|litre|litres|liter|liters", 1e-3),
           ("m3", 1.0), ("mm3", 1e-9), ("gal|gallon|gallons|US gal|USgal|US gallon|US gallons", GALLON),
           ("impgal|imp gal|imperial gal|imperial gallon|imperial gallons|UK gal|UK gallon|UK gallons", IMPERIAL_GALLON),
           ("qt|quart|quarts|US qt", GALLON / 4), ("pt|pint|pints|US pt", GALLON / 8),
           ("fl oz|floz|US fl oz", GALLON / 128), ("in3|cu in|cuin|ci", 16.387064e-6), ("ft3|cu ft", FOOT**3)]
_MASS = [("kg|kilogram|kilograms", 1.0), ("g|gram|grams", 1e-3), ("mg", 1e-6), ("lb|lbs|lbm|pound|pounds", POUND),
         ("oz|ounce|ounces", POUND / 16)]
_TIME = [("s|sec|second|seconds", 1.0), ("ms", 1e-3), ("min|mins|minute|minutes", 60.0),
         ("h|hr|hrs|hour|hours", 3600.0), ("day|days|d", 86400.0)]
_PER_TIME = [("s|sec|second", 1.0), ("min|minute", 60.0), ("h|hr|hour", 3600.0)]
_PRESSURE = [("psi|lbf/in2|lb/in2", PSI), ("bar", 1e5), ("mbar|millibar", 1e2), ("kPa", 1e3), ("MPa", 1e6), ("Pa", 1.0),
             ("hPa", 1e2), ("GPa", 1e9), ("ksi", 1e3 * PSI), ("inHg|in Hg|\"Hg|inch Hg|inches Hg", 3386.389),
             ("mmHg|mm Hg", 133.322387415), ("inH2O|in H2O|\"H2O|inWC|in WC", 1e3 * GRAVITY * INCH),
             ("mmH2O|mm H2O", GRAVITY), ("atm", 101325.0), ("kgf/cm2|kg/cm2", GRAVITY * 1e4), ("torr", 101325 / 760)]

_ROWS = {
    "pressure": _PRESSURE,
    "length": _LENGTH,
    "area": [("mm2|sq mm", 1e-6), ("cm2|sq cm", 1e-4), ("m2|sq m", 1.0), ("in2|sq in", INCH**2), ("ft2|sq ft", FOOT**2)],
    "volume": _VOLUME,
    "time": _TIME,
    "mass": _MASS,
    "density": [("kg/m3", 1.0), ("g/cm3|g/cc|g/mL|g/ml", 1e3), ("kg/L|kg/l", 1e3), ("g/L|g/l", 1.0),
                ("lb/gal|lbs/gal", POUND / GALLON), ("lb/ft3|lbs/ft3", POUND / FOOT**3), ("lb/in3", POUND / INCH**3)],
    "dynamic_viscosity": [("cP|cp|centipoise", 1e-3), ("mPa s|mPas", 1e-3), ("Pa s|Pas", 1.0), ("P|poise", 0.1)],
    "kinematic_viscosity": [("cSt|centistoke|centistokes", 1e-6), ("mm2/s", 1e-6), ("m2/s", 1.0), ("St|stokes", 1e-4)],
    "volume_flow": [("gph|GPH|US gph|USgph", GALLON / 3600), ("gpm|GPM|US gpm|USgpm", GALLON / 60), ("lph|LPH", 1e-3 / 3600),
                    ("lpm|LPM", 1e-3 / 60), ("ccm|ccpm", 1e-6 / 60), ("cfm", FOOT**3 / 60),
                    ("impgph|imp gph|imperial gph|UK gph", IMPERIAL_GALLON / 3600),
                    ("impgpm|imp gpm|imperial gpm|UK gpm", IMPERIAL_GALLON / 60)],
    "mass_flow": [("pph", POUND / 3600)],
    "velocity": [("m/s", 1.0), ("mm/s", 1e-3), ("km/h|kph|kmh", 1 / 3.6), ("ft/s|fps", FOOT), ("ft/min|fpm", FOOT / 60),
                 ("in/s", INCH), ("mph|mi/h", 0.44704)],
    "rotation": [("rpm|r/min|rev/min|turn/min", TURN / 60), ("rad/s", 1.0), ("rps|rev/s|r/s|turn/s", TURN),
                 ("deg/s", TURN / 360)],
    "power": [("W|watt|watts", 1.0), ("kW", 1e3), ("hp|horsepower|bhp", HORSEPOWER), ("PS", METRIC_HORSEPOWER),
              ("BTU/h|BTU/hr", BTU / 3600), ("BTU/min", BTU / 60)],
    "voltage": [("V|volt|volts|v", 1.0), ("mV", 1e-3), ("kV", 1e3)],
    "current": [("A|amp|amps|ampere|amperes", 1.0), ("mA", 1e-3)],
    "resistance": [("ohm|ohms", 1.0), ("mohm|milliohm|milliohms", 1e-3)],
    "torque": [("N m|Nm", 1.0), ("lb ft|lbft|ft lb|ftlb|lbf ft|ft lbf", POUND_FORCE * FOOT),
               ("lb in|in lb|inlb|lbf in|in lbf", POUND_FORCE * INCH), ("kgf m|kg m", GRAVITY)],
    "force": [("N|newton|newtons", 1.0), ("kN", 1e3), ("lbf|lb|lbs|pound force", POUND_FORCE), ("kgf", GRAVITY)],
    "energy": [("J|joule|joules", 1.0), ("kJ", 1e3), ("MJ", 1e6), ("W h|Wh", 3600.0), ("kW h|kWh", 3.6e6), ("BTU", BTU),
               ("ft lbf", POUND_FORCE * FOOT)],
    "specific_energy": [("J/kg", 1.0), ("kJ/kg", 1e3), ("MJ/kg", 1e6), ("BTU/lb", BTU / POUND)],
    "acceleration": [("g", GRAVITY), ("m/s2|m/s/s", 1.0), ("ft/s2", FOOT)],
    "angle": [("deg|degree|degrees", TURN / 360), ("rad|radian|radians", 1.0), ("turn|turns|rev", TURN)],
    "ratio": [("%|percent|pct", 0.01)],
    "flow_coefficient_cv": [("Cv", 1.0)],
    "flow_coefficient_kv": [("Kv", 1.0)],
    "thermal_conductance": [("W/K|W/C|W/degC", 1.0), ("kW/K", 1e3),
                            ("BTU/h/F|BTU/(h F)|BTU/h F", BTU / 3600 / FAHRENHEIT_STEP)],
    "heat_capacity": [("J/K|J/C|J/degC", 1.0), ("kJ/K|kJ/C", 1e3), ("BTU/F", BTU / FAHRENHEIT_STEP)],
    "specific_heat": [("J/kg/K|J/(kg K)|J/kg K|J/kgK", 1.0), ("kJ/kg/K|kJ/(kg K)|kJ/kg K|kJ/kgK", 1e3),
                      ("BTU/lb/F|BTU/(lb F)|BTU/lb F", BTU / POUND / FAHRENHEIT_STEP)],
    "thermal_conductivity": [("W/m/K|W/(m K)|W/m K|W/mK", 1.0),
                             ("BTU/h/ft/F|BTU/(h ft F)|BTU/h ft F", BTU / 3600 / FOOT / FAHRENHEIT_STEP)],
    "thermal_expansion": [("1/K|/K|1/C|1/degC", 1.0), ("1/F|/F|1/degF", 1 / FAHRENHEIT_STEP)],
    "specific_consumption": [("lb/hp/h|lb/(hp h)|lb/hp h|lb/hp/hr|lb/(hp hr)|lb/hp hr|lb/h/hp|lb/hr/hp|lb/hph",
                              POUND / (HORSEPOWER * 3600)),
                             ("g/kWh|g/kW h|g/kW/h|g/(kW h)", 1e-3 / 3.6e6), ("kg/kWh|kg/kW h|kg/kW/h", 1 / 3.6e6),
                             ("kg/J", 1.0)],
}

REFERENCE_WORDS = {  # what may follow a pressure unit; each also stands in brackets
    "absolute": ("a", " a", " abs", " absolute", "(a)", "(abs)"),
    "gauge": ("g", " g", " gauge", " gage", " boost", "(g)", "(gauge)"),
    "difference": ("d", " d", " diff", " difference", "(d)", "(diff)"),
}
VACUUM_WORDS = (" vacuum", " vac", " depression")
_NO_LETTER = ("atm", "kgf/cm2", "torr", "inHg", "mmHg", "inH2O", "mmH2O", "ksi", "GPa")

_TEMPERATURES = [("F", "degF|deg F|degree F|degrees F|fahrenheit|degree_Fahrenheit|deg_F", FAHRENHEIT_STEP, 459.67),
                 ("C", "degC|deg C|degree C|degrees C|celsius|degree_Celsius|deg_C", 1.0, 273.15),
                 ("K", "kelvin|kelvins|degK", 1.0, 0.0),
                 ("R", "degR|deg R|rankine|degree_Rankine|deg_R", FAHRENHEIT_STEP, 0.0)]


def _build() -> dict[str, dict[str, Unit]]:
    table: dict[str, dict[str, Unit]] = {}

    def add(dimension: str, spellings: str | list[str], factor: float, offset: float = 0.0, reference: str | None = None) -> None:
        spellings = spellings if isinstance(spellings, list) else spellings.split("|")
        unit = Unit(spellings[0], dimension, factor, offset, reference)
        known = table.setdefault(dimension, {})
        for spelling in spellings:
            known.setdefault(spelling, unit)

    for dimension, rows in _ROWS.items():
        for spellings, factor in rows:
            add(dimension, spellings, factor)
    for dimension, amounts in (("volume_flow", _VOLUME), ("mass_flow", _MASS)):
        for amount, amount_factor in amounts:
            for period, period_factor in _PER_TIME:
                names = [f"{a}/{p}" for p in period.split("|") for a in amount.split("|")]
                add(dimension, names, amount_factor / period_factor)
    for amount, amount_factor in _VOLUME:
        names = amount.split("|")
        add("displacement", [f"{a}/{p}" for p in ("rev", "turn", "r") for a in names], amount_factor / TURN)
        add("displacement", [f"{a}/rad" for a in names], amount_factor)
    for spellings, factor in _PRESSURE:
        names = spellings.split("|")
        lettered = names[0] not in _NO_LETTER
        for reference, words in REFERENCE_WORDS.items():
            shown = words if lettered else words[2:] + words[:2]
            add("pressure", [n + w for w in shown for n in names], factor, 0.0, reference)
        # Vacuum counts downwards from the ambient, so its factor is negative.
        add("pressure", [n + w for w in VACUUM_WORDS for n in names], -factor, 0.0, "gauge")
    for name, others, factor, offset in _TEMPERATURES:
        plain = [name, *others.split("|")]
        add("temperature", plain, factor, offset)
        add("temperature", [p + n for p in ("delta_", "delta ", "delta") for n in reversed(plain)], factor, 0.0, "difference")
    return table


UNITS = _build()  # dimension -> spelling -> Unit
