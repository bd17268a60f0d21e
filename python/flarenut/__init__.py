"""flarenut: what pressure, flow and margin a vehicle's fluid system will have, before line is cut."""

__version__ = "0.1.0"
