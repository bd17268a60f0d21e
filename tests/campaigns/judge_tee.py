"""The tee of docs/theory/junctions.md, section "Written out", by another hand."""

from math import cos, pi

K1 = (100.0, 100.0, 700.0)


def _step(x):
    return 0.0 if x <= 0.0 else 1.0 if x >= 1.0 else x**3 * (10.0 - 15.0 * x + 6.0 * x * x)


class _Fitting:
    """Legs 0 and 1 are the runs, 2 the branch."""

    def __init__(self, n):
        self.bore = (n["run1_bore"], n["run2_bore"], n["branch_bore"])
        self.area = [0.25 * pi * bore**2 for bore in self.bore]
        self.turn = {frozenset((0, 2)): n["branch_angle"], frozenset((1, 2)): pi - n["branch_angle"], frozenset((0, 1)): 0.0}

    def c(self, i, j):
        pair = sorted((self.area[i], self.area[j]))
        return cos((1 - 0.25 * pair[0] / pair[1]) * self.turn[frozenset((i, j))])

    @staticmethod
    def r(i, j):
        return 0.4 if {i, j} == {0, 1} else 1.0

    def heads(self, flow):
        """Total pressure over density of each leg, beside viscosity, over that of the leg that carries all."""
        u = [abs(q) / a for q, a in zip(flow, self.area)]
        m = max(range(3), key=lambda leg: abs(flow[leg]))
        if flow[m] == 0.0:
            return [0.0] * 3
        x = [abs(q / flow[m]) for q in flow]
        w = [_step((x[k] + u[k] / u[m]) / 0.2) for k in range(3)]

        def waking(k, i, j):
            s = min(u[i], u[j]) ** 2 if {i, j} == {0, 1} else u[i] * u[j]
            return 0.5 * x[k] * (1 - w[k]) * (self.c(i, j) * s - 0.5 * (1 - self.r(i, k)) * u[i] ** 2)

        others = [leg for leg in range(3) if leg != m]
        head = [0.0] * 3
        if flow[m] > 0:
            for j, k in (others, others[::-1]):
                r = self.r(m, j)
                square = u[m] ** 2 + u[j] ** 2 - 2 * self.c(m, j) * w[j] * u[m] * u[j]
                head[j] = waking(k, m, j) - 0.5 * (r + (1 - r) * x[j] ** 4) * square
            return head
        i, k = others
        mean = 0.5 * u[m] ** 2
        for one, other in ((i, k), (k, i)):
            mean += x[one] * u[one] * (0.5 * u[one] - self.c(one, m) * w[one] * u[m]) - waking(one, other, m)
        between = 0.5 * self.r(i, k) * (u[i] ** 2 - u[k] ** 2)
        head[i], head[k] = mean + x[k] * between, mean - x[i] * between
        return head


def tee_law(n, fluid):
    """Mismatch of a tee: p of run1, run2, branch; q from run1 to run2 and from run1 to the branch."""
    fitting, rho = _Fitting(n), fluid["density"]
    thick = [0.5 * k1 * fluid["viscosity"] / rho / (area * bore) for k1, area, bore in zip(K1, fitting.area, fitting.bore)]

    def mismatch(p, q):
        flow = [(q[0] + q[1]) / rho, -q[0] / rho, -q[1] / rho]
        head = [h + t * v for h, t, v in zip(fitting.heads(flow), thick, flow)]
        return p[0] - p[1] - rho * (head[0] - head[1]), p[0] - p[2] - rho * (head[0] - head[2])

    return mismatch
