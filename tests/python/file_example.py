"""A good circuit file, and the message of one that must be refused."""

import pytest
from flarenut.circuit.file import FileError, read

GOOD = '''[circuit]
name = "test car"
fluid = "gasoline"
units = "us"

[tank.cell]
level = "8 in"

[junction.rail]
height = "20 in"
bore = "10 mm"

[[run]]
name = "feed"
from = "cell"
to = "rail"
parts = [
  {part = "electric_pump", curves = [["0 L/h", "95 psi"], ["255 L/h", "60 psi"], ["400 L/h", "5 psi"]], name = "pump"},
  {part = "hose", size = "-8", length = "11 ft", spec = "ptfe", bends = [90, 45]},
  {part = "filter", drop = "1.2 psi at 100 gph", name = "fuel filter"},
]

[[run]]
name = "return"
from = "rail"
to = "cell"
parts = [
  {part = "bypass_regulator", set = "43.5 psi", reference = "manifold", name = "regulator"},
  {part = "hose", size = "-6", length = "12 ft", spec = "ptfe"},
]

[injectors.bank]
at = "rail"
count = 6
flow = "550 cc/min at 3 bar"

[case.idle]
volts = 13.5
duty = "3 %"
manifold = "18 inHg vacuum"
'''


def refused(text):
    """The message of a text that must be refused."""
    with pytest.raises(FileError) as caught:
        read(text, "wagon.toml")
    return caught.value
