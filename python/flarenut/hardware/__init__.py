"""Line hardware: whether two ends seal, and what the joints of a circuit are.

>>> from flarenut.hardware import mate
>>> mate("-8 37 flare male", "-8 37 flare female").verdict
'seals'
"""

from .mating import Mating, clashes, mate

__all__ = ["Mating", "clashes", "mate"]
