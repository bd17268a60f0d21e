"""Random parts with numbers that make sense at a design flow: bores of an ordinary velocity, drops of an ordinary size."""

from math import pi, radians, sqrt

# Hydraulic words only; every number is invented. Velocities [m/s] and drops [Pa] are ordinary ones of vehicles (common practice, no source).
SEAT = 0.7
ELBOWS = {("forged", 90): (800.0, 0.14, 4.0), ("forged", 45): (500.0, 0.071, 4.2), ("swept", 90): (800.0, 0.071, 4.2),
          ("swept", 45): (500.0, 0.052, 4.0), ("forged", 180): (1000.0, 0.23, 4.0)}  # Darby's three constants, catalog/fitting_constants.csv
EDGES = (0.78, 0.5, 0.28, 0.15, 0.04)


class Numbers:
    """Draws the numbers of parts for one liquid."""

    def __init__(self, draw, fluid):
        self.draw, self.fluid = draw, fluid
        self.density, self.viscosity = fluid["density"], fluid["viscosity"]

    def log(self, least, most):
        """Drawn evenly over the powers of ten."""
        return least * (most / least) ** self.draw.random()

    def bore(self, flow, slow=False):
        """[m], so wide that a volume flow [m3/s] has an ordinary velocity; thick liquids are given wider ones, so that little is lost to friction."""
        speed = self.log(0.2, 1.2) if slow else self.log(0.4, 5.0)
        plain = sqrt(4 * flow / (pi * speed))
        loss = 5e3 if slow else self.log(5e3, 1e5)  # [Pa/m], laminar
        thick = (128 * self.viscosity * flow / (pi * loss)) ** 0.25
        return min(max(plain, thick, 5e-4), 0.3)

    def area(self, flow, drop):
        return min(max(flow * sqrt(self.density / (2 * drop)) / SEAT, 2e-9), 9e-3)

    def part(self, kind, flow, slow=False):
        """Numbers of a passive part at a volume flow [m3/s]; with `slow`, of a suction side."""
        return getattr(self, "_" + kind.replace("-", "_").replace(" ", "_"))(flow, slow)

    def _line(self, flow, slow):
        draw, bore = self.draw, self.bore(flow, slow)
        turned = draw.choice([0.0, 0.0, 45.0, 90.0, 180.0, 270.0, 400.0])
        radius = draw.uniform(2, 8) * bore
        return {"bore": bore, "length": max(self.log(0.05, 2.0) if slow else self.log(0.05, 8.0), 1.1 * radians(turned) * radius),
                "roughness": min(draw.choice([0.0, 1.5e-6, 1.5e-6, 1e-5, 4.5e-5, 2e-4]), 0.03 * bore),
                "extra_loss": draw.choice([0.0, 0.0, draw.uniform(0, 5)]), "bend_angle": radians(turned), "bend_radius": radius if turned else 0.0}

    def _three_k_fitting(self, flow, slow):
        form, angle = self.draw.choice(list(ELBOWS))
        laminar, turbulent, size = ELBOWS[form, angle]
        return {"bore": self.bore(flow, slow), "laminar_constant": laminar, "turbulent_constant": turbulent, "size_constant": size, "form": form, "angle": angle}

    def _size_step(self, flow, slow):
        bores = [self.bore(flow, slow), self.bore(flow, slow)]
        return {"inlet_bore": bores[0], "outlet_bore": bores[1], "included_angle": self.draw.choice([pi, radians(self.draw.uniform(8, 150))])}

    def _opening(self, flow, slow):
        return {"bore": self.bore(flow, slow), "entrance_loss": self.draw.choice(EDGES)}

    _return_opening = _opening

    def _orifice(self, flow, slow):
        bore = sqrt(4 * flow / (pi * 0.6)) * (self.density / (2 * self.drop(slow))) ** 0.25
        bore = min(max(bore, 3e-4), 0.1)
        return {"bore": bore, "line_bore": self.draw.choice([0.0, bore * self.draw.uniform(1.3, 4)]),
                "discharge_coefficient": self.draw.choice([0.0, 0.0, self.draw.uniform(0.6, 0.95)])}

    def _short_tube_orifice(self, flow, slow):
        plain = self._orifice(flow, slow)
        return {"bore": plain["bore"], "line_bore": plain["line_bore"], "length": plain["bore"] * self.draw.uniform(2.1, 9.9)}

    def drop(self, slow=False):
        """Of a device at its design flow [Pa]."""
        return self.log(200, 3e3) if slow else self.log(2e3, 1e5)

    def _resistance(self, flow, slow):
        return {"rated_drop": self.drop(slow), "rated_flow": flow, "exponent": self.draw.choice([1.0, 1.75, 2.0, self.draw.uniform(1, 2)]),
                "rating_viscosity": self.viscosity, "rating_density": self.density}

    def _core(self, flow, slow):
        share, drop = self.draw.uniform(0.1, 0.9), self.drop(slow)
        return {"viscous": max(share * drop / (self.viscosity * flow), 2e3), "inertial": (1 - share) * drop / (self.density * flow**2)}

    def _valve(self, flow, slow):
        opening = 1.0 if slow else self.draw.choice([1.0, 1.0, self.draw.uniform(0.1, 1.0), 0.0 if self.draw.random() < 0.2 else 0.5])
        coefficient = min(max(flow * sqrt(self.density / self.drop(slow)), 2e-10), 0.09)
        return {"flow_coefficient": coefficient, "opening": opening, "leak": 1e-5, "bore": self.draw.choice([0.0, self.bore(flow, slow)])}

    def _check_valve(self, flow, slow):
        return {"cracking_pressure": self.log(100, 1e3) if slow else self.log(1e3, 3e4), "full_area": self.area(flow, self.drop(slow)),
                "discharge_coefficient": SEAT}

    def _filter(self, flow, slow):
        share, drop = self.draw.uniform(0.1, 0.95), self.drop(slow)
        return {"linear": max(share * drop / flow, 1.1e3), "quadratic": (1 - share) * drop / flow**2, "rating_viscosity": self.viscosity,
                "rating_density": self.density, "loading": 1.0 if slow else self.draw.choice([1.0, 1.0, self.draw.uniform(1, 5)])}

    def _filter_with_bypass(self, flow, slow):
        opens = self.log(3e4, 2e5)
        return {**self._filter(flow, slow), "bypass_pressure": opens, "bypass_area": self.area(flow, 0.5 * opens), "bypass_band": 2e4,
                "discharge_coefficient": SEAT, "leak": 1e-4}

    # ---- devices that hold a pressure ----

    def relief_valve(self, opens, flow):
        draw = self.draw
        numbers = {"set_pressure": opens, "band": draw.uniform(0.05, 0.3) * opens, "full_area": self.area(flow, draw.uniform(0.3, 1.0) * opens),
                   "second_set_pressure": 0.0, "second_area": 0.0, "discharge_coefficient": SEAT, "leak": 1e-4}
        if draw.random() < 0.2:
            numbers |= {"second_set_pressure": opens * draw.uniform(1.2, 2), "second_area": numbers["full_area"] * draw.uniform(0.3, 2)}
        return numbers

    def regulator(self, holds, flow, sensed, reference):
        """Of either kind of regulator."""
        draw = self.draw
        return {"set_pressure": max(holds, 2e3), "band": draw.uniform(0.02, 0.15) * holds, "full_area": self.area(flow, draw.uniform(0.1, 0.7) * holds),
                "discharge_coefficient": SEAT, "seat_share": draw.choice([0.0, 0.0, draw.uniform(0, 0.1)]), "leak": 1e-4, "sensed": sensed,
                "reference": reference}

    def injector_bank(self, flow, drop):
        count, duty = self.draw.choice([1, 2, 3, 4, 6, 8]), self.draw.choice([1.0, 0.85, self.draw.uniform(0.02, 1.0), 0.0])
        rated = flow / count * sqrt(3e5 / drop) * sqrt(self.density / 683.8) / max(duty, 0.3)
        return {"count": count, "rated_flow": min(max(rated, 2e-9), 9e-4), "rated_pressure": 3e5, "rating_density": 683.8, "duty": duty}

    # ---- pumps: of some rise at a flow ----

    def pump(self, kind, flow, rise):
        return getattr(self, "_" + kind.replace(" ", "_"))(flow, rise)

    def _quadratic_pump(self, flow, rise):
        draw, free, top = self.draw, flow * self.draw.uniform(1.3, 3), rise * self.draw.uniform(1.1, 2)
        straight = draw.random()
        return {"shutoff_rise": top, "linear": straight * top / free, "quadratic": max((1 - straight) * top / free**2, 1.0), "rated_volts": 13.5,
                "volts": draw.choice([13.5, draw.uniform(9, 15)])}

    def curve(self, flow, rise):
        """Falling points of a pump, (flows, rises)."""
        draw = self.draw
        free, top, count, bend = flow * draw.uniform(1.3, 3), rise * draw.uniform(1.1, 2), draw.randint(3, 6), draw.uniform(1.0, 2.2)
        shares = [number / (count - 1) for number in range(count)]
        return [share * free for share in shares], [top * (1 - 0.97 * share**bend) for share in shares]

    def _electric_pump(self, flow, rise):
        draw, (flows, rises) = self.draw, self.curve(flow, rise)
        numbers = {"curve_volts": [13.5], "curve_points": [len(flows)], "curve_flow": flows, "curve_rise": rises, "volts": 13.5, "density_share": 0.0,
                   "test_density": 770.0, "relief_set_pressure": 0.0, "relief_override": 0.1, "stall_volts": 2.0, "stopped_leak": 0.05}
        if draw.random() < 0.4:
            low, share = draw.uniform(9, 12), draw.uniform(0.95, 1.05)
            ratio = low / 13.5
            numbers |= {"curve_volts": [low, 13.5], "curve_points": [len(flows)] * 2, "volts": draw.uniform(low, 14.5),
                        "curve_flow": [share * ratio * one for one in flows] + flows, "curve_rise": [ratio**2 * one for one in rises] + rises}
        if draw.random() < 0.2:
            numbers["relief_set_pressure"] = rises[0] * draw.uniform(0.6, 0.95)
        numbers["density_share"] = draw.choice([0.0, 0.0, 1.0])
        return numbers

    def _centrifugal_pump(self, flow, rise):
        flows, rises = self.curve(flow, rise)
        rated = self.draw.uniform(30, 100)
        return {"curve_flow": flows, "curve_rise": rises, "rated_speed": rated, "speed": rated * self.draw.uniform(0.5, 1.2), "rated_density": 998.2}

    def _positive_displacement_pump(self, flow, rise):
        draw, speed = self.draw, self.draw.uniform(8, 100)
        share = draw.uniform(0.8, 0.97)
        return {"displacement": min(max(flow / (speed * share), 2e-9), 9e-3), "speed": speed, "rated_efficiency": share, "rated_rise": rise,
                "rated_speed": speed * draw.uniform(0.5, 1.5), "rated_viscosity": max(self.viscosity * draw.uniform(0.5, 2), 1.1e-4),
                "turbulent_share": draw.choice([0.0, draw.uniform(0, 0.5)])}

    def tee(self, flow, branch):
        through = self.bore(flow)
        return {"run1_bore": through, "run2_bore": through, "branch_bore": self.draw.choice([through, self.bore(flow / 2)]),
                "branch_angle": radians(self.draw.choice([90, 90, 45, 60, 135])), "branch": branch}
