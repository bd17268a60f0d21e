"""Bytes of a fuzzer read as small choices, numbers, arrays and indices; used up, everything is zero."""

import struct

import numpy

_ODD = (0.0, -0.0, float("nan"), float("inf"), float("-inf"), 5e-324, 1.7976931348623157e308, -1.7976931348623157e308, 1e-300)
_TYPES = ("float64", "float64", "float32", "int64", "int8", "uint64", "bool", "complex128", "object", "U3")


class Pieces:
    def __init__(self, data):
        self._data, self._at = data, 0

    def byte(self):
        self._at += 1
        return self._data[self._at - 1] if self._at <= len(self._data) else 0

    def below(self, count):
        return self.byte() % count if count > 1 else 0

    def chance(self):
        return self.byte() < 128

    def one_of(self, choices):
        return choices[self.below(len(choices))]

    def index(self, count):
        """Mostly within the count."""
        choice = self.byte()
        if choice < 248:
            return choice % count if count > 0 else 0
        return (-1, count, 2**31 - 1, -2**31, 2**63 - 1, 2**31, 10**6, -count)[choice - 248]

    def number(self, least, most):
        """Mostly between two limits."""
        choice = self.byte()
        if choice == 255:
            return struct.unpack("d", bytes(self.byte() for _ in range(8)))[0]
        if choice > 245:
            return _ODD[choice - 246]
        return least + (most - least) * (self.byte() * 256 + self.byte()) / 65535

    def array(self, least, most):
        """Of some shape and type, mostly one number."""
        shape = self.one_of([(), (), (), (1,), (3,), (8,), (0,), (2, 3), (3, 1), (1, 1, 1), (0, 3)])
        return self._typed(shape, least, most)

    def table(self, columns):
        """Rows for so many columns, now and then of another shape."""
        return self.array(0.0, 10.0) if self.byte() > 240 else self._typed((self.below(20), columns), 0.0, 10.0)

    def _typed(self, shape, least, most):
        values = numpy.array([self.number(least, most) for _ in range(int(numpy.prod(shape)))], dtype=float).reshape(shape)
        with numpy.errstate(all="ignore"):
            values = values.astype(self.one_of(_TYPES)) if self.byte() > 200 else values
        return values[::-1] if values.ndim and self.byte() > 200 else values

    def places(self, count):
        """Indices of junctions, mostly as they should be."""
        found = [self.index(count) for _ in range(self.below(6))]
        return found if self.byte() > 60 else numpy.array(found, dtype=self.one_of(["int64", "int32", "uint8", "float64"])) if all(-128 < one < 256 for one in found) else found
