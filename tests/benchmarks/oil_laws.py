"""What the parts of an oil circuit cost, in plain Python from the equations in the parts' documentation: drop over mass flow.

`n` is a part's numbers by field [SI]; `rho`, `mu` density and viscosity of its liquid, `kelvin` its temperature. A law returns
(left − right) / Pa, one for each flow; zero when it holds. `drop` is the inlet's pressure less the outlet's, heights reckoned in.
"""

import math

SEAT_REYNOLDS = 10.0
INCH = 0.0254


def colebrook(reynolds, relative):
    """Darcy factor of turbulent flow, by Newton to round-off."""
    x = 7.0
    for _ in range(50):
        inside = relative / 3.7 + 2.51 * x / reynolds
        step = (x + 2.0 * math.log10(inside)) / (1.0 + 2.0 / math.log(10.0) * 2.51 / reynolds / inside)
        x -= step
        if abs(step) < 1e-14 * x:
            break
    return x ** -2


def smooth_step(x):
    return 0.0 if x <= 0.0 else 1.0 if x >= 1.0 else x ** 3 * (10.0 - 15.0 * x + 6.0 * x * x)


def friction_reynolds(reynolds, relative):
    """f·Re: 64 up to Re 2000, Colebrook and White from 4000, joined between."""
    if reynolds <= 2000.0:
        return 64.0
    weight = smooth_step((reynolds - 2000.0) / 2000.0)
    return 64.0 + weight * (colebrook(reynolds, relative) * reynolds - 64.0)


def bends(angle, radius_over_bore):
    """(what multiplies f, what does not) of all bends beyond their length: one up to 90°, else so many of 90°."""
    if angle <= 0.0:
        return 0.0, 0.0
    count = max(1.0, angle / (math.pi / 2))
    one = angle / count
    sine = math.sin(one / 2)
    return count * (2.4 * sine + 6.6 * (math.sqrt(sine) + sine) / radius_over_bore ** (4 * one / math.pi)), count * 0.10 * sine


def round_bore(bore, rho, mu, q):
    """Speed and Reynolds number, with the flow's sign and without."""
    speed = q / (rho * math.pi / 4 * bore ** 2)
    return speed, rho * abs(speed) * bore / mu


def line(n, rho, mu, kelvin, drop, q):
    speed, reynolds = round_bore(n["bore"], rho, mu, q)
    by_friction, constant = bends(n["bend_angle"], n["bend_radius"] / n["bore"])
    f_re = friction_reynolds(reynolds, n["roughness"] / n["bore"])
    wall = f_re * mu * speed / (2 * n["bore"]) * (n["length"] / n["bore"] + by_friction)
    return drop - wall - (constant + n["extra_loss"]) * rho * speed * abs(speed) / 2,


def local(bore, laminar, turbulent, rho, mu, q):
    """(K1/Re + K) ρV²/2."""
    speed, _ = round_bore(bore, rho, mu, q)
    return laminar * mu * speed / (2 * bore) + turbulent * rho * speed * abs(speed) / 2


def three_k(n, rho, mu, kelvin, drop, q):
    size = 1.0 + n["size_constant"] / (n["bore"] / INCH) ** 0.3
    return drop - local(n["bore"], n["laminar_constant"], n["turbulent_constant"] * size, rho, mu, q),


def orifice(n, rho, mu, kelvin, drop, q):
    """Between wide spaces."""
    assert n["line_bore"] == 0.0
    coefficient = n["discharge_coefficient"] or 0.5961
    return drop - local(n["bore"], 12 * math.pi, coefficient ** -2, rho, mu, q),


def core(n, rho, mu, kelvin, drop, q):
    volume = q / rho
    return drop - n["viscous"] * mu * volume - n["inertial"] * rho * volume * abs(volume),


def medium(n, rho, mu, q):
    """A filter's element and housing."""
    volume = q / rho
    return (n["loading"] * n["linear"] * mu / n["rating_viscosity"] * volume
            + n["quadratic"] * rho / n["rating_density"] * volume * abs(volume))


def strainer(n, rho, mu, kelvin, drop, q):
    return drop - medium(n, rho, mu, q),


