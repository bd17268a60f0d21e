"""Pictures of answers: each takes and returns a matplotlib Axes, shows nothing by itself and leaves global style alone."""

from .demand import demand_picture
from .ladder import pressure_ladder
from .loop import pressure_loop, temperature_loop
from .over_time import time_picture
from .pump import pump_picture
from .sizes import size_picture
from .suction import suction_picture

__all__ = ["demand_picture", "pressure_ladder", "pressure_loop", "pump_picture", "size_picture", "suction_picture", "temperature_loop",
           "time_picture"]
