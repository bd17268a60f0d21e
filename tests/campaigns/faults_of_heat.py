"""A planted fault of heat: what is put in has no way out."""

import faults
from plumbing import describe  # noqa: F401  (what a circuit told looks like)


def no_heat_sink(draw, named):
    """A loop that nothing cools: a sump of found temperature, a pump, some lines without air, and back."""
    hose = [{"part": "hose", "bore": f"{draw.uniform(8, 16):.1f} mm", "length": f"{draw.uniform(0.2, 3):.2f} m", "name": f"hose {number}"}
            for number in range(draw.randint(1, 5))]
    pump = {"part": "displacement_pump", "displacement": f"{draw.uniform(5, 30):.1f} cc/rev", "speed": f"{draw.uniform(800, 6000):.0f} rpm", "name": "pump"}
    orifice = {"part": "orifice", "bore": f"{draw.uniform(3, 6):.1f} mm", "name": "jet"}
    place = draw.choice(["sump", "engine"])
    told = {"circuit": {"name": "no heat sink", "fluid": draw.choice(["SAE 10W-40", "SAE 5W-30", "SAE 30"]), "fluid_temperature": "80 C", "invented": True},
            "tank": {"sump": {"level": "100 mm", "temperature": "found"}}, "fixed": {}, "junction": {"engine": {}}, "tee": [], "injectors": {},
            "run": [{"name": "pumping", "from": "sump", "to": "out", "parts": [pump]}, {"name": "round", "from": "out", "to": "engine", "parts": hose},
                    {"name": "back", "from": "engine", "to": "sump", "parts": [orifice]}]}
    told["tank" if place == "sump" else "junction"][place]["heat"] = f"{draw.uniform(0.2, 20):.2f} kW"
    return told, (("none can get out",),), False


faults.FAULTS["no heat sink"] = no_heat_sink