def seat(area, coefficient, rho, mu, q, reynolds=SEAT_REYNOLDS):
    """What a wide-open seat costs; linear below the flow of a Reynolds number."""
    linear = math.sqrt(math.pi / 4 * area) * mu * reynolds
    return (q * abs(q) + linear * q) / (2 * rho * (coefficient * area) ** 2)


def spring(bands):
    lifted = 0.5 * (bands + math.hypot(bands, 0.02))
    return lifted / math.sqrt(1 + lifted ** 2)


def filter_with_bypass(n, rho, mu, kelvin, drop, element, bypass):
    opening = spring((drop - n["bypass_pressure"]) / n["bypass_band"]) + n["leak"]
    return (drop - medium(n, rho, mu, element),
            opening ** 2 * drop - seat(n["bypass_area"], n["discharge_coefficient"], rho, mu, bypass))


def relief_valve(n, rho, mu, kelvin, drop, q):
    first, second = n["full_area"], n["second_area"]
    lifted = first * spring((drop - n["set_pressure"]) / n["band"])
    if second > 0.0:
        lifted += second * spring((drop - n["second_set_pressure"]) / n["band"])
    opening = lifted / (first + second) + n["leak"]
    return opening ** 2 * drop - seat(first + second, n["discharge_coefficient"], rho, mu, q),


def thermostat(n, rho, mu, kelvin, drop, q, shuts=False):
    lift = smooth_step((kelvin - n["start_temperature"]) / (n["full_temperature"] - n["start_temperature"]))
    opening = n["bleed"] + (1 - n["bleed"]) * (1 - lift if shuts else lift)
    return opening ** 2 * drop - seat(n["full_area"], n["discharge_coefficient"], rho, mu, q),


def thermostat_bypass(n, rho, mu, kelvin, drop, q):
    return thermostat(n, rho, mu, kelvin, drop, q, shuts=True)


def check_valve(n, rho, mu, kelvin, drop, q):
    crack, area, coefficient, reynolds = (n[key] for key in ("cracking_pressure", "full_area", "discharge_coefficient", "viscous_reynolds"))
    viscous = seat(area, coefficient, rho, mu, 1.0, reynolds) - seat(area, coefficient, rho, mu, 1.0, 0.0)
    corner, lift = 0.1 * crack, 0.0025 * crack
    forward = crack - lift + viscous * q + seat(area, coefficient, rho, mu, max(q, 0.0), 0.0)
    backward = (n["seepage_resistance"] / rho + viscous) * q
    above = (forward - backward) / corner
    # max(above, 0), rounded; for a valve far from open without losing digits.
    rounded = 0.5 * (above + math.hypot(above, 1.0)) if above > 0.0 else 0.5 / (math.hypot(above, 1.0) - above)
    return drop - (forward - corner * rounded + lift),


def bearings(n, rho, mu, kelvin, drop, q):
    clearance, eccentric, volume = n["radial_clearance"], n["eccentricity"], q / rho
    pressed = (6 * n["film_viscosity"] * mu * n["land_width"]
               / (n["count"] * math.pi * n["diameter"] * clearance ** 3 * (1 + 1.5 * eccentric ** 2)))
    dragged = n["count"] * math.pi * n["diameter"] * n["speed"] * n["land_width"] * clearance * eccentric
    if dragged == 0.0:
        return drop - pressed * volume,
    if volume <= 0.0:
        return drop - pressed / 2 * volume,
    return drop - pressed / 2 * (volume - 2 * dragged + math.hypot(volume, 2 * dragged)),


def displacement_pump(n, rho, mu, kelvin, drop, q):
    """Without turbulent slip."""
    assert n["turbulent_share"] == 0.0
    rated_slip = n["displacement"] * n["rated_speed"] * (1 - n["rated_efficiency"])
    laminar = rated_slip / n["rated_rise"] * n["rated_viscosity"] / mu
    return drop + (n["displacement"] * n["speed"] - q / rho) / laminar,


LAWS = {"line": line, "three-k fitting": three_k, "orifice": orifice, "core": core, "filter": strainer, "filter with bypass": filter_with_bypass,
        "relief valve": relief_valve, "thermostat": thermostat, "thermostat bypass": thermostat_bypass, "check valve": check_valve,
        "bearings": bearings, "positive displacement pump": displacement_pump}
