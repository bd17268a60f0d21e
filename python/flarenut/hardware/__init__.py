"""Line hardware: whether two ends seal, what the joints of a circuit are, and what to fit between them.

>>> from flarenut.hardware import mate
>>> mate("-8 37 flare male", "-8 37 flare female").verdict
'seals'
"""

from .audit import Audit, audit
from .disputes import disputes_listing, disputes_of
from .fitted import Fitted, fitted
from .joints import Joint, joints_of
from .mating import Mating, clashes, mate

__all__ = ["Audit", "Fitted", "Joint", "Mating", "audit", "clashes", "disputes_listing", "disputes_of", "fitted", "joints_of", "mate"]
