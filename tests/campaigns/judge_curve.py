"""The monotone curve of docs/theory/shapes.md, written by another hand."""

from bisect import bisect_right


class MonotoneCurve:
    """Cubic pieces through points, straight beyond both ends; `slopes` at the points."""

    def __init__(self, x, y):
        self.x, self.y = list(x), list(y)
        width = [b - a for a, b in zip(self.x, self.x[1:])]
        secant = [(b - a) / h for a, b, h in zip(self.y, self.y[1:], width)]
        if len(secant) == 1:
            self.slopes = secant * 2
            return
        inner = [self._inner(*four) for four in zip(width, width[1:], secant, secant[1:])]
        self.slopes = [self._end(width[0], width[1], secant[0], secant[1]), *inner, self._end(width[-1], width[-2], secant[-1], secant[-2])]

    @staticmethod
    def _inner(h1, h2, s1, s2):
        if s1 * s2 <= 0.0:
            return 0.0
        w1, w2 = 2 * h2 + h1, h2 + 2 * h1
        return (w1 + w2) / (w1 / s1 + w2 / s2)

    @staticmethod
    def _end(h1, h2, s1, s2):
        slope = ((2 * h1 + h2) * s1 - h1 * s2) / (h1 + h2)
        if slope * s1 <= 0.0:
            return 0.0
        return 3 * s1 if s1 * s2 <= 0.0 and abs(slope) > 3 * abs(s1) else slope

    def __call__(self, at):
        x, y, slopes = self.x, self.y, self.slopes
        if at <= x[0]:
            return y[0] + slopes[0] * (at - x[0])
        if at >= x[-1]:
            return y[-1] + slopes[-1] * (at - x[-1])
        i = bisect_right(x, at) - 1
        h = x[i + 1] - x[i]
        t = (at - x[i]) / h  # Hermite's form, not the engine's
        return ((1 + 2 * t) * (1 - t) ** 2 * y[i] + t * (1 - t) ** 2 * h * slopes[i]
                + t * t * (3 - 2 * t) * y[i + 1] + t * t * (t - 1) * h * slopes[i + 1])
